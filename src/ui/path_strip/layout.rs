//! Where things stand in the strip: widths of elements, the pressure scale, fields that must not lie over each other.

/// What an element would like to have, in points; by the path alone, so that a change moves no column.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Need {
    /// Width of its name on one line, and of its ways one under the other.
    pub name: f32,
    /// Width of the widest word of its name; of its ways again.
    pub word: f32,
    /// Width that is kept for what stands under its name on one line.
    pub remark: f32,
    /// The same on two lines.
    pub stacked: f32,
    /// Width of all of it as a word a line in the finest type; of its ways again.
    pub tight: f32,
    /// Width of its ways in a row; nothing for what has none.
    pub in_a_row: Option<f32>,
}

/// How the names are set, and what stands under them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    /// One line each.
    OneLine,
    /// A word a line.
    WordALine,
    /// A word a line, and a drop with changes under the one as found.
    Stacked,
    /// The same in the finest type, close together; what still does not fit makes the strip wider than its window, and it scrolls.
    Tight,
    /// A word a line, and ways one after the other: the lowest, for a strip that scrolls sideways.
    InARow,
}

/// Elements side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Columns {
    /// Left edge of each element and, last, the right edge of all.
    pub edges: Vec<f32>,
    /// How the names are set.
    pub setting: Setting,
}

impl Setting {
    /// Least room between the texts of two neighbours.
    pub const fn pad(self) -> f32 {
        match self {
            Self::OneLine | Self::WordALine | Self::Stacked | Self::InARow => 4.0,
            Self::Tight => 2.0,
        }
    }

    /// Width of the word at the room's line, before the first element.
    pub const fn gutter(self) -> f32 {
        match self {
            Self::OneLine | Self::WordALine | Self::Stacked | Self::InARow => 36.0,
            // It stands on end.
            Self::Tight => 10.0,
        }
    }

    /// Lines that are kept under the names.
    pub const fn remark_lines(self) -> f32 {
        match self {
            Self::OneLine | Self::WordALine | Self::InARow => 1.0,
            Self::Stacked | Self::Tight => 2.0,
        }
    }
}

/// Shares `width` points from `left` on among the elements, after the word at the room's line, each at least as wide as its text; they go past `width` where they must.
pub fn columns(needs: &[Need], left: f32, width: f32) -> Columns {
    let wanted = |setting| -> Vec<f32> {
        let want = |need: &Need| match setting {
            Setting::OneLine => need.name.max(need.remark),
            Setting::WordALine => need.word.max(need.remark),
            Setting::Stacked => need.word.max(need.stacked),
            Setting::Tight => need.tight,
            Setting::InARow => need.in_a_row.unwrap_or(need.word).max(need.remark),
        };
        needs.iter().map(want).collect()
    };
    let least = |setting: Setting| wanted(setting).iter().map(|want| want + setting.pad()).sum::<f32>();
    let fits = |setting: &Setting| setting.gutter() + least(*setting) <= width;
    let has_ways = needs.iter().any(|need| need.in_a_row.is_some());
    let scrolled = if has_ways { Setting::InARow } else { Setting::Tight };
    let closer = [Setting::OneLine, Setting::WordALine, Setting::Stacked, Setting::Tight];
    let setting = closer.into_iter().find(fits).unwrap_or(scrolled);
    Columns { edges: edges(&wanted(setting), left, width, setting), setting }
}

/// Room left over goes to all alike, beside their texts.
fn edges(wanted: &[f32], left: f32, width: f32, setting: Setting) -> Vec<f32> {
    let total: f32 = wanted.iter().sum();
    let (left, width) = (left + setting.gutter(), width - setting.gutter());
    let pad = ((width - total) / wanted.len().max(1) as f32).max(setting.pad());
    let mut edge = left;
    std::iter::once(left)
        .chain(wanted.iter().map(|want| {
            edge += want + pad;
            edge
        }))
        .collect()
}

/// Pressure to height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Height of room pressure.
    pub room: f32,
    /// Points to one inch of water, the same above and below the room's line.
    pub points_per_in_wc: f32,
}

/// Pressure that fills the strip at least, so that a small static looks small, in. w.c.
const LEAST_SPAN: f32 = 0.5;
/// Room kept on both sides of the room's line, for what is written along it.
pub const ALONG: f32 = 20.0;
/// Room at both ends, for the marks of ports.
const ENDS: f32 = 7.0;

/// The scale at which `lowest` (≤ 0) and `highest` (≥ 0), in. w.c., fit between `top` and `bottom`.
pub fn scale(top: f32, bottom: f32, lowest: f32, highest: f32) -> Scale {
    let room_for = (bottom - top - 2.0 * ENDS).max(1.0);
    let span = (highest - lowest).max(LEAST_SPAN);
    let all = room_for / span;
    let above_only = (room_for - ALONG) / highest.max(LEAST_SPAN);
    let below_only = (room_for - ALONG) / (-lowest).max(LEAST_SPAN);
    let points_per_in_wc = if -lowest * all < ALONG && highest > 0.0 {
        all.min(above_only)
    } else if highest * all < ALONG {
        all.min(below_only)
    } else {
        all
    };
    let above = (highest * points_per_in_wc).max(ALONG);
    let below = (-lowest * points_per_in_wc).max(ALONG);
    let spare = (room_for - above - below) / 2.0;
    Scale { room: top + ENDS + above + spare, points_per_in_wc }
}

