pub fn applied(_: &mut eframe::egui::Ui, _: &crate::ui::view::Screen<'_>, _: &mut crate::ui::view::View, _: &mut Vec<crate::app::action::Action>) {}
