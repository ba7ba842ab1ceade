//! Every colour, size and font of the program, light and dark; nothing else constructs a colour.
//!
//! Contrast is at least 4.5:1 for text and 3:1 for lines that carry meaning (WCAG 2.2, 1.4.3 and 1.4.11), which a test works out.

use std::sync::Arc;

use eframe::egui::{
    self, Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Stroke, TextStyle, Theme,
    Visuals, vec2,
};

/// Point size of ordinary text.
pub const BODY: f32 = 14.0;
/// Point size of units, captions and remarks.
pub const SMALL: f32 = 12.5;
/// Point size of labels on the chart.
pub const CHART: f32 = 13.0;
/// Point size of the verdict.
pub const VERDICT: f32 = 20.0;
/// Point size of the airflow in the head.
pub const FIGURE: f32 = 27.0;
/// The step of the spacing rhythm.
pub const STEP: f32 = 8.0;
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
    quiet: Color32::from_rgb(0x5C, 0x64, 0x6B),
    hairline: Color32::from_rgb(0xD9, 0xD8, 0xD1),
    grid: Color32::from_rgb(0xE6, 0xE5, 0xDF),
    tap_low: Color32::from_rgb(0x6F, 0x92, 0xB1),
    tap_high: Color32::from_rgb(0x16, 0x4B, 0x78),
    change: Color32::from_rgb(0xB9, 0x52, 0x00),
    over: Color32::from_rgb(0xA8, 0x2F, 0x3E),
    hatch: Color32::from_rgb(0xEE, 0xD9, 0xD7),
    target: Color32::from_rgb(0x1B, 0x73, 0x48),
    target_band: Color32::from_rgb(0xE0, 0xEC, 0xE2),
    on_tap: Color32::from_rgb(0xFF, 0xFF, 0xFF),
    band: Color32::from_rgb(0xD9, 0xDE, 0xE0),
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
    tap_low: Color32::from_rgb(0x5B, 0x80, 0xA3),
    tap_high: Color32::from_rgb(0x9C, 0xCB, 0xF3),
    change: Color32::from_rgb(0xFF, 0x9B, 0x45),
    over: Color32::from_rgb(0xFF, 0x8A, 0x93),
    hatch: Color32::from_rgb(0x3C, 0x29, 0x2D),
    target: Color32::from_rgb(0x6C, 0xC9, 0x9C),
    target_band: Color32::from_rgb(0x1D, 0x2C, 0x26),
    on_tap: Color32::from_rgb(0x10, 0x1A, 0x22),
    band: Color32::from_rgb(0x33, 0x3A, 0x41),
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
            style.spacing.item_spacing = vec2(STEP, STEP * 0.75);
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
    visuals.selection.bg_fill = palette.tap_high.gamma_multiply(0.35);
    visuals.selection.stroke = Stroke::new(2.0, palette.tap_high);
    visuals.button_frame = true;
    let widgets = &mut visuals.widgets;
    for (state, fill, edge) in [
        (&mut widgets.noninteractive, palette.surface, palette.hairline),
        (&mut widgets.inactive, palette.raised, palette.raised),
        (&mut widgets.hovered, palette.raised, palette.quiet),
        (&mut widgets.active, palette.hairline, palette.tap_high),
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

    #[test]
    fn text_and_lines_stand_out_from_the_paper() {
        for (name, palette) in [("light", &LIGHT), ("dark", &DARK)] {
            let texts = [palette.ink, palette.quiet, palette.change, palette.over, palette.target, palette.tap_high];
            for (index, text) in texts.into_iter().enumerate() {
                for ground in [palette.surface, palette.card] {
                    assert!(contrast(text, ground) >= 4.5, "{name} text {index}: {:.2}", contrast(text, ground));
                }
            }
            assert!(contrast(palette.ink, palette.raised) >= 4.5, "{name} field");
            assert!(
                contrast(palette.quiet, palette.raised) >= 4.5,
                "{name} quiet field {:.2}",
                contrast(palette.quiet, palette.raised)
            );
            assert!(contrast(palette.on_tap, palette.tap_high) >= 4.5, "{name} tap in use");
            for rank in 0..5 {
                let line = palette.tap(rank, 5);
                assert!(
                    contrast(line, palette.surface) >= 3.0,
                    "{name} tap {rank}: {:.2}",
                    contrast(line, palette.surface)
                );
            }
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
