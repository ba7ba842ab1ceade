//! Duct, loss, network and return-sizing values, published or worked by a library on invented input, against the program's own functions.
//!
//! Every row of `tests/data/reference/checks.json` that belongs to a family below is checked by a named function or stands in `NOT_TOUCHED` with its reason; a row in neither, or in both, fails.

#[path = "reference/checks.rs"]
#[expect(dead_code, reason = "each test file uses a part of the shared module")]
mod checks;

use checks::{Check, Given};
use serde_json::Value;
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::{Run, Wall};
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::limits::Limits;
use tapcross::model::laws::duct::air_properties::{DuctAir, STANDARD_KINEMATIC_VISCOSITY, reynolds};
use tapcross::model::laws::duct::filter::drop_with_area;
use tapcross::model::laws::duct::fitting::{
    ABRUPT_EXIT, SHARP_ENTRANCE, coefficient_through, fitting_drop, mitred_elbow, round_bend, sharp_contraction,
    sharp_enlargement,
};
use tapcross::model::laws::duct::fitting_table::{DIE_STAMPED_ELBOW, TAKE_OFFS, fan_inlet_elbow};
use tapcross::model::laws::duct::flexible::compression_factor;
use tapcross::model::laws::duct::friction::friction;
use tapcross::model::laws::duct::leak::leakage_class;
use tapcross::model::laws::duct::opening::{face_velocity, grille_coefficient, opening_drop};
use tapcross::model::laws::duct::parallel::{airflow_at_drop, equal_exponents, in_parallel};
use tapcross::model::laws::duct::return_minimum::{ONE_RETURN, TWO_RETURNS, minimum_for};
use tapcross::model::laws::duct::run::RunDrop;
use tapcross::model::laws::duct::size::round_for_rate;
use tapcross::model::laws::duct::velocity_pressure::{velocity_of, velocity_of_one_inch, velocity_pressure};
use tapcross::model::laws::system_curve::{PowerLaw, SystemCurve};
use tapcross::units::{
    Airflow, Area, Capacity, Density, Dimension, FrictionRate, Length, PA_PER_IN_WC, Pressure, Velocity, Viscosity,
};

/// Families of rows that are answered for here.
const FAMILIES: &[&str] = &["duct", "loss", "net", "cec"];
/// Rows of another family that wait for the duct calculations.
const ALSO: &[&str] = &["sys.n_"];

type Checker = fn(&Check) -> Vec<Given>;

/// Who checks what; `*` at the end stands for anything.
const CHECKED: &[(&str, Checker)] = &[
    ("sys.n_*", local_exponent),
    ("duct.galv_*", galvanized),
    ("duct.flex_*", stretched_flexible),
    ("duct.T13_*", diameter_for_rate),
    ("duct.T13V_*", velocity_at_tabulated_size),
    ("duct.De_*", rectangular_equivalent),
    ("duct.DeIP_*", rectangular_equivalent_inches),
    ("duct.oval_*", oval_equivalent),
    ("duct.PDCF_*", compression),
    ("duct.Ex6_*", flexible_example),
    ("duct.Ex8_branch", branch_loss),
    ("duct.Ex8_*", altitude_example),
    ("loss.Vconst_*", velocity_constant),
    ("loss.VP_*", velocity_pressure_of),
    ("loss.takeoff_*", take_off),
    ("loss.stamped_elbow", elbow),
    ("loss.inlet_elbow_*", inlet_elbow),
    ("loss.VAVbox", fitted_coefficient),
    ("loss.bend90_*", smooth_bend),
    ("loss.miter90", mitre),
    ("loss.entr_sharp", entrance),
    ("loss.exit", exit),
    ("loss.contr_*", contraction),
    ("loss.diff_*", enlargement),
    ("loss.grille_*", bare_grille),
    ("loss.grdp_*", bare_grille_drop),
    ("loss.filtarea_*", filter_area),
    ("net.series", series),
    ("net.parallel_eq", equal_branches),
    ("net.split", flow_split),
    ("net.balance42", balancing),
    ("net.mixed_par", mixed_branches),
    ("net.plen_leak", leakage),
    ("cec.150B_fpm_*", grille_velocity),
    ("cec.150C_fpm_*", grille_velocity),
    ("cec.150B_*", one_return),
    ("cec.150C_*", two_returns),
    ("cec.Wcfm_045", furnace_watts),
    ("cec.Wcfm_058", air_handler_watts),
];