impl Scale {
    /// Height of a pressure, in. w.c.
    pub fn height_of(&self, in_wc: f64) -> f32 {
        self.room - in_wc as f32 * self.points_per_in_wc
    }
}

/// Left edges of boxes of `widths` that would be centred at `centres`, moved aside so that none lies over another nor past the ends.
pub fn side_by_side(centres: &[f32], widths: &[f32], left: f32, right: f32, gap: f32) -> Vec<f32> {
    let mut lefts: Vec<f32> = centres.iter().zip(widths).map(|(centre, width)| centre - width / 2.0).collect();
    for pair in 1..lefts.len() {
        let overlap = lefts[pair - 1] + widths[pair - 1] + gap - lefts[pair];
        if overlap > 0.0 {
            lefts[pair - 1] -= overlap / 2.0;
            lefts[pair] += overlap / 2.0;
        }
    }
    let mut least = left;
    for (edge, width) in lefts.iter_mut().zip(widths) {
        *edge = edge.max(least);
        least = *edge + width + gap;
    }
    let mut most = right;
    for (edge, width) in lefts.iter_mut().zip(widths).rev() {
        *edge = edge.min(most - width);
        most = *edge - gap;
    }
    lefts
}

#[cfg(test)]
mod tests {
    use super::*;

    fn need(name: f32, word: f32) -> Need {
        Need { name, word, remark: 50.0, stacked: 30.0, tight: word * 0.9, in_a_row: None }
    }

    #[test]
    fn names_break_only_when_they_must() {
        let needs = [need(80.0, 42.0), need(70.0, 42.0), need(40.0, 40.0)];
        let rows = [
            (436.0, Setting::OneLine, 400.0),
            // 80 + 70 + 50 and three times the least room beside a text, after the room's word.
            (248.0, Setting::OneLine, 212.0),
            (216.0, Setting::WordALine, 180.0),
            // 42 + 42 + 40 and the same.
            (176.0, Setting::Stacked, 140.0),
            // Nine tenths of these and half that room, after the room's word on end.
            (140.0, Setting::Tight, 130.0),
            // Wider than there is room, so that nothing is cut: 111.6 + 6.
            (100.0, Setting::Tight, 117.6),
        ];
        for (width, setting, all) in rows {
            let columns = columns(&needs, 10.0, width);
            assert_eq!(columns.setting, setting, "{width}");
            assert_eq!(columns.edges.len(), 4);
            assert!((columns.edges[3] - columns.edges[0] - all).abs() < 1e-3, "{columns:?}");
            assert!((columns.edges[0] - 10.0 - setting.gutter()).abs() < 1e-3, "{columns:?}");
            assert!(columns.edges.windows(2).all(|pair| pair[1] > pair[0]));
        }
    }

    #[test]
    fn ways_that_fit_no_width_lie_in_a_row() {
        let ways = Need { in_a_row: Some(500.0), ..need(200.0, 200.0) };
        let needs = [ways, need(40.0, 40.0)];
        assert_eq!(columns(&needs, 0.0, 336.0).setting, Setting::OneLine);
        let row = columns(&needs, 0.0, 200.0);
        // The room's word, 500 and 50, and twice the least room beside.
        assert_eq!((row.setting, row.edges[2]), (Setting::InARow, 594.0));
    }

    #[test]
    fn the_scale_holds_both_ends_and_is_the_same_above_and_below() {
        for (lowest, highest) in [(-0.52, 0.31), (-0.9, 0.0), (0.0, 0.9), (-0.01, 0.02), (-2.0, 0.05), (0.0, 0.0)] {
            let scale = scale(100.0, 190.0, lowest, highest);
            for end in [lowest, highest] {
                let height = scale.height_of(f64::from(end));
                assert!((100.0..=190.0).contains(&height), "{lowest} {highest}: {end} at {height}");
            }
            assert!((120.0 - 1e-3..=170.0 + 1e-3).contains(&scale.room), "{lowest} {highest}: room at {}", scale.room);
        }
    }

    #[test]
    fn boxes_never_lie_over_each_other() {
        let lefts = side_by_side(&[100.0, 130.0], &[110.0, 110.0], 0.0, 400.0, 8.0);
        assert!(lefts[1] - lefts[0] >= 118.0 - 1e-3);
        let lefts = side_by_side(&[5.0, 30.0], &[110.0, 110.0], 0.0, 400.0, 8.0);
        assert!(lefts[0] >= 0.0 && lefts[1] - lefts[0] >= 118.0 - 1e-3);
        let lefts = side_by_side(&[390.0], &[110.0], 0.0, 400.0, 8.0);
        assert!((lefts[0] - 290.0).abs() < 1e-3);
    }
}
