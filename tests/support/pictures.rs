//! What the suites that take pictures share.
//!
//! Pictures need a software Vulkan; without one a suite says that it skipped, unless `TAPCROSS_NEED_PICTURES` is set, as CI sets it.
//! `TAPCROSS_PICTURES=DIR` also writes them as PNG, for eyes.

use std::path::PathBuf;

use egui_kittest::Harness;
use tapcross::app::TapcrossApp;

/// True, and said so, where no picture can be taken.
///
/// # Panics
/// Where `TAPCROSS_NEED_PICTURES` is set.
pub(crate) fn cannot_be_taken() -> bool {
    let hook = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| {}));
    let tried = std::panic::catch_unwind(|| Harness::builder().wgpu().build_ui(|_| {}).render().is_ok());
    std::panic::set_hook(hook);
    if tried.unwrap_or(false) {
        return false;
    }
    assert!(
        std::env::var_os("TAPCROSS_NEED_PICTURES").is_none(),
        "no Vulkan to take pictures with, and TAPCROSS_NEED_PICTURES is set"
    );
    println!("skipped: no Vulkan here to take pictures with");
    true
}

/// Takes a picture of the window and holds that it is neither blank nor full.
pub(crate) fn take(app: &mut Harness<'_, TapcrossApp>, name: &str) {
    let picture = app.render().unwrap();
    if let Some(folder) = std::env::var_os("TAPCROSS_PICTURES").map(PathBuf::from) {
        std::fs::create_dir_all(&folder).unwrap();
        picture.save(folder.join(format!("{name}.png"))).unwrap();
    }
    let ground = *picture.get_pixel(2, picture.height() - 3);
    let inked = picture.pixels().filter(|pixel| **pixel != ground).count();
    let share = inked as f64 / f64::from(picture.width() * picture.height());
    assert!((0.01..0.99).contains(&share), "{name}: {share:.3} of the picture is drawn on");
}
