//! The rows of check values, published ones and reference ones (invented input, worked by a general-purpose library), as `tests/data/reference/checks.json` holds them.

use serde_json::Value;
use tapcross::model::facts::blower::{Cell, MotorFamily, Row, Tap, TapData};
use tapcross::model::laws::tap_curve::{TapCurve, TapShape, shape_of};
use tapcross::units::{Airflow, Power, Pressure};

const TEXT: &str = include_str!("../data/reference/checks.json");

/// One check value with where it comes from.
#[derive(Clone, Debug)]
pub(crate) struct Check {
    pub(crate) id: String,
    row: Value,
}

/// What the program gave for one of a row's values.
#[derive(Clone, Debug)]
pub(crate) struct Given {
    pub(crate) what: String,
    pub(crate) value: f64,
    pub(crate) expected: f64,
    pub(crate) tolerance: f64,
}

impl Given {
    pub(crate) fn agrees(&self) -> bool {
        // A row's tolerance of zero means to the rounding of doubles.
        let rounding = 1e-14 * self.expected.abs();
        (self.value - self.expected).abs() <= self.tolerance.max(rounding)
    }
}

/// Every row of the file.
pub(crate) fn all() -> Vec<Check> {
    let file: Value = serde_json::from_str(TEXT).expect("checks.json is JSON");
    let rows = file["rows"].as_array().expect("checks.json has rows");
    rows.iter()
        .map(|row| Check { id: row["id"].as_str().expect("a row has an id").to_owned(), row: row.clone() })
        .collect()
}

/// The row of an id.
pub(crate) fn of(id: &str) -> Check {
    all().into_iter().find(|check| check.id == id).unwrap_or_else(|| panic!("checks.json has no row {id}"))
}

impl Check {
    /// A number among the row's inputs.
    pub(crate) fn input(&self, name: &str) -> f64 {
        number(&self.row["inputs"][name], &format!("{}: input {name}", self.id))
    }

    /// Any input.
    pub(crate) fn raw(&self, name: &str) -> &Value {
        &self.row["inputs"][name]
    }

    /// A list of numbers among the row's inputs.
    pub(crate) fn list(&self, name: &str) -> Vec<f64> {
        let items = self.raw(name).as_array().unwrap_or_else(|| panic!("{}: no list {name}", self.id));
        items.iter().map(|item| number(item, &self.id)).collect()
    }

    /// The value of a row that has one.
    pub(crate) fn expected(&self) -> f64 {
        number(&self.row["expected"], &self.id)
    }

    /// One of the values of a row that has several.
    pub(crate) fn expected_at(&self, index: usize) -> f64 {
        number(&self.row["expected"][index], &self.id)
    }

    /// The row's tolerance as it stands: a number, a text or a list of them.
    pub(crate) fn tolerance(&self) -> &Value {
        &self.row["tol"]
    }

    /// Every value of the row.
    pub(crate) fn values(&self) -> Vec<f64> {
        match &self.row["expected"] {
            Value::Array(each) => each.iter().map(|value| number(value, &self.id)).collect(),
            one => vec![number(one, &self.id)],
        }
    }

    /// Sets what the program gives against the row's only value.
    pub(crate) fn one(&self, value: f64) -> Vec<Given> {
        let tolerance = number(&self.row["tol"], &self.id);
        vec![Given { what: self.quantity(), value, expected: self.expected(), tolerance }]
    }

    /// Sets what the program gives against the row's values in order; fewer than the row has is an error.
    pub(crate) fn each(&self, values: &[f64]) -> Vec<Given> {
        let count = self.row["expected"].as_array().map_or(1, Vec::len);
        assert_eq!(count, values.len(), "{}: the row has {count} values", self.id);
        values.iter().enumerate().map(|(index, value)| self.nth(index, *value)).collect()
    }

    /// Sets what the program gives against one of the row's several values.
    pub(crate) fn nth(&self, index: usize, value: f64) -> Given {
        let tolerance = match &self.row["tol"] {
            Value::Array(each) => number(&each[index], &self.id),
            one => number(one, &self.id),
        };
        Given { what: format!("{} [{index}]", self.quantity()), value, expected: self.expected_at(index), tolerance }
    }

    fn quantity(&self) -> String {
        self.word("quantity")
    }

    fn word(&self, name: &str) -> String {
        self.row[name].as_str().unwrap_or_default().to_owned()
    }

    /// Where the value comes from and how well it is founded, for messages.
    pub(crate) fn foundation(&self) -> String {
        let verified = self.word("verified");
        let warning =
            if verified.contains("from memory") { "FROM MEMORY, not held against its document; " } else { "" };
        format!("{warning}source: {}; verified: {verified}", self.word("source"))
    }
}

