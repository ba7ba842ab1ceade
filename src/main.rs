//! Starts the window, or writes a report without one.

mod display;

use std::process::ExitCode;

use tapcross::app::{Start, TapcrossApp};
use tapcross::cli;

use display::Display;

/// Smallest window that shows anything, points.
const LEAST_WINDOW: [f32; 2] = [480.0, 360.0];

fn main() -> ExitCode {
    cli::run(std::env::args_os().skip(1), |job| {
        let display = Display::find()?;
        let start = Start::for_person(job);
        let (width, height) = start.window_size();
        let options = eframe::NativeOptions {
            viewport: eframe::egui::ViewportBuilder::default()
                .with_title("Tapcross")
                .with_app_id("tapcross")
                .with_inner_size([width, height])
                .with_min_inner_size(LEAST_WINDOW)
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
