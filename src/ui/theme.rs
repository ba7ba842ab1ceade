//! Every colour, size and font of the program, light and dark; nothing else constructs a colour.
//!
//! Contrast is at least 4.5:1 for text and 3:1 for lines that carry meaning (WCAG 2.2, 1.4.3 and 1.4.11), which a test works out.

use std::sync::Arc;

use eframe::egui::{
    self, Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Stroke, TextStyle, Theme, Vec2,
    Visuals, vec2,
};

/// What a picture is drawn in: its own colours.
pub const UNTINTED: Color32 = Color32::WHITE;
/// Point size of ordinary text.
pub const BODY: f32 = 14.0;
/// Point size of units, captions and remarks.
pub const SMALL: f32 = 12.5;
/// Where nothing larger has room.
pub const FINE: f32 = 11.5;
/// Point size of labels on the chart.
pub const CHART: f32 = 13.0;
/// Point size of the verdict.
pub const VERDICT: f32 = 20.0;
/// Point size of the airflow in the head.
pub const FIGURE: f32 = 27.0;
/// The step of the spacing rhythm.
pub const STEP: f32 = 8.0;
/// Room between two things that stand side by side, or one under the other.
pub const SPACING: Vec2 = vec2(STEP, STEP * 0.75);
/// Least width and height of what a finger presses, in a glove too.
pub const FINGER: f32 = 32.0;
/// Width of a tap's curve; the tap in use is twice as wide.
pub const CURVE: f32 = 1.6;
/// Width of the tap in use.
pub const CURVE_IN_USE: f32 = 3.2;
/// Diameter of the hit area of something that can be dragged.
pub const HANDLE: f32 = 28.0;

/// The colours of one theme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    /// The paper.
    pub surface: Color32,
    /// Fields and rows in use.
    pub raised: Color32,
    /// Cards and windows over the paper.
    pub card: Color32,
    /// Text.
    pub ink: Color32,
    /// Captions, units, what was before.
    pub quiet: Color32,
    /// Rules between parts.
    pub hairline: Color32,
    /// Grid of the chart.
    pub grid: Color32,
    /// Tap with the least air.
    pub tap_low: Color32,
    /// Tap in use and the tap with the most air.
    pub tap_high: Color32,
    /// What the hand is changing.
    pub change: Color32,
    /// Over the rated maximum, and errors.
    pub over: Color32,
    /// Hatching of the region over the rated maximum.
    pub hatch: Color32,
    /// The target.
    pub target: Color32,
    /// The target's band.
    pub target_band: Color32,
    /// Text on the tap in use's fill.
    pub on_tap: Color32,
    /// Bands of uncertainty.
    pub band: Color32,
}

/// Colours of the light theme.
pub const LIGHT: Palette = Palette {
    surface: Color32::from_rgb(0xF7, 0xF6, 0xF2),
    raised: Color32::from_rgb(0xEC, 0xEB, 0xE6),
    card: Color32::from_rgb(0xFF, 0xFF, 0xFD),
    ink: Color32::from_rgb(0x1D, 0x22, 0x27),
    quiet: Color32::from_rgb(0x56, 0x5E, 0x65),
    hairline: Color32::from_rgb(0xD9, 0xD8, 0xD1),
    grid: Color32::from_rgb(0xE6, 0xE5, 0xDF),
    tap_low: Color32::from_rgb(0x4A, 0x71, 0x94),
    tap_high: Color32::from_rgb(0x16, 0x4B, 0x78),
    change: Color32::from_rgb(0xA8, 0x49, 0x00),
    over: Color32::from_rgb(0xA8, 0x2F, 0x3E),
    hatch: Color32::from_rgb(0xF1, 0xE1, 0xDF),
    target: Color32::from_rgb(0x1B, 0x73, 0x48),
    target_band: Color32::from_rgb(0xE0, 0xEC, 0xE2),
    on_tap: Color32::from_rgb(0xFF, 0xFF, 0xFF),
    band: Color32::from_rgb(0xE1, 0xE5, 0xE6),
};