/// Rows that nothing here answers, each with its reason.
const NOT_TOUCHED: &[(&str, &str)] = &[
    ("loss.4005", "4005 belongs to the inch of water at 68 °F; loss.Vconst_conv is ours, 4008.55"),
    ("cec.2008_*", "defaults of a rating for what was not measured: the program takes no default for a reading"),
    ("cec.Wcfm_062", "small-duct, high-velocity systems are no kind of machine here"),
];

fn fits(pattern: &str, id: &str) -> bool {
    match pattern.strip_suffix('*') {
        Some(head) => id.starts_with(head),
        None => pattern == id,
    }
}

fn is_ours(id: &str) -> bool {
    let family = id.split('.').next().unwrap_or(id);
    FAMILIES.contains(&family) || ALSO.iter().any(|head| id.starts_with(head))
}

fn rows() -> Vec<Check> {
    checks::all().into_iter().filter(|check| is_ours(&check.id)).collect()
}

/// The first pattern that fits.
fn pattern_of(id: &str) -> Option<usize> {
    CHECKED.iter().position(|(pattern, _)| fits(pattern, id))
}

/// The function of the first pattern that fits.
fn checker(id: &str) -> Option<Checker> {
    pattern_of(id).map(|index| CHECKED[index].1)
}

#[test]
fn every_row_is_checked_or_stands_aside_with_a_reason() {
    let rows = rows();
    assert!(rows.len() >= 168, "{} rows", rows.len());
    for row in rows {
        let aside = NOT_TOUCHED.iter().any(|(pattern, _)| fits(pattern, &row.id));
        assert_ne!(checker(&row.id).is_some(), aside, "{} must be in one list, not in both or none", row.id);
    }
    for (pattern, _) in NOT_TOUCHED {
        assert!(checks::all().iter().any(|row| fits(pattern, &row.id)), "{pattern} fits no row");
    }
    for (index, (pattern, _)) in CHECKED.iter().enumerate() {
        let used = checks::all().iter().any(|row| pattern_of(&row.id) == Some(index));
        assert!(used, "{pattern} is never the first to fit");
    }
}

