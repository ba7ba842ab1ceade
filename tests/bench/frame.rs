//! How long one frame of the main window takes without a GPU: logic, every panel, and tessellation, as a window does it before it paints.

#[path = "jobs.rs"]
mod jobs;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use eframe::App as _;
use eframe::egui::{
    Context, DragAndDrop, Event, Modifiers, PointerButton, Pos2, RawInput, Rect, ViewportId, pos2, vec2,
};
use tapcross::app::{Start, TapcrossApp};
use tapcross::files::demo;
use tapcross::files::library::Library;
use tapcross::model::answer::Answer;
use tapcross::model::change::kinds;
use tapcross::model::facts::job::Job;
use tapcross::ui::chart::handle;
use tapcross::ui::chart::scene::Scene;
use tapcross::ui::view::{InHand, Screen};
use tapcross::units::UnitSystem;

/// Frames drawn before the clock runs: sizes and glyphs settle.
const SETTLING_FRAMES: usize = 10;
/// Seconds from one frame to the next.
const FRAME_TIME: f64 = 1.0 / 60.0;
/// A place on the chart, left of its middle.
const ON_THE_CHART: Pos2 = pos2(620.0, 360.0);
/// A place on the air path, on its first element's name.
const OVER_THE_PATH: Pos2 = pos2(340.0, 722.0);

/// The program without a window, 1440 by 900 points.
struct Headless {
    ctx: Context,
    app: TapcrossApp,
    frame: eframe::Frame,
    time: f64,
}

impl Headless {
    fn on(job: Job) -> Self {
        let ctx = Context::default();
        let mut app = TapcrossApp::new(&ctx, Start::alone());
        app.show_job(job);
        let frame = eframe::Frame::_new_kittest();
        let mut window = Self { ctx, app, frame, time: 0.0 };
        for _ in 0..SETTLING_FRAMES {
            window.draw(Vec::new());
        }
        window
    }

    fn input(&mut self, events: Vec<Event>) -> RawInput {
        self.time += FRAME_TIME;
        let mut input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, vec2(1440.0, 900.0))),
            time: Some(self.time),
            events,
            ..RawInput::default()
        };
        input.viewports.entry(ViewportId::ROOT).or_default().native_pixels_per_point = Some(1.0);
        input
    }

    /// One frame; gives the number of triangles, which is never zero in a window that shows something.
    fn draw(&mut self, events: Vec<Event>) -> usize {
        let input = self.input(events);
        let Self { ctx, app, frame, .. } = self;
        let mut output = ctx.run_ui(input, |ui| {
            app.logic(ui.ctx(), frame);
            app.ui(ui, frame);
        });
        // There is no graphics card to hand glyphs to.
        output.textures_delta.clear();
        let meshes = ctx.tessellate(output.shapes, output.pixels_per_point);
        meshes
            .iter()
            .map(|mesh| match &mesh.primitive {
                eframe::egui::epaint::Primitive::Mesh(mesh) => mesh.indices.len() / 3,
                eframe::egui::epaint::Primitive::Callback(_) => 0,
            })
            .sum()
    }
}

fn at_rest(criterion: &mut Criterion) {
    let jobs = [("heat pump", demo::heat_pump()), ("gas furnace", demo::gas_furnace()), ("empty job", Job::default())];
    for (name, job) in jobs {
        let mut window = Headless::on(job);
        assert!(window.draw(Vec::new()) > 100, "the {name} window is all but blank");
        criterion.bench_function(&format!("one frame, {name}"), |bench| {
            bench.iter(|| black_box(window.draw(Vec::new())));
        });
    }
}

fn under_the_pointer(criterion: &mut Criterion) {
    let mut window = Headless::on(demo::heat_pump());
    let mut along = 0.0;
    criterion.bench_function("one frame, pointer moving over the chart", |bench| {
        bench.iter(|| {
            along = (along + 1.0) % 200.0;
            let moved = Event::PointerMoved(ON_THE_CHART + vec2(along, 0.0));
            black_box(window.draw(vec![moved]))
        });
    });
}

/// Six changes on, and the measured point under the hand: every frame solves the job anew.
fn point_dragged(criterion: &mut Criterion) {
    let mut window = Headless::on(jobs::with(demo::gas_furnace(), jobs::six_changes()));
    let grip = window.ctx.read_response(handle::id()).expect("the measured point can be dragged").rect.center();
    let button = |pressed| Event::PointerButton {
        pos: grip,
        button: PointerButton::Primary,
        pressed,
        modifiers: Modifiers::NONE,
    };
    window.draw(vec![Event::PointerMoved(grip)]);
    window.draw(vec![button(true)]);
    let mut along = 0.0;
    criterion.bench_function("one frame, measured point dragged with six changes on", |bench| {
        bench.iter(|| {
            along = (along + 1.0) % 40.0;
            black_box(window.draw(vec![Event::PointerMoved(grip + vec2(0.0, 8.0 + along))]))
        });
    });
    assert!(
        window.ctx.dragged_id().is_some_and(|dragged| dragged == handle::id()),
        "the point slipped out of the hand"
    );
}

/// Five changes on, and a sixth in the hand over the air path, on another element every few frames.
fn change_dragged(criterion: &mut Criterion) {
    let mut changes = jobs::six_changes();
    changes.remove(0);
    let mut window = Headless::on(jobs::with(demo::gas_furnace(), changes));
    let less = kinds::ALL.into_iter().find(|declared| declared.name == "Reduce by %").expect("a change of any part");
    let mut along = 0.0;
    criterion.bench_function("one frame, a change carried over the air path", |bench| {
        bench.iter(|| {
            along = (along + 20.0) % 700.0;
            DragAndDrop::set_payload(&window.ctx, InHand(less));
            black_box(window.draw(vec![Event::PointerMoved(OVER_THE_PATH + vec2(along, 0.0))]))
        });
    });
}

fn charts_data(criterion: &mut Criterion) {
    let (library, _) = Library::shipped();
    let job = demo::heat_pump();
    let answer = Answer::of(&job);
    let screen = Screen::of(&job, &answer, UnitSystem::InchPound, &library);
    criterion.bench_function("the chart's data, heat pump", |bench| {
        bench.iter(|| Scene::of(black_box(&screen)));
    });
}

criterion_group!(benches, charts_data, at_rest, under_the_pointer, point_dragged, change_dragged);
criterion_main!(benches);
