//! The invariants of the code's layout, held against the sources themselves.
//!
//! A folder that is not there yet breaks no rule.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Most lines of a source file.
const MOST_LINES: usize = 600;

struct Source {
    /// Path under the crate, with forward slashes.
    path: String,
    text: String,
}

impl Source {
    fn is_under(&self, folders: &[&str]) -> bool {
        folders.iter().any(|folder| self.path.starts_with(folder))
    }

    /// What is built into the program: the tests stand at the end of a file.
    fn without_tests(self) -> Self {
        let shipped = self.text.split("#[cfg(test)]\nmod ").next().unwrap_or_default().to_owned();
        Self { text: shipped, ..self }
    }
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for path in entries.map(|entry| entry.expect("an entry of a folder").path()) {
        if path.is_dir() {
            collect(&path, files);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            files.push(path);
        }
    }
}

fn sources_of(folder: &str) -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    collect(&root.join(folder), &mut files);
    files.sort();
    let read = |path: PathBuf| Source {
        path: path.strip_prefix(root).expect("under the crate").to_string_lossy().replace('\\', "/"),
        text: fs::read_to_string(&path).expect("a source file is text"),
    };
    files.into_iter().map(read).collect()
}

fn sources() -> Vec<Source> {
    let sources = sources_of("src");
    assert!(sources.len() > 20, "the sources were found");
    sources
}

/// A line's code, without what follows `//`; a `//` inside a string ends it too, which no rule here minds.
fn code(line: &str) -> &str {
    line.split("//").next().unwrap_or_default()
}

/// True where `word` stands in the code alone, not as a part of a longer name.
fn names(line: &str, word: &str) -> bool {
    let part_of_name = |letter: Option<char>| letter.is_some_and(|letter| letter.is_alphanumeric() || letter == '_');
    let line = code(line);
    line.match_indices(word).any(|(at, found)| {
        let after = at + found.len();
        !part_of_name(line[..at].chars().next_back()) && !part_of_name(line[after..].chars().next())
    })
}

/// Lines of `sources` that name one of `words`, except in files that `may` accepts.
fn trespasses(sources: &[Source], words: &[&str], may: impl Fn(&Source) -> bool) -> Vec<String> {
    let strict = sources.iter().filter(|source| !may(source));
    strict
        .flat_map(|source| {
            let lines = source.text.lines().enumerate();
            lines.filter_map(|(number, line)| {
                let word = words.iter().find(|word| names(line, word))?;
                Some(format!("{}:{}: {word}: {}", source.path, number + 1, line.trim()))
            })
        })
        .collect()
}

fn nobody(found: &[String]) {
    assert!(found.is_empty(), "{} lines break the rule:\n{}", found.len(), found.join("\n"));
}

const PURE: &[&str] = &["src/model/", "src/numerics/", "src/units/"];

#[test]
fn the_model_knows_no_screen_no_disk_no_clock_and_no_log() {
    let words = [
        "egui",
        "eframe",
        "egui_plot",
        "rfd",
        "std::fs",
        "std::time",
        "std::net",
        "std::env",
        "std::process",
        "std::thread",
        "log",
        "fs",
        "println!",
        "eprintln!",
        "dbg!",
        "ron",
        "serde",
        "anyhow",
    ];
    nobody(&trespasses(&sources(), &words, |source| !source.is_under(PURE)));
}

#[test]
fn the_model_knows_nothing_above_it() {
    let above =
        ["crate::files", "crate::ui", "crate::app", "crate::report", "crate::cli", "crate::edit", "crate::history"];
    nobody(&trespasses(&sources(), &above, |source| !source.is_under(PURE)));
}

#[test]
fn units_and_numerics_know_no_model() {
    nobody(&trespasses(&sources(), &["crate::model"], |source| !source.is_under(&["src/numerics/", "src/units/"])));
}

#[test]
fn only_files_touches_the_disk() {
    let words = ["std::fs", "fs", "File::open", "File::create", "OpenOptions", "tempfile"];
    let shipped: Vec<Source> = sources().into_iter().map(Source::without_tests).collect();
    nobody(&trespasses(&shipped, &words, |source| source.is_under(&["src/files/", "src/files.rs"])));
}