#[test]
fn the_program_gives_the_rows_values() {
    let mut wrong = Vec::new();
    let mut given = 0;
    for row in rows() {
        let Some(check) = checker(&row.id) else { continue };
        let values = check(&row);
        assert!(!values.is_empty(), "{} was not checked", row.id);
        given += values.len();
        for value in values.iter().filter(|value| !value.agrees()) {
            let Given { what, value, expected, tolerance } = value;
            wrong.push(format!("{} {what}: {value}, expected {expected} ± {tolerance}; {}", row.id, row.foundation()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(given > 200, "{given} values");
}

/// The tolerance of a row's n-th value, a number or a text such as "0.2 %", as an absolute figure.
fn tolerance(row: &Check, index: usize, expected: f64) -> f64 {
    let tolerance = row.tolerance();
    let one = match tolerance {
        Value::Array(each) => &each[index],
        one => one,
    };
    match one {
        Value::String(text) => {
            let percent = text.strip_suffix('%').unwrap_or_else(|| panic!("{}: tolerance {text}", row.id));
            percent.trim().parse::<f64>().expect("a percentage") / 100.0 * expected.abs()
        }
        number => number.as_f64().unwrap_or_else(|| panic!("{}: tolerance {number}", row.id)),
    }
}

/// Sets values against a row's, whose tolerances may be percentages.
fn against(row: &Check, values: &[f64]) -> Vec<Given> {
    let right = row.values();
    assert_eq!(right.len(), values.len(), "{}: the row has {} values", row.id, right.len());
    let pairs = values.iter().zip(right).enumerate();
    pairs
        .map(|(index, (&value, expected))| Given {
            what: format!("value {index}"),
            value,
            expected,
            tolerance: tolerance(row, index, expected),
        })
        .collect()
}

fn inches(row: &Check, name: &str) -> Dimension {
    Dimension::from_in(row.input(name))
}

fn millimetres(row: &Check, name: &str) -> Dimension {
    Dimension::from_mm(row.input(name))
}

/// Air of a density in kg/m³ and a kinematic viscosity in m²/s.
fn air_of(density: f64, kinematic: f64) -> DuctAir {
    let viscosity = Viscosity::from_pa_s(density * kinematic);
    DuctAir::new(Density::from_kg_m3(density), viscosity).expect("air of a published example")
}

fn lost(section: Section, length: Length, wall: Wall, airflow: Airflow, air: DuctAir) -> RunDrop {
    Run::straight(section, length, wall).drop_at(airflow, air).expect("a published duct")
}

fn local_exponent(row: &Check) -> Vec<Given> {
    let section = Section::round(inches(row, "D_in"));
    let velocity = section.velocity(Airflow::from_cfm(row.input("cfm")));
    let roughness = Dimension::from_ft(row.input("eps_ft"));
    let air = air_of(1.2, row.input("nu_m2s"));
    let here = friction(reynolds(inches(row, "D_in"), velocity, air), roughness / inches(row, "D_in"));
    against(row, &[here.exponent()])
}

fn galvanized(row: &Check) -> Vec<Given> {
    let (section, airflow) = (Section::round(inches(row, "D_in")), Airflow::from_cfm(row.input("cfm")));
    let air = DuctAir::new(
        Density::from_lb_ft3(row.input("rho_lbft3")),
        Viscosity::from_pa_s(Density::from_lb_ft3(row.input("rho_lbft3")).kg_m3() * row.input("nu_m2s")),
    )
    .expect("air");
    let roughness = Dimension::from_ft(row.input("eps_ft"));
    let drop = lost(section, Length::from_ft(100.0), Wall::Stiff(roughness), airflow, air);
    let number = reynolds(inches(row, "D_in"), section.velocity(airflow), air);
    let factor = friction(number, roughness / inches(row, "D_in")).factor;
    against(row, &[drop.total().in_wc(), section.velocity(airflow).fpm(), number, factor])
}

fn stretched_flexible(row: &Check) -> Vec<Given> {
    assert!(
        (Material::Flexible.roughness().mm() - row.input("eps_mm")).abs() < 0.02,
        "the source rounds 0.003 ft to 0.9 mm"
    );
    let section = Section::round(inches(row, "D_in"));
    let wall = Wall::Stiff(millimetres(row, "eps_mm"));
    let drop = lost(section, Length::from_ft(100.0), wall, Airflow::from_cfm(row.input("cfm")), DuctAir::STANDARD);
    against(row, &[drop.total().in_wc()])
}

/// Table 13 prints even millimetres, rounded down; its own words are the tolerance.
fn diameter_for_rate(row: &Check) -> Vec<Given> {
    let air = air_of(row.input("rho"), STANDARD_KINEMATIC_VISCOSITY);
    let rate = FrictionRate::from_pa_m(row.input("Pa_m"));
    let wall = Wall::Stiff(millimetres(row, "eps_mm"));
    let diameter = round_for_rate(Airflow::from_lps(row.input("Q_Ls")), rate, wall, air).expect("a diameter").mm();
    let (low, high) = (row.expected() * 0.999, row.expected() * 1.009);
    let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
    vec![Given { what: "diameter, mm".to_owned(), value: diameter, expected: middle, tolerance: half }]
}

/// The table's velocity goes with its size, which is rounded down to even millimetres; not every size is among the rows.
fn velocity_at_tabulated_size(row: &Check) -> Vec<Given> {
    let airflow = Airflow::from_lps(row.input("Q_Ls"));
    let air = air_of(1.204, STANDARD_KINEMATIC_VISCOSITY);
    let wall = Wall::Stiff(Dimension::from_mm(0.12));
    let exact = round_for_rate(airflow, FrictionRate::from_pa_m(row.input("Pa_m")), wall, air).expect("a diameter");
    let tabulated = Dimension::from_mm((exact.mm() / 2.0).floor() * 2.0);
    against(row, &[Section::round(tabulated).velocity(airflow).m_s()])
}

fn rectangular_equivalent(row: &Check) -> Vec<Given> {
    let section = Section::rectangular(millimetres(row, "a_mm"), millimetres(row, "b_mm"));
    against(row, &[section.equivalent_diameter().mm()])
}

fn rectangular_equivalent_inches(row: &Check) -> Vec<Given> {
    let section = Section::rectangular(inches(row, "a_in"), inches(row, "b_in"));
    against(row, &[section.equivalent_diameter().inches()])
}

fn oval_equivalent(row: &Check) -> Vec<Given> {
    let section = Section::flat_oval(millimetres(row, "major_mm"), millimetres(row, "minor_mm"));
    against(row, &[section.equivalent_diameter().mm()])
}

fn compression(row: &Check) -> Vec<Given> {
    let factor = compression_factor(inches(row, "D_in"), row.input("K_c_pct") / 100.0).expect("in range");
    against(row, &[factor])
}

fn flexible_example(row: &Check) -> Vec<Given> {
    let air = air_of(row.input("rho"), STANDARD_KINEMATIC_VISCOSITY);
    let section = Section::round(millimetres(row, "D_mm"));
    let wall = match row.raw("compression_pct").as_f64() {
        Some(percent) => Wall::Flexible { compression: percent / 100.0 },
        None => Wall::Stiff(millimetres(row, "eps_mm")),
    };
    let drop = lost(section, Length::from_m(row.input("L_m")), wall, Airflow::from_lps(row.input("Q_Ls")), air);
    against(row, &[drop.total().pa()])
}

fn branch_loss(row: &Check) -> Vec<Given> {
    let air = DuctAir::STANDARD;
    let velocity = velocity_of(Pressure::from_pa(row.input("pv_Pa")), air);
    against(row, &[fitting_drop(row.input("C"), velocity, air).expect("in range").pa()])
}

fn altitude_example(row: &Check) -> Vec<Given> {
    let air = air_of(row.input("rho"), row.input("nu"));
    let (section, airflow) = (Section::round(millimetres(row, "D_mm")), Airflow::from_lps(row.input("Q_Ls")));
    let wall = Wall::Stiff(millimetres(row, "eps_mm"));
    let drop = lost(section, Length::from_m(row.input("L_m")), wall, airflow, air);
    against(row, &[drop.total().pa(), velocity_pressure(section.velocity(airflow), air).pa()])
}

/// The program's constant, brought to the row's inch of water.
fn velocity_constant(row: &Check) -> Vec<Given> {
    let air = DuctAir::new(Density::from_lb_ft3(row.input("rho_lbft3")), DuctAir::STANDARD.viscosity()).expect("air");
    let inch = (row.input("Pa_per_inwc") / PA_PER_IN_WC).sqrt();
    against(row, &[velocity_of_one_inch(air).fpm() * inch])
}

/// How many of the rows' inches of water (the ones for which 4005 holds) are in one of the program's.
fn rows_inches(air: DuctAir) -> f64 {
    (velocity_of_one_inch(air).fpm() / 4005.0).powi(2)
}

/// The rows ask for 1e-9 but are printed to seven digits, two of them to eight decimals only.
const EIGHT_DECIMALS: f64 = 5e-9;

fn velocity_pressure_of(row: &Check) -> Vec<Given> {
    let air = DuctAir::STANDARD;
    let ours = velocity_pressure(Velocity::from_fpm(row.input("V_fpm")), air).in_wc();
    let given = against(row, &[ours * rows_inches(air)]).into_iter();
    given.map(|one| Given { tolerance: one.tolerance.max(EIGHT_DECIMALS), ..one }).collect()
}

fn take_off(row: &Check) -> Vec<Given> {
    let name = match row.id.as_str() {
        "loss.takeoff_wye_cone" => "45° wye, conical branch tapered into the body",
        "loss.takeoff_tee_45" => "Tee with 45° entry branch",
        "loss.takeoff_wye" => "45° wye",
        "loss.takeoff_tee_cone" => "Tee with conical branch tapered into the body",
        "loss.takeoff_tee" => "Plain tee",
        other => panic!("no take-off {other}"),
    };
    let fitting = TAKE_OFFS.iter().find(|fitting| fitting.name == name).expect("the take-off is in the table");
    against(row, &[fitting.main, fitting.branch])
}

fn furnace_watts(row: &Check) -> Vec<Given> {
    against(row, &[Limits::default().furnace_watts_per_cfm])
}

fn air_handler_watts(row: &Check) -> Vec<Given> {
    against(row, &[Limits::default().watts_per_cfm])
}

fn elbow(row: &Check) -> Vec<Given> {
    against(row, &[DIE_STAMPED_ELBOW])
}

fn inlet_elbow(row: &Check) -> Vec<Given> {
    let at = |length: f64| fan_inlet_elbow(row.input("r/D"), length).expect("in range");
    against(row, &row.list("L/D").into_iter().map(at).collect::<Vec<_>>())
}

fn fitted_coefficient(row: &Check) -> Vec<Given> {
    let pascals = |name| row.list(name).into_iter().map(Pressure::from_pa);
    let pairs: Vec<_> = pascals("p_v_in").zip(pascals("dp_t")).collect();
    let value = coefficient_through(&pairs).expect("pairs");
    let stated = Given { what: "as the text states".to_owned(), value, expected: 1.67, tolerance: 0.01 };
    let exact = Given { what: "to the row's digits".to_owned(), value, expected: row.expected(), tolerance: 5e-4 };
    vec![stated, exact]
}

fn smooth_bend(row: &Check) -> Vec<Given> {
    let relative = Material::Galvanized.roughness() / inches(row, "D_in");
    let factor = friction(row.input("Re"), relative).factor;
    against(row, &[round_bend(90.0, row.input("r/D"), factor).expect("in range")])
}

fn mitre(row: &Check) -> Vec<Given> {
    against(row, &[mitred_elbow(row.input("angle")).expect("in range")])
}

fn entrance(row: &Check) -> Vec<Given> {
    against(row, &[SHARP_ENTRANCE])
}

fn exit(row: &Check) -> Vec<Given> {
    against(row, &[ABRUPT_EXIT])
}

fn contraction(row: &Check) -> Vec<Given> {
    against(row, &[sharp_contraction(row.input("D2/D1")).expect("in range")])
}

fn enlargement(row: &Check) -> Vec<Given> {
    against(row, &[sharp_enlargement(row.input("D1/D2")).expect("in range")])
}

fn bare_grille(row: &Check) -> Vec<Given> {
    against(row, &[grille_coefficient(row.input("free_area_ratio")).expect("in range")])
}

fn bare_grille_drop(row: &Check) -> Vec<Given> {
    let air = DuctAir::STANDARD;
    let coefficient = grille_coefficient(row.input("free")).expect("in range");
    let face = Area::from_in2(row.input("face_in2"));
    let drop = opening_drop(Airflow::from_cfm(row.input("cfm")), face, coefficient, air).expect("in range");
    against(row, &[drop.in_wc() * rows_inches(air)])
}

fn filter_area(row: &Check) -> Vec<Given> {
    let area = |name| Area::from_in2(row.input(name));
    let drop = drop_with_area(Pressure::from_in_wc(row.input("dP1")), area("A1"), area("A2"), row.input("n"));
    against(row, &[drop.expect("in range").in_wc()])
}

/// Square laws of a row's coefficients.
fn squares(row: &Check) -> Vec<PowerLaw> {
    row.list("K").into_iter().map(|coefficient| PowerLaw { coefficient, exponent: 2.0 }).collect()
}

fn series(row: &Check) -> Vec<Given> {
    let mut curve = SystemCurve::default();
    for law in squares(row) {
        curve.add_law(law);
    }
    against(row, &[curve.drop_at(Airflow::from_cfm(1000.0)).in_wc() / 1e6])
}

fn equal_branches(row: &Check) -> Vec<Given> {
    against(row, &[equal_exponents(&row.list("K"), 2.0).expect("in range").coefficient])
}

fn flow_split(row: &Check) -> Vec<Given> {
    let laws = squares(row);
    let flow = in_parallel(&[&laws[0], &laws[1]], Airflow::from_cfm(row.input("Q"))).expect("sound");
    against(row, &flow.flows.iter().map(|flow| flow.cfm()).collect::<Vec<_>>())
}

fn balancing(row: &Check) -> Vec<Given> {
    let pascals = |name| Pressure::from_pa(row.input(name));
    let flow = airflow_at_drop(Airflow::from_lps(row.input("Q")), pascals("Pl"), pascals("Ph"), 2.0);
    against(row, &[flow.expect("in range").lps()])
}

fn mixed_branches(row: &Check) -> Vec<Given> {
    let law = |name| PowerLaw { coefficient: row.list(name)[0], exponent: row.list(name)[1] };
    let flow = in_parallel(&[&law("branch1"), &law("branch2")], Airflow::from_cfm(row.input("Q")));
    against(row, &[flow.expect("sound").drop.in_wc()])
}

fn leakage(row: &Check) -> Vec<Given> {
    let surface = Area::from_m2(1.0);
    let airflow = Airflow::from_lps(row.input("Q_per_A"));
    let pressure = Pressure::from_pa(row.input("dP_Pa"));
    against(row, &[leakage_class(row.input("frac_pct") / 100.0, airflow, surface, pressure).expect("in range")])
}

fn grille_velocity(row: &Check) -> Vec<Given> {
    let airflow = Airflow::from_cfm(row.input("tons") * row.input("cfm_per_ton"));
    let velocity = face_velocity(airflow, Area::from_in2(row.input("grille_in2"))).expect("in range");
    against(row, &[velocity.fpm()])
}

fn one_return(row: &Check) -> Vec<Given> {
    return_row(row, &ONE_RETURN)
}

fn two_returns(row: &Check) -> Vec<Given> {
    return_row(row, &TWO_RETURNS)
}

fn return_row(row: &Check, table: &[tapcross::model::laws::duct::return_minimum::ReturnMinimum]) -> Vec<Given> {
    let found = minimum_for(table, Capacity::from_tons(row.input("tons"))).expect("in range").expect("a row");
    let mut values: Vec<f64> = found.ducts.iter().map(|duct| duct.inches()).collect();
    values.push(found.grille.in2());
    against(row, &values)
}