/// Colours of the dark theme.
pub const DARK: Palette = Palette {
    surface: Color32::from_rgb(0x16, 0x19, 0x1C),
    raised: Color32::from_rgb(0x26, 0x2B, 0x30),
    card: Color32::from_rgb(0x1E, 0x22, 0x26),
    ink: Color32::from_rgb(0xEC, 0xEA, 0xE4),
    quiet: Color32::from_rgb(0xA4, 0xAB, 0xB1),
    hairline: Color32::from_rgb(0x34, 0x3A, 0x40),
    grid: Color32::from_rgb(0x26, 0x2B, 0x30),
    tap_low: Color32::from_rgb(0x78, 0x98, 0xB8),
    tap_high: Color32::from_rgb(0x9C, 0xCB, 0xF3),
    change: Color32::from_rgb(0xFF, 0x9B, 0x45),
    over: Color32::from_rgb(0xFF, 0x8A, 0x93),
    hatch: Color32::from_rgb(0x35, 0x27, 0x2B),
    target: Color32::from_rgb(0x6C, 0xC9, 0x9C),
    target_band: Color32::from_rgb(0x1F, 0x3A, 0x2C),
    on_tap: Color32::from_rgb(0x10, 0x1A, 0x22),
    band: Color32::from_rgb(0x2C, 0x32, 0x38),
};

/// The colours that a ui is drawn in.
pub fn palette(ui: &egui::Ui) -> &'static Palette {
    if ui.visuals().dark_mode { &DARK } else { &LIGHT }
}

impl Palette {
    /// Colour of a tap by its rank among `count`, least air first.
    pub fn tap(&self, rank: usize, count: usize) -> Color32 {
        let share = if count < 2 { 1.0 } else { rank as f32 / (count - 1) as f32 };
        self.tap_low.lerp_to_gamma(self.tap_high, share)
    }

    /// The band of ± about the path as found, over whatever lies under it.
    pub fn found_band(&self) -> Color32 {
        self.band.gamma_multiply(0.7)
    }

    /// The band of ± about the path with changes.
    pub fn change_band(&self) -> Color32 {
        self.change.gamma_multiply(0.12)
    }

    /// What lights up because it can take what the hand holds.
    pub fn landing(&self) -> Color32 {
        self.change.gamma_multiply(0.1)
    }

    /// What is selected in a text, or is the one of several.
    pub fn selection(&self) -> Color32 {
        self.tap_high.gamma_multiply(0.2)
    }
}

/// The ink of a line that stands back behind another of its colour.
pub fn standing_back(ink: Color32) -> Color32 {
    ink.gamma_multiply(0.85)
}

/// The heavier weight of the text face.
pub fn strong(size: f32) -> FontId {
    FontId::new(size, FontFamily::Name("strong".into()))
}

/// The regular weight of the text face.
pub fn regular(size: f32) -> FontId {
    FontId::new(size, FontFamily::Proportional)
}

/// Installs fonts, text sizes and both themes' colours.
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts());
    // Where the system does not say, paper is light.
    ctx.options_mut(|options| options.fallback_theme = Theme::Light);
    for (theme, palette) in [(Theme::Light, &LIGHT), (Theme::Dark, &DARK)] {
        ctx.style_mut_of(theme, |style| {
            style.text_styles = text_styles();
            style.visuals = visuals(theme, palette);
            style.spacing.item_spacing = SPACING;
            style.spacing.button_padding = vec2(STEP * 1.25, STEP * 0.6);
            style.spacing.interact_size = vec2(32.0, 28.0);
            style.spacing.window_margin = Margin::same(16);
            style.spacing.menu_margin = Margin::same(8);
            style.spacing.combo_width = 60.0;
            style.spacing.scroll = egui::style::ScrollStyle::floating();
        });
    }
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let regular = include_bytes!("../../assets/fonts/Inter-Regular-Tabular.otf");
    let strong = include_bytes!("../../assets/fonts/Inter-SemiBold-Tabular.otf");
    for (name, bytes) in [("regular", &regular[..]), ("strong", &strong[..])] {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    let fallback = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    let with = |first: &str| std::iter::once(first.to_owned()).chain(fallback.iter().cloned()).collect::<Vec<String>>();
    fonts.families.insert(FontFamily::Name("strong".into()), with("strong"));
    fonts.families.insert(FontFamily::Proportional, with("regular"));
    fonts
}

