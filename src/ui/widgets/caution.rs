//! Cautions where people act: a word and the least that has to be said, all of it under the pointer.

use eframe::egui::text::{LayoutJob, TextFormat};
use eframe::egui::{Align, Label, Layout, Response, Role, Ui, WidgetInfo, vec2};

use crate::model::facts::caution::Caution;
use crate::model::wording::cautions::{self, Told};
use crate::ui::theme;
use crate::ui::view::Screen;

/// How much of a caution stands on the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Length {
    /// The word alone.
    Word,
    /// The word and the least that has to be said.
    Short,
}

/// One caution, wrapped.
pub fn caution(ui: &mut Ui, screen: &Screen<'_>, which: Caution) {
    let told = cautions::told(which, screen.job, screen.answer);
    let text = text(ui, &told, Length::Short);
    let response = ui.add(Label::new(text).wrap());
    named(response, &told);
}

/// Every caution of the job in a line of a height: each as its word, the first ones with what has to be said as far as that has room.
pub fn line(ui: &mut Ui, screen: &Screen<'_>, height: f32) {
    let told = |caution| cautions::told(caution, screen.job, screen.answer);
    let all: Vec<Told> = cautions::of_job(screen.job, screen.answer).into_iter().map(told).collect();
    let gap = theme::STEP * 2.0;
    let width = |told: &Told, length| ui.painter().layout_job(text(ui, told, length)).size().x + gap;
    let mut room = ui.available_width() - all.iter().map(|told| width(told, Length::Word)).sum::<f32>();
    let mut shown = Vec::new();
    for told in &all {
        let more = width(told, Length::Short) - width(told, Length::Word);
        let length = if more <= room { Length::Short } else { Length::Word };
        room = if length == Length::Short { room - more } else { 0.0 };
        shown.push((told, length));
    }
    let size = vec2(ui.available_width(), height);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_size(size);
        ui.spacing_mut().item_spacing.x = gap;
        ui.spacing_mut().interact_size.y = 0.0;
        for (told, length) in shown {
            let text = text(ui, told, length);
            let response = ui.add(Label::new(text).extend());
            named(response, told);
        }
    });
}

fn text(ui: &Ui, told: &Told, length: Length) -> LayoutJob {
    let palette = theme::palette(ui);
    let mut job = LayoutJob::default();
    let word = if length == Length::Short { format!("{}: ", told.word) } else { told.word.to_owned() };
    job.append(&word, 0.0, TextFormat::simple(theme::strong(theme::SMALL), palette.change));
    if length == Length::Short {
        job.append(told.short, 0.0, TextFormat::simple(theme::regular(theme::SMALL), palette.quiet));
    }
    job
}

/// All of it for the pointer and for screen readers.
fn named(response: Response, told: &Told) {
    response
        .widget_info(|| WidgetInfo::labeled(Role::Label, true, format!("Caution: {}. {}", told.word, told.sentence)));
    response.on_hover_text(told.sentence);
}
