//! Where pages end.

use std::ops::Range;

/// Blocks of these heights on pages that have so much room each; a block that goes on in the next one is never the last of its page.
///
/// A block that is higher than a page has one to itself and is cut.
pub fn pages(heights: &[f32], goes_on: &[bool], room: f32) -> Vec<Range<usize>> {
    let mut pages = Vec::new();
    let mut start = 0;
    while start < heights.len() {
        let fitting = fitting(&heights[start..], room);
        let mut end = start + fitting;
        if end < heights.len() {
            let is_open = |end: usize| goes_on.get(end - 1).copied().unwrap_or(false);
            let whole = (start + 1..=end).rev().find(|end| !is_open(*end));
            end = whole.unwrap_or(end);
        }
        pages.push(start..end);
        start = end;
    }
    pages
}

/// How many of the first blocks have room, at least one.
fn fitting(heights: &[f32], room: f32) -> usize {
    let mut used = 0.0;
    let fits = |height: &&f32| {
        used += **height;
        used <= room
    };
    heights.iter().take_while(fits).count().max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_end_where_the_next_block_has_no_room_and_never_behind_a_heading() {
        // Heights, which of them go on, and where pages end.
        let rows = [
            (vec![], vec![], vec![]),
            (vec![10.0, 20.0], vec![], vec![2]),
            (vec![60.0, 30.0, 20.0], vec![], vec![2, 3]),
            (vec![60.0, 30.0, 20.0], vec![1], vec![1, 3]),
            (vec![200.0, 30.0], vec![], vec![1, 2]),
            // Whoever goes on for ever is cut all the same.
            (vec![60.0, 60.0], vec![0, 1], vec![1, 2]),
        ];
        for (heights, open, expected) in rows {
            let goes_on: Vec<bool> = (0..heights.len()).map(|index| open.contains(&index)).collect();
            let pages = pages(&heights, &goes_on, 100.0);
            assert!(
                pages
                    .iter()
                    .map(|page| page.start)
                    .eq([0].into_iter().chain(expected.iter().copied()).take(pages.len()))
            );
            let ends: Vec<usize> = pages.iter().map(|page| page.end).collect();
            assert_eq!(ends, expected, "{heights:?} {open:?}");
        }
    }
}
