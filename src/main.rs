//! Starts the window, or writes a report without one.

mod display;

use std::process::ExitCode;

use tapcross::app::{Start, TapcrossApp};
use tapcross::cli;

use display::Display;

fn main() -> ExitCode {
    cli::run(std::env::args_os().skip(1), |job| {
        let display = Display::find()?;
        let start = Start::for_person(job);
        let options = eframe::NativeOptions {
            viewport: eframe::egui::ViewportBuilder::default()
                .with_title("Tapcross")
                .with_app_id("tapcross")
                .with_inner_size([1440.0, 900.0])
                .with_min_inner_size([480.0, 360.0])
                .with_drag_and_drop(true),
            // Tests bring a second renderer into the build; the window uses the same one everywhere.
            renderer: eframe::Renderer::Glow,
            event_loop_builder: display.hook(),
            ..eframe::NativeOptions::default()
        };
        let ran =
            eframe::run_native("Tapcross", options, Box::new(|cc| Ok(Box::new(TapcrossApp::new(&cc.egui_ctx, start)))));
        ran.map_err(|error| display.why(&error))
    })
}
