//! Ways between the units of ducts' sizes, lengths, faces, velocities and friction rates.

use super::{Airflow, Area, Dimension, FrictionRate, Length, M_PER_FT, M_PER_IN, PA_PER_IN_WC, Pressure, Velocity};

impl Dimension {
    /// From a number of metres.
    pub const fn from_m(value: f64) -> Self {
        Self(value / M_PER_IN)
    }

    /// As a number of metres.
    pub const fn m(self) -> f64 {
        self.0 * M_PER_IN
    }

    /// From a number of millimetres.
    pub const fn from_mm(value: f64) -> Self {
        Self(value / 25.4)
    }

    /// As a number of millimetres.
    pub const fn mm(self) -> f64 {
        self.0 * 25.4
    }

    /// From a number of feet.
    pub const fn from_ft(value: f64) -> Self {
        Self(value * 12.0)
    }
}

impl Length {
    /// From a number of metres.
    pub const fn from_m(value: f64) -> Self {
        Self(value / M_PER_FT)
    }

    /// As a number of metres.
    pub const fn m(self) -> f64 {
        self.0 * M_PER_FT
    }
}

impl Area {
    /// Of a rectangle.
    pub const fn of(width: Dimension, height: Dimension) -> Self {
        Self(width.0 * height.0)
    }

    /// From a number of square metres.
    pub const fn from_m2(value: f64) -> Self {
        Self(value / (M_PER_IN * M_PER_IN))
    }

    /// As a number of square metres.
    pub const fn m2(self) -> f64 {
        self.0 * M_PER_IN * M_PER_IN
    }

    /// From a number of square feet.
    pub const fn from_ft2(value: f64) -> Self {
        Self(value * 144.0)
    }

    /// As a number of square feet.
    pub const fn ft2(self) -> f64 {
        self.0 / 144.0
    }
}

impl Velocity {
    /// Mean velocity of an airflow through an area above zero.
    pub const fn of(airflow: Airflow, area: Area) -> Self {
        Self(airflow.0 / area.ft2())
    }

    /// From a number of metres a second.
    pub const fn from_m_s(value: f64) -> Self {
        Self(value / M_PER_FT * 60.0)
    }

    /// As a number of metres a second.
    pub const fn m_s(self) -> f64 {
        self.0 * M_PER_FT / 60.0
    }
}

impl FrictionRate {
    /// From a number of pascals a metre.
    pub const fn from_pa_m(value: f64) -> Self {
        Self(value * (100.0 * M_PER_FT) / PA_PER_IN_WC)
    }

    /// As a number of pascals a metre.
    pub const fn pa_m(self) -> f64 {
        self.0 * PA_PER_IN_WC / (100.0 * M_PER_FT)
    }

    /// What a straight duct of this rate loses along a length.
    pub const fn over(self, length: Length) -> Pressure {
        Pressure(self.0 * length.0 / 100.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn duct_quantities_convert_by_the_exact_inch() {
        assert!((Dimension::from_in(10.0).mm() - 254.0).abs() < 1e-12);
        assert!((Dimension::from_m(0.254).inches() - 10.0).abs() < 1e-12);
        assert!((Length::from_ft(100.0).m() - 30.48).abs() < 1e-12);
        assert!((Area::from_ft2(1.0).m2() - 0.092_903_04).abs() < 1e-15);
        assert!((Velocity::of(Airflow::from_cfm(400.0), Area::from_in2(288.0)).fpm() - 200.0).abs() < 1e-12);
        assert!((Velocity::from_m_s(1.0).fpm() - 196.850_393_700_787_4).abs() < 1e-9);
        let rate = FrictionRate::from_pa_m(1.0);
        assert!((rate.over(Length::from_m(3.0)).pa() - 3.0).abs() < 1e-12);
        assert!((rate.pa_m() - 1.0).abs() < 1e-12);
    }
}
