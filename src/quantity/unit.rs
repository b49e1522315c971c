//! Units and what kind of quantity they measure.

use std::f64::consts::PI;

/// The kind of a quantity: quantities of one kind can be compared and changed into each other's units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// Millimetres, inches.
    Length,
    /// Degrees.
    Angle,
    /// Millimetres per revolution.
    FeedPerRevolution,
    /// Millimetres per minute.
    Speed,
    /// Revolutions per minute.
    TurningSpeed,
    /// Millimetres per second squared.
    Acceleration,
    /// Newtons.
    Force,
    /// Newton metres.
    Torque,
    /// Megapascals.
    Stress,
    /// Kilowatts.
    Power,
    /// Seconds.
    Time,
    /// Degrees Celsius.
    Temperature,
    /// Kelvins.
    TemperatureDifference,
    /// Micrometres per metre and kelvin.
    Expansion,
    /// Kilograms.
    Mass,
    /// Joules per kilogram and kelvin.
    SpecificHeat,
    /// Watts per square metre and kelvin.
    HeatTransfer,
    /// Square metres.
    Area,
    /// Litres.
    Volume,
    /// Millimetres per metre.
    Slope,
    /// Millimetres per piece.
    Drift,
    /// Percent.
    Percent,
    /// A plain number.
    Ratio,
}

impl Dimension {
    /// Names the kind for a person: "length", "angle".
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Angle => "angle",
            Self::FeedPerRevolution => "feed per revolution",
            Self::Speed => "speed",
            Self::TurningSpeed => "turning speed",
            Self::Acceleration => "acceleration",
            Self::Force => "force",
            Self::Torque => "torque",
            Self::Stress => "stress",
            Self::Power => "power",
            Self::Time => "time",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature difference",
            Self::Expansion => "expansion",
            Self::Mass => "mass",
            Self::SpecificHeat => "specific heat",
            Self::HeatTransfer => "heat transfer",
            Self::Area => "area",
            Self::Volume => "volume",
            Self::Slope => "slope",
            Self::Drift => "drift",
            Self::Percent => "percent",
            Self::Ratio => "ratio",
        }
    }
}

static PLAIN_NUMBER: Unit = Unit::times("1", Dimension::Ratio, 1.0);

impl Dimension {
    /// Returns the unit in which quantities of this kind are kept and calculated with.
    pub fn base_unit(self) -> &'static Unit {
        UNITS.iter().find(|unit| unit.dimension == self).unwrap_or(&PLAIN_NUMBER)
    }
}

/// A unit: its name as people write it, its kind, and how to change a value into the base unit of the kind.
///
/// base value = (value − `offset`) × `factor` ÷ `divisor`. The division is kept apart so that 1/60 and 1/1.8 are exact.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// The name, whose case counts: "mm", "thou", "N m".
    pub name: &'static str,
    /// What the unit measures.
    pub dimension: Dimension,
    factor: f64,
    divisor: f64,
    offset: f64,
}

impl Unit {
    const fn times(name: &'static str, dimension: Dimension, factor: f64) -> Self {
        Self { name, dimension, factor, divisor: 1.0, offset: 0.0 }
    }

    const fn over(name: &'static str, dimension: Dimension, factor: f64, divisor: f64) -> Self {
        Self { name, dimension, factor, divisor, offset: 0.0 }
    }

    /// Finds a unit of one kind by its name, case counting.
    pub fn of(dimension: Dimension, name: &str) -> Option<&'static Self> {
        UNITS.iter().find(|unit| unit.dimension == dimension && unit.name == name)
    }

    /// Finds the first unit with this name, whatever it measures ("degC" is found as a temperature).
    pub fn named(name: &str) -> Option<&'static Self> {
        UNITS.iter().find(|unit| unit.name == name)
    }

    /// Returns the whole number of picometres in a unit of length, and `None` for every other unit.
    pub fn picometres(&self) -> Option<i64> {
        match (self.dimension, self.name) {
            (Dimension::Length, "mm") => Some(1_000_000_000),
            (Dimension::Length, "um") => Some(1_000_000),
            (Dimension::Length, "m") => Some(1_000_000_000_000),
            (Dimension::Length, "in") => Some(25_400_000_000),
            (Dimension::Length, "thou") => Some(25_400_000),
            _ => None,
        }
    }

    /// Changes a value in this unit into the base unit of its kind (mm, deg, mm/min, N, N m, `MPa`, ...).
    pub fn to_base(&self, value: f64) -> f64 {
        (value - self.offset) * self.factor / self.divisor
    }

    /// Changes a value in the base unit of the kind into this unit.
    pub fn from_base(&self, base: f64) -> f64 {
        base * self.divisor / self.factor + self.offset
    }
}