#[test]
fn only_the_dialogs_name_the_dialog_crate() {
    nobody(&trespasses(&sources(), &["rfd"], |source| source.path == "src/app/dialogs.rs"));
}

#[test]
fn only_the_theme_makes_colours() {
    let makes = [
        "Color32::from_rgb",
        "Color32::from_rgba_unmultiplied",
        "Color32::from_rgba_premultiplied",
        "Color32::from_gray",
        "Color32::from_black_alpha",
        "Color32::from_white_alpha",
        "Color32::from_hex",
        "Color32::from_rgb_additive",
        "Rgba::from_rgb",
        "Rgba::from_gray",
        "hex_color!",
        "Color32::BLACK",
        "Color32::WHITE",
        "Color32::RED",
        "Color32::GREEN",
        "Color32::BLUE",
        "Color32::YELLOW",
        "Color32::GRAY",
        "Color32::LIGHT_GRAY",
        "Color32::DARK_GRAY",
        "Color32::LIGHT_RED",
        "Color32::DARK_RED",
        "Color32::LIGHT_GREEN",
        "Color32::DARK_GREEN",
        "Color32::LIGHT_BLUE",
        "Color32::DARK_BLUE",
        "Color32::ORANGE",
        "Color32::GOLD",
        "Color32::CYAN",
        "Color32::MAGENTA",
        "Color32::PURPLE",
        "Color32::BROWN",
    ];
    nobody(&trespasses(&sources(), &makes, |source| source.is_under(&["src/ui/theme.rs", "src/ui/theme/"])));
}

/// The model's layers, from the bottom up.
const MODEL: &[&str] = &[
    "model::facts",
    "model::laws",
    "model::path",
    "model::change",
    "model::solution",
    "model::verdicts",
    "model::answer",
    "model::alone",
    "model::curves",
    "model::first_guess",
    "model::firsts",
    "model::read_next",
    "model::side_by_side",
    "model::search",
    "model::typed",
    "model::wording",
];

/// The window's modules from the bottom up: each imports only those that stand before it, and itself; a panel that is not named stands over the others, under [`FRAME`].
const WINDOW: &[&str] = &[
    "ui::theme",
    "ui::view",
    "ui::widgets",
    "ui::reading_entry",
    "ui::taps_panel",
    "ui::job_panel",
    "ui::picker",
    "ui::table_editor",
    "ui::table_sheet",
    "ui::chart_trace",
    "ui::changes_panel",
    "ui::verdict_strip",
    "ui::path_strip",
    "ui::chart",
    "ui::overlays",
    "ui::options",
    "ui::settings",
    "ui::preview",
    "ui::help",
    "ui::recovered",
    "ui::top_bar",
    "ui::window",
    "app",
];
/// The lowest of what places the panels.
const FRAME: &str = "ui::overlays";

/// The window's layers, with the panels that are not named.
fn window_layers(panels: &BTreeSet<String>) -> Vec<&str> {
    let (below, above) = WINDOW.split_at(rank(FRAME, WINDOW).expect("a layer"));
    below.iter().copied().chain(panels.iter().map(String::as_str)).chain(above.iter().copied()).collect()
}

/// Panels that [`WINDOW`] does not name.
fn unnamed_panels(sources: &[Source]) -> BTreeSet<String> {
    let window = sources.iter().filter(|source| source.is_under(&["src/ui/"])).map(Source::module);
    let unnamed = window.filter(|module| module != "ui" && rank(module, WINDOW).is_none());
    unnamed.map(|module| module.split("::").take(2).collect::<Vec<_>>().join("::")).collect()
}

#[test]
fn the_window_stands_in_layers_and_each_knows_only_those_below() {
    let shipped: Vec<Source> = sources().into_iter().map(Source::without_tests).collect();
    nobody(&upward(&shipped, &window_layers(&unnamed_panels(&shipped))));
}

