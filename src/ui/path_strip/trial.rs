//! What a change in the hand would bring where it is held: worked out once for each element that it is held over.

use std::sync::Arc;

use eframe::egui::{Id, Ui};

use crate::edit::{self, Edit};
use crate::model::answer::Answer;
use crate::model::change::Declaration;
use crate::model::facts::air_path::ElementId;
use crate::model::facts::job::Job;
use crate::model::first_guess;
use crate::ui::view::Screen;

/// The last one that was worked out.
#[derive(Clone)]
struct Kept {
    declared: &'static Declaration,
    element: ElementId,
    job: Arc<Job>,
    answer: Option<Arc<Answer>>,
}

fn id() -> Id {
    Id::unique("change in the hand, held over an element")
}

/// Says that a change is held over an element that can take it.
pub fn hold(ui: &Ui, screen: &Screen<'_>, declared: &'static Declaration, element: ElementId) {
    let kept = ui.data(|data| data.get_temp::<Kept>(id()));
    let is_new =
        !kept.is_some_and(|kept| kept.declared == declared && kept.element == element && *kept.job == *screen.job);
    if is_new {
        let answer = worked_out(screen, declared, element).map(Arc::new);
        let kept = Kept { declared, element, job: Arc::new(screen.job.clone()), answer };
        ui.data_mut(|data| data.insert_temp(id(), kept));
        ui.ctx().request_repaint();
    }
}

/// Says that nothing is held over any element.
pub fn let_go(ui: &Ui) {
    ui.data_mut(|data| data.remove::<Kept>(id()));
}

/// The answer as it would be, while a change is held over an element.
pub fn shown(ui: &Ui) -> Option<Arc<Answer>> {
    ui.data(|data| data.get_temp::<Kept>(id()))?.answer
}

fn worked_out(screen: &Screen<'_>, declared: &Declaration, element: ElementId) -> Option<Answer> {
    let kind = first_guess::first(declared, element, screen.job, screen.answer)?;
    let mut job = screen.job.clone();
    edit::apply(&mut job, Edit::AddChange(kind)).ok()?;
    Some(Answer::of(&job)).filter(|answer| answer.point().is_some())
}