/// Every unit that a number may carry. The factors follow from 25.4 mm to the inch, 0.45359237 kg to the pound and
/// 9.80665 m/s², all exact by definition. The first unit of a kind is its base unit.
pub static UNITS: &[Unit] = &[
    Unit::times("mm", Dimension::Length, 1.0),
    Unit::times("um", Dimension::Length, 0.001),
    Unit::times("m", Dimension::Length, 1000.0),
    Unit::times("in", Dimension::Length, 25.4),
    Unit::times("thou", Dimension::Length, 0.0254),
    Unit::times("deg", Dimension::Angle, 1.0),
    Unit::over("arcmin", Dimension::Angle, 1.0, 60.0),
    Unit::over("arcsec", Dimension::Angle, 1.0, 3600.0),
    Unit::over("rad", Dimension::Angle, 180.0, PI),
    Unit::over("mrad", Dimension::Angle, 0.18, PI),
    Unit::times("mm/rev", Dimension::FeedPerRevolution, 1.0),
    Unit::times("in/rev", Dimension::FeedPerRevolution, 25.4),
    Unit::times("mm/min", Dimension::Speed, 1.0),
    Unit::times("m/min", Dimension::Speed, 1000.0),
    Unit::times("mm/s", Dimension::Speed, 60.0),
    Unit::times("in/min", Dimension::Speed, 25.4),
    Unit::times("ft/min", Dimension::Speed, 304.8),
    Unit::times("rpm", Dimension::TurningSpeed, 1.0),
    Unit::times("mm/s2", Dimension::Acceleration, 1.0),
    Unit::times("m/s2", Dimension::Acceleration, 1000.0),
    Unit::times("in/s2", Dimension::Acceleration, 25.4),
    Unit::times("N", Dimension::Force, 1.0),
    Unit::times("kN", Dimension::Force, 1000.0),
    Unit::times("lbf", Dimension::Force, 4.448_221_615_260_5),
    Unit::times("N m", Dimension::Torque, 1.0),
    Unit::times("lbf in", Dimension::Torque, 0.112_984_829_027_616_7),
    Unit::times("lbf ft", Dimension::Torque, 1.355_817_948_331_400_3),
    Unit::times("MPa", Dimension::Stress, 1.0),
    Unit::times("GPa", Dimension::Stress, 1000.0),
    Unit::times("psi", Dimension::Stress, 0.006_894_757_293_168_361),
    Unit::times("ksi", Dimension::Stress, 6.894_757_293_168_361),
    Unit::times("kW", Dimension::Power, 1.0),
    Unit::times("W", Dimension::Power, 0.001),
    Unit::times("hp", Dimension::Power, 0.745_699_871_582_270_2),
    Unit::times("s", Dimension::Time, 1.0),
    Unit::times("min", Dimension::Time, 60.0),
    Unit::times("h", Dimension::Time, 3600.0),
    Unit::times("degC", Dimension::Temperature, 1.0),
    Unit { name: "degF", dimension: Dimension::Temperature, factor: 1.0, divisor: 1.8, offset: 32.0 },
    Unit::times("K", Dimension::TemperatureDifference, 1.0),
    Unit::times("degC", Dimension::TemperatureDifference, 1.0),
    Unit::over("degF", Dimension::TemperatureDifference, 1.0, 1.8),
    Unit::times("um/(m K)", Dimension::Expansion, 1.0),
    Unit::times("1/K", Dimension::Expansion, 1_000_000.0),
    Unit::times("uin/(in degF)", Dimension::Expansion, 1.8),
    Unit::times("kg", Dimension::Mass, 1.0),
    Unit::times("g", Dimension::Mass, 0.001),
    Unit::times("lb", Dimension::Mass, 0.453_592_37),
    Unit::times("J/(kg K)", Dimension::SpecificHeat, 1.0),
    Unit::times("W/(m2 K)", Dimension::HeatTransfer, 1.0),
    Unit::times("m2", Dimension::Area, 1.0),
    Unit::times("cm2", Dimension::Area, 0.0001),
    Unit::times("mm2", Dimension::Area, 1e-6),
    Unit::times("L", Dimension::Volume, 1.0),
    Unit::times("mm/m", Dimension::Slope, 1.0),
    Unit::times("um/m", Dimension::Slope, 0.001),
    Unit::times("mm/piece", Dimension::Drift, 1.0),
    Unit::times("%", Dimension::Percent, 1.0),
    Unit::times("1", Dimension::Ratio, 1.0),
];

#[cfg(test)]
mod tests {
    use super::*;

    /// 25.4 mm to the inch, exact (NIST SP 811, appendix B.8); 1 thou is a thousandth of it by name.
    #[test]
    fn every_unit_of_length_is_a_whole_number_of_picometres() {
        for unit in UNITS.iter().filter(|unit| unit.dimension == Dimension::Length) {
            let picometres = unit.picometres().unwrap();
            #[expect(clippy::cast_precision_loss, reason = "below 2^53")]
            let millimetres = picometres as f64 / 1e9;
            assert!((millimetres - unit.to_base(1.0)).abs() < 1e-15 * millimetres, "{}", unit.name);
        }
        assert_eq!(Unit::of(Dimension::Length, "in").unwrap().picometres(), Some(25_400_000_000));
        assert_eq!(Unit::of(Dimension::Angle, "deg").unwrap().picometres(), None);
    }

    /// Fixed points of the two temperature scales (NIST SP 811, appendix B.8): 32 degF = 0 degC, 212 degF = 100 degC.
    #[test]
    fn temperatures_and_their_differences_are_told_apart() {
        let fahrenheit = Unit::of(Dimension::Temperature, "degF").unwrap();
        assert!(fahrenheit.to_base(32.0).abs() < 1e-12);
        assert!((fahrenheit.to_base(212.0) - 100.0).abs() < 1e-12);
        assert!((fahrenheit.from_base(100.0) - 212.0).abs() < 1e-12);
        let difference = Unit::of(Dimension::TemperatureDifference, "degF").unwrap();
        assert!((difference.to_base(1.8) - 1.0).abs() < 1e-12);
    }
}
