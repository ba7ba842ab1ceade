//! What the thing under the keys is for: in one line of the window, and the same to screen readers.

use eframe::egui::{Context, Id, Memory, Response};

/// Says what a thing is for while it has the keys, and of everything to screen readers.
pub fn hint(response: &Response, text: impl Fn() -> String) {
    let ctx = &response.ctx;
    let is_heard = ctx.accesskit_node_builder(response.id, |_| ()).is_some();
    if !is_heard && !response.has_focus() {
        return;
    }
    let text = text();
    ctx.accesskit_node_builder(response.id, |node| node.set_description(text.as_str()));
    if !response.has_focus() {
        return;
    }
    let said = Some((response.id, text));
    let is_new = response.ctx.data_mut(|data| {
        let before: &mut Option<(Id, String)> = data.get_temp_mut_or_default(key());
        let is_new = *before != said;
        *before = said;
        is_new
    });
    if is_new {
        // The line stands over the panels and is drawn before them.
        response.ctx.request_repaint();
    }
}

/// The same, and under the pointer too.
#[must_use]
pub fn and_under_the_pointer(response: Response, text: &str) -> Response {
    hint(&response, || text.to_owned());
    response.on_hover_text(text)
}

/// What is said of what has the keys.
pub fn shown(ctx: &Context) -> Option<String> {
    let focused = ctx.memory(Memory::focused)?;
    let (of, text) = ctx.data(|data| data.get_temp::<Option<(Id, String)>>(key()))??;
    (of == focused).then_some(text)
}

fn key() -> Id {
    Id::unique("hint")
}
