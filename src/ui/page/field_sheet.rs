//! What a field sheet has to be filled in, and what has to be minded before.

use crate::model::verdicts::findings::Weight;
use crate::model::wording::field_sheet::{NAME, USE, chapters, minded};
use crate::ui::page::block::Block;
use crate::ui::view::Screen;

/// Everything on the sheet.
pub fn blocks(screen: &Screen<'_>) -> Vec<Block> {
    let mut all = vec![Block::Title(NAME.to_owned(), USE.to_owned())];
    all.extend(minded(screen.job, screen.answer).into_iter().map(|told| Block::Said(Weight::Act, told)));
    for chapter in chapters(screen.job, screen.units) {
        all.push(Block::Heading(chapter.heading));
        all.extend(chapter.lines.into_iter().map(Block::Fill));
    }
    all
}