#[test]
fn the_model_stands_in_layers_and_each_knows_only_those_below() {
    let shipped: Vec<Source> = sources().into_iter().map(Source::without_tests).collect();
    let model = shipped.iter().filter(|source| source.is_under(&["src/model/"]));
    let unlisted = model.map(Source::module).filter(|module| module != "model" && rank(module, MODEL).is_none());
    nobody(&unlisted.collect::<Vec<_>>());
    nobody(&upward(&shipped, MODEL));
}

/// Layers of the model that work things out: the screen may name their types, which an answer is made of, and nothing that computes.
const WORKS_OUT: &[&str] = &["model::path", "model::solution", "model::change::on_parts"];

/// The screen draws what the answer carries; what it once worked out by itself was another figure than the report's.
#[test]
fn nothing_on_the_screen_works_anything_out() {
    let screen: Vec<Source> =
        sources().into_iter().filter(|source| source.is_under(&["src/ui/"])).map(Source::without_tests).collect();
    assert!(screen.len() > 20, "the screen's sources were found");
    nobody(&physics(&screen));
    let words = ["drop_at", "in_air", "value_and_slope"];
    nobody(&trespasses(&screen, &words, |_| false));
    // What a change or a reading in the hand would bring is a whole answer, asked for in two places.
    let in_hand = ["src/ui/view/held.rs"];
    nobody(&trespasses(&screen, &["Answer::of"], |source| in_hand.contains(&source.path.as_str())));
}

/// Every import of a law, and of what works something out.
fn physics(screen: &[Source]) -> Vec<String> {
    let is_type = |path: &str| path.rsplit("::").next().is_some_and(|name| name.starts_with(char::is_uppercase));
    let is_physics =
        |path: &String| rank(path, &["model::laws"]).is_some() || (rank(path, WORKS_OUT).is_some() && !is_type(path));
    let of = |source: &Source| {
        let found = source.named_paths().into_iter().filter(is_physics);
        found.map(|path| format!("{}: {path}", source.path)).collect::<Vec<_>>()
    };
    screen.iter().flat_map(of).collect()
}

#[test]
fn the_rule_sees_physics_on_the_screen() {
    let text =
        "use crate::model::{laws::duct::size, path::parts::{Part, flows}};\nuse crate::model::path::tesp::Bound;\n";
    let made_up = Source { path: "src/ui/panel.rs".to_owned(), text: text.to_owned() };
    let expected = ["src/ui/panel.rs: model::laws::duct::size", "src/ui/panel.rs: model::path::parts::flows"];
    assert_eq!(physics(&[made_up]), expected);
}

#[test]
fn nothing_below_the_window_knows_it() {
    // What is printed is drawn by the window's own functions.
    let window = ["src/ui/", "src/paper/", "src/app/", "src/main.rs"];
    nobody(&trespasses(&sources(), &["crate::ui", "crate::app", "tapcross::app"], |source| source.is_under(&window)));
}

/// The place of a module's layer, from the bottom up.
fn rank(module: &str, layers: &[&str]) -> Option<usize> {
    let is_in =
        |layer: &&str| module.strip_prefix(*layer).is_some_and(|rest| rest.is_empty() || rest.starts_with("::"));
    layers.iter().position(is_in)
}

/// Every import that leads from a layer to one above it.
fn upward(sources: &[Source], layers: &[&str]) -> Vec<String> {
    let of = |source: &Source| {
        let here = rank(&source.module(), layers);
        let above = move |path: &String| here.is_some() && rank(path, layers) > here;
        source
            .named_paths()
            .into_iter()
            .filter(above)
            .map(|path| format!("{}: {path}", source.path))
            .collect::<Vec<_>>()
    };
    sources.iter().flat_map(of).collect()
}

impl Source {
    /// Path of the module, from the crate's root.
    fn module(&self) -> String {
        let path = self.path.trim_start_matches("src/").trim_end_matches(".rs").trim_end_matches("/mod");
        path.replace('/', "::")
    }