fn text_styles() -> std::collections::BTreeMap<TextStyle, FontId> {
    [
        (TextStyle::Heading, strong(VERDICT)),
        (TextStyle::Body, regular(BODY)),
        (TextStyle::Button, regular(BODY)),
        (TextStyle::Small, regular(SMALL)),
        (TextStyle::Monospace, regular(BODY)),
    ]
    .into()
}

fn visuals(theme: Theme, palette: &Palette) -> Visuals {
    let mut visuals = theme.default_visuals();
    visuals.panel_fill = palette.surface;
    visuals.window_fill = palette.card;
    visuals.window_stroke = Stroke::new(1.0, palette.hairline);
    visuals.window_corner_radius = CornerRadius::same(8);
    visuals.menu_corner_radius = CornerRadius::same(6);
    visuals.extreme_bg_color = palette.raised;
    visuals.text_edit_bg_color = Some(palette.raised);
    visuals.faint_bg_color = palette.raised;
    visuals.weak_text_color = Some(palette.quiet);
    visuals.error_fg_color = palette.over;
    visuals.warn_fg_color = palette.change;
    visuals.hyperlink_color = palette.tap_high;
    visuals.selection.bg_fill = palette.selection();
    visuals.selection.stroke = Stroke::new(2.0, palette.tap_high);
    visuals.button_frame = true;
    let widgets = &mut visuals.widgets;
    for (state, fill, edge) in [
        (&mut widgets.noninteractive, palette.surface, palette.hairline),
        (&mut widgets.inactive, palette.raised, palette.raised),
        (&mut widgets.hovered, palette.raised, palette.quiet),
        (&mut widgets.active, palette.raised, palette.tap_high),
        (&mut widgets.open, palette.raised, palette.quiet),
    ] {
        state.bg_fill = fill;
        state.weak_bg_fill = fill;
        state.bg_stroke = Stroke::new(1.0, edge);
        state.fg_stroke = Stroke::new(1.5, palette.ink);
        state.corner_radius = CornerRadius::same(5);
        state.expansion = 0.0;
    }
    // What has the keys is told from what lies under the pointer.
    widgets.active.bg_stroke.width = 2.0;
    visuals
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance, WCAG 2.2.
    fn luminance(colour: Color32) -> f64 {
        let channel = |value: u8| {
            let share = f64::from(value) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * channel(colour.r()) + 0.7152 * channel(colour.g()) + 0.0722 * channel(colour.b())
    }

    fn contrast(one: Color32, other: Color32) -> f64 {
        let (a, b) = (luminance(one), luminance(other));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    const THEMES: [(&str, &Palette); 2] = [("light", &LIGHT), ("dark", &DARK)];

    /// Every pair that falls short, with its contrast.
    fn short(inks: &[(&str, Color32)], grounds: &[(String, Color32)], least: f64) -> Vec<String> {
        let pairs = inks.iter().flat_map(|ink| grounds.iter().map(move |ground| (ink, ground)));
        let measured = pairs.map(|((ink, colour), (ground, under))| {
            // What is not opaque is seen with what lies under it.
            (format!("{ink} on {ground}"), contrast(under.blend(*colour), *under))
        });
        measured.filter(|(_, found)| *found < least).map(|(pair, found)| format!("{pair}: {found:.2}")).collect()
    }

    /// What text is written in.
    fn texts(palette: &Palette) -> [(&'static str, Color32); 6] {
        let Palette { ink, quiet, change, over, target, tap_high, .. } = *palette;
        [
            ("ink", ink),
            ("quiet", quiet),
            ("change", change),
            ("over", over),
            ("target", target),
            ("tap in use", tap_high),
        ]
    }

    /// What text stands on: the paper, fields and rows, cards, and what lights up.
    fn grounds(palette: &Palette) -> Vec<(String, Color32)> {
        let Palette { surface, raised, card, .. } = *palette;
        let plain =
            [("paper", surface), ("field", raised), ("card", card), ("landing", surface.blend(palette.landing()))];
        plain.map(|(name, ground)| (name.to_owned(), ground)).to_vec()
    }

    #[test]
    fn every_text_stands_out_from_every_ground_that_it_stands_on() {
        for (name, palette) in THEMES {
            let all = short(&texts(palette), &grounds(palette), 4.5);
            assert!(all.is_empty(), "{name}: {all:?}");
            // Selected text is in the colour of the tap in use, whatever it was before.
            let selected: Vec<(String, Color32)> =
                grounds(palette).into_iter().map(|(of, ground)| (of, ground.blend(palette.selection()))).collect();
            let all = short(&[("selected", palette.tap_high), ("ink", palette.ink)], &selected, 4.5);
            assert!(all.is_empty(), "{name}: {all:?}");
            let filled = [("the tap in use".to_owned(), palette.tap_high)];
            assert!(short(&[("its text", palette.on_tap)], &filled, 4.5).is_empty(), "{name}");
        }
    }

    /// What lines of the chart lie on: its paper, the target's band, the hatching, each also under either band of ±.
    fn chart_grounds(palette: &Palette) -> Vec<(String, Color32)> {
        let plain = [("paper", palette.card), ("target's band", palette.target_band), ("hatching", palette.hatch)];
        let under = |(name, ground): (&str, Color32)| {
            let bands = [
                ("", ground),
                (" and ±", ground.blend(palette.found_band())),
                (" and ± of changes", ground.blend(palette.change_band())),
            ];
            bands.map(|(band, ground)| (format!("{name}{band}"), ground))
        };
        plain.into_iter().flat_map(under).collect()
    }

    #[test]
    fn every_line_of_the_chart_stands_out_from_every_band_that_it_crosses() {
        for (name, palette) in THEMES {
            let back = [("old machine", standing_back(palette.quiet)), ("moved tap", standing_back(palette.change))];
            let taps = (0..6).map(|rank| ("tap", palette.tap(rank, 6)));
            let lines: Vec<(&str, Color32)> = texts(palette).into_iter().chain(taps).chain(back).collect();
            let all = short(&lines, &chart_grounds(palette), 3.0);
            assert!(all.is_empty(), "{name}: {all:?}");
            // The lines of the air path lie on its paper and on the shade of what the table contains.
            let all = short(&lines, &grounds(palette)[..2], 3.0);
            assert!(all.is_empty(), "{name}: {all:?}");
        }
    }

    /// A band that carries meaning is told from the paper: by its ground as far as the curves over it allow, and by its edges.
    #[test]
    fn the_target_band_is_seen_on_both_papers() {
        for (name, palette) in THEMES {
            let found = contrast(palette.target_band, palette.card);
            assert!(found >= 1.2, "{name}: {found:.2}");
            let edges = [("edge", standing_back(palette.target))];
            let both = [("band".to_owned(), palette.target_band), ("paper".to_owned(), palette.card)];
            assert!(short(&edges, &both, 3.0).is_empty(), "{name}");
        }
    }

    #[test]
    fn the_tap_family_is_graded() {
        for palette in [&LIGHT, &DARK] {
            let steps: Vec<f64> = (0..5).map(|rank| contrast(palette.tap(rank, 5), palette.surface)).collect();
            assert!(steps.windows(2).all(|pair| pair[1] > pair[0]), "{steps:?}");
        }
    }
}