fn number(value: &Value, place: &str) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{place} is not a number: {value}"))
}

/// Points of one of the invented tables A to D: ESP in in. w.c. and airflow in cfm.
pub(crate) fn table_points(letter: &str) -> Vec<(f64, f64)> {
    let holds = |check: &Check| {
        check.id.starts_with("pchip.") && check.raw("table") == letter && check.raw("x_inwc").is_array()
    };
    let row = all().into_iter().find(holds).unwrap_or_else(|| panic!("no table {letter}"));
    row.list("x_inwc").into_iter().zip(row.list("y_cfm")).collect()
}

/// The motor family that an invented table is taken for.
pub(crate) fn table_family(letter: &str) -> MotorFamily {
    match letter {
        "C" => MotorFamily::ConstantAirflow,
        _ => MotorFamily::PermanentSplitCapacitor,
    }
}

/// A tap whose column holds these points of ESP, airflow and, where given, watts.
pub(crate) fn tap_of(points: impl IntoIterator<Item = (f64, f64, Option<f64>)>) -> Tap {
    let row = |(esp, cfm, watts): (f64, f64, Option<f64>)| Row {
        esp: Pressure::from_in_wc(esp),
        cell: Cell::Airflow(Airflow::from_cfm(cfm), None),
        power: watts.map(Power::from_watts),
        speed: None,
    };
    Tap { name: "1".to_owned(), data: TapData::Column(points.into_iter().map(row).collect()) }
}

/// The curve of a tap that must have one.
pub(crate) fn curve_of(tap: &Tap, family: MotorFamily) -> TapCurve {
    match shape_of(tap, family) {
        TapShape::Curve(curve) => *curve,
        other => panic!("a curve was expected, not {other:?}"),
    }
}

/// The curve through points of ESP and airflow.
pub(crate) fn curve_through(points: &[(f64, f64)], family: MotorFamily) -> TapCurve {
    curve_of(&tap_of(points.iter().map(|&(esp, cfm)| (esp, cfm, None))), family)
}

/// One of the US DOE motor-family fits, `Q = Q0 + a·p + b·p²` and `W/cfm = e0 + c·p + d·p²`, anchored at 1,200 cfm and 0.5 in. w.c., three tons.
#[derive(Clone, Debug)]
pub(crate) struct MotorFit {
    pub(crate) name: String,
    pub(crate) family: MotorFamily,
    a: f64,
    b: f64,
    e: [f64; 3],
}

impl MotorFit {
    /// The fit of a `motor.*_coef` row's name, such as `PSC_base`.
    pub(crate) fn named(name: &str) -> Self {
        let row = of(&format!("motor.{name}_coef"));
        let family = match name.split('_').next() {
            Some("PSC") => MotorFamily::PermanentSplitCapacitor,
            Some("CT") => MotorFamily::ConstantTorque,
            Some("CA") => MotorFamily::ConstantAirflow,
            _ => panic!("{name}: no such motor family"),
        };
        // The second of the four capacities is three tons.
        let e = [row.list("e0_2_3_4_5ton")[1], row.input("c"), row.input("d")];
        Self { name: name.to_owned(), family, a: row.input("a"), b: row.input("b"), e }
    }

    /// Every fit that the file has.
    pub(crate) fn every() -> Vec<Self> {
        let names = all()
            .into_iter()
            .filter_map(|check| Some(check.id.strip_prefix("motor.")?.strip_suffix("_coef")?.to_owned()));
        names.map(|name| Self::named(&name)).collect()
    }

    /// Airflow in cfm at an ESP in in. w.c.
    pub(crate) fn cfm(&self, p: f64) -> f64 {
        let at = |p: f64| p * (self.a + self.b * p);
        1200.0 - at(0.5) + at(p)
    }

    /// Electric power in watts at an ESP in in. w.c.
    pub(crate) fn watts(&self, p: f64) -> f64 {
        self.cfm(p) * (self.e[0] + p * (self.e[1] + p * self.e[2]))
    }

    /// The tap with a row every `step` in. w.c. from 0.1 to 1.2.
    pub(crate) fn tap(&self, step: f64) -> Tap {
        tap_of(Self::esps(step).into_iter().map(|p| (p, self.cfm(p), Some(self.watts(p)))))
    }

    /// The rows' ESPs.
    pub(crate) fn esps(step: f64) -> Vec<f64> {
        (0..=1000).map(|index| 0.1 + f64::from(index) * step).take_while(|esp| *esp < 1.2 + step / 2.0).collect()
    }
}