    /// Every path of the crate that the code names, from the crate's root, with the braces of a `use` taken apart.
    fn named_paths(&self) -> Vec<String> {
        let text = self.text.lines().map(code).collect::<Vec<_>>().join(" ");
        let parent = self.module().rsplit_once("::").map_or_else(String::new, |(parent, _)| format!("{parent}::"));
        let mut found = Vec::new();
        for (root, prefix) in [("crate::", ""), ("super::", parent.as_str())] {
            for (at, _) in text.match_indices(root) {
                let is_whole = !text[..at].ends_with(|letter: char| letter.is_alphanumeric() || "_:".contains(letter));
                if is_whole {
                    take_tree(&text[at + root.len()..], prefix, &mut found);
                }
            }
        }
        found
    }
}

/// Takes the paths of one tree of a `use`, or one path; gives what follows it.
fn take_tree<'a>(text: &'a str, prefix: &str, found: &mut Vec<String>) -> &'a str {
    let is_of_path = |letter: char| letter.is_alphanumeric() || "_:".contains(letter);
    let (here, mut rest) = text.split_at(text.find(|letter| !is_of_path(letter)).unwrap_or(text.len()));
    let path = format!("{prefix}{here}");
    let Some(inside) = rest.strip_prefix('{').filter(|_| path.is_empty() || path.ends_with("::")) else {
        found.push(path);
        return rest;
    };
    rest = inside;
    while !rest.is_empty() {
        rest = rest.trim_start_matches(|letter: char| !is_of_path(letter) && !"{}".contains(letter));
        match rest.strip_prefix('}') {
            Some(after) => return after,
            None => rest = take_tree(rest, &path, found),
        }
    }
    rest
}

/// Which modules each module names: a parent its children too, a child not what it takes from its own parent.
fn imports(sources: &[Source]) -> BTreeMap<String, BTreeSet<String>> {
    let modules: BTreeSet<String> = sources.iter().map(Source::module).collect();
    let holder = |path: &String| {
        let parents = path.match_indices("::").map(|(end, _)| &path[..end]);
        let prefixes: Vec<&str> = parents.chain([path.as_str()]).collect();
        prefixes.into_iter().rev().find(|prefix| modules.contains(*prefix)).map(str::to_owned)
    };
    let of = |source: &Source| {
        let here = source.module();
        let is_named = |child: &str| source.text.lines().any(|line| code(line).contains(&format!("{child}::")));
        let children = modules.iter().filter(|module| {
            let child = module.strip_prefix(here.as_str()).and_then(|rest| rest.strip_prefix("::"));
            child.is_some_and(|child| !child.contains("::") && is_named(child))
        });
        let named: BTreeSet<String> = source.named_paths().iter().filter_map(holder).chain(children.cloned()).collect();
        let parent = here.rsplit_once("::").map(|(parent, _)| parent.to_owned());
        let counts = |module: &String| *module != here && Some(module) != parent.as_ref();
        (here.clone(), named.into_iter().filter(counts).collect())
    };
    sources.iter().map(of).collect()
}

/// Every set of modules that all lead to each other by their imports.
fn circles(sources: &[Source]) -> BTreeSet<BTreeSet<String>> {
    let direct = imports(sources);
    let reached = |from: &String| {
        let (mut seen, mut open) = (BTreeSet::new(), vec![from.clone()]);
        while let Some(module) = open.pop() {
            for next in direct.get(&module).into_iter().flatten() {
                if seen.insert(next.clone()) {
                    open.push(next.clone());
                }
            }
        }
        seen
    };
    let all: BTreeMap<&String, BTreeSet<String>> = direct.keys().map(|module| (module, reached(module))).collect();
    let circle = |module: &String| {
        let back = |other: &&String| all.get(other).is_some_and(|reached| reached.contains(module));
        all[module].iter().filter(back).cloned().collect::<BTreeSet<String>>()
    };
    direct.keys().map(circle).filter(|circle| circle.len() > 1).collect()
}

/// A path's law is made of ways side by side, each of which has a path's law again.
const ONE_IN_THE_OTHER: [&str; 2] = ["model::laws::duct::parallel", "model::laws::system_curve"];

/// A parent may use its child and the child what the parent declares; every other circle hides what rests on what.
#[test]
fn no_modules_import_each_other_in_a_circle_but_those_of_a_type_that_holds_itself() {
    let shipped: Vec<Source> = sources().into_iter().map(Source::without_tests).collect();
    let others = circles(&shipped).into_iter().filter(|circle| !circle.iter().eq(ONE_IN_THE_OTHER));
    nobody(&others.map(|circle| circle.into_iter().collect::<Vec<_>>().join(", ")).collect::<Vec<_>>());
}

#[test]
fn the_rule_sees_a_circle() {
    let source = |path: &str, text: &str| Source { path: path.to_owned(), text: text.to_owned() };
    let made_up = [
        source("src/ui/strip/mod.rs", "pub mod draw;\nfn strip() { draw::all(); }\n"),
        source("src/ui/strip/draw.rs", "use super::frame::Frame;\n"),
        source("src/ui/strip/frame.rs", "use crate::ui::strip::{height, ways};\n"),
        source("src/ui/strip/ways.rs", "use crate::ui::strip::draw::NAME_LINE;\nuse crate::units::Pressure;\n"),
    ];
    let expected = ["ui::strip::draw", "ui::strip::frame", "ui::strip::ways"].map(str::to_owned);
    assert_eq!(circles(&made_up), BTreeSet::from([BTreeSet::from(expected)]));
}

#[test]
fn the_layers_see_an_import_that_leads_up() {
    let source = |path: &str, text: &str| Source { path: path.to_owned(), text: text.to_owned() };
    let made_up = [
        source("src/ui/widgets/field.rs", "use crate::ui::{theme, picker::{self, Row}, view::View};\n"),
        source("src/ui/view/mod.rs", "fn end(app: &mut crate::app::TapcrossApp) {}\n// crate::ui::window\n"),
        source("src/ui/theme.rs", "use super::chart as other;\n"),
        source("src/app/mod.rs", "use crate::ui::{window, view::{Screen, View}};\nuse crate::files;\n"),
        source("src/ui/new/mod.rs", "use crate::ui::{chart, overlays, new::row};\n"),
        source("src/ui/picker.rs", "use crate::ui::new::row;\n"),
        source("src/ui/window.rs", "use crate::ui::new;\n"),
    ];
    let found = upward(&made_up, &window_layers(&unnamed_panels(&made_up)));
    let expected = [
        "src/ui/widgets/field.rs: ui::picker::self",
        "src/ui/widgets/field.rs: ui::picker::Row",
        "src/ui/view/mod.rs: app::TapcrossApp",
        "src/ui/theme.rs: ui::chart",
        "src/ui/new/mod.rs: ui::overlays",
        "src/ui/picker.rs: ui::new::row",
    ];
    assert_eq!(found, expected);
}

#[test]
fn every_source_file_is_short_enough_to_read() {
    let long = sources().into_iter().filter_map(|source| {
        let lines = source.text.lines().count();
        (lines > MOST_LINES).then(|| format!("{}: {lines} lines, at most {MOST_LINES}", source.path))
    });
    nobody(&long.collect::<Vec<_>>());
}

#[test]
fn nothing_is_left_undone_and_no_test_is_skipped() {
    // Put together here, so that this file does not break its own rule.
    let words = [["to", "do!"].concat(), ["unimple", "mented!"].concat(), ["#[ig", "nore"].concat()];
    let mut all = sources();
    all.extend(sources_of("tests"));
    let found = all.iter().flat_map(|source| {
        let lines = source.text.lines().enumerate();
        lines
            .filter(|(_, line)| words.iter().any(|word| code(line).contains(word.as_str())))
            .map(|(number, line)| format!("{}:{}: {}", source.path, number + 1, line.trim()))
    });
    nobody(&found.collect::<Vec<_>>());
}

#[test]
fn the_rules_see_a_trespass() {
    let source = |path: &str, text: &str| Source { path: path.to_owned(), text: text.to_owned() };
    let made_up = [
        source("src/model/bad.rs", "use std::fs;\n"),
        source("src/model/good.rs", "// std::fs is for others\nlet logarithm = x.ln();\nlet offset = 1;\n"),
        source("src/files/disk.rs", "use std::fs;\n"),
    ];
    let found = trespasses(&made_up, &["std::fs", "log", "fs"], |source| source.is_under(&["src/files/"]));
    assert_eq!(found, ["src/model/bad.rs:1: std::fs: use std::fs;"]);
}
