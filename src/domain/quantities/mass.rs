//! Loads and their units.
//!
//! A [`Mass`] is a whole number of tenths of a microgram: the avoirdupois pound is then
//! 4,535,923,700 of them exactly, and so is a quarter of a pound, so kilograms and pounds can be
//! mixed for years without drift. Units exist only where a number is read or shown.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, Neg, Sub};

/// Tenths of a microgram in one kilogram.
const PER_KG: i64 = 10_000_000_000;
/// Tenths of a microgram in one pound: 0.45359237 kg exactly.
/// Source: NIST SP 811, appendix B (the 1959 agreement).
const PER_LB: i64 = 4_535_923_700;
/// The same in a plate of a stack, whose weight nobody told. Common practice, no source: 5 kg or 10 lb.
const PER_PIN: i64 = 5 * PER_KG;
/// The last plate of a tall stack. Common practice, no source.
pub const LAST_PIN: u8 = 40;

/// The unit a load is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Kilogram.
    Kg,
    /// Avoirdupois pound.
    Lb,
    /// A place on a machine's stack, counted from its lightest plate.
    Pin,
}

impl Unit {
    /// The unit's symbol: `kg`, `lb` or `pin`.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Kg => "kg",
            Self::Lb => "lb",
            Self::Pin => "pin",
        }
    }

    /// The unit with this symbol.
    pub fn from_symbol(symbol: &str) -> Option<Self> {
        match symbol {
            "kg" => Some(Self::Kg),
            "lb" => Some(Self::Lb),
            "pin" => Some(Self::Pin),
            _ => None,
        }
    }

    /// An amount in it, as lifters say it: `80 kg`, `pin 8`.
    pub fn with(self, amount: impl fmt::Display) -> String {
        match self {
            Self::Pin => format!("{self} {amount}"),
            _ => format!("{amount} {self}"),
        }
    }

    const fn size(self) -> i64 {
        match self {
            Self::Kg => PER_KG,
            Self::Lb => PER_LB,
            Self::Pin => PER_PIN,
        }
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

/// Why a number is no mass.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum MassError {
    /// Not a finite number.
    #[error("a load must be a number")]
    NotFinite,
    /// Beyond what is ever lifted or stored; the value is in the unit given.
    #[error("a load of {0} is outside ±100,000 kg")]
    OutOfRange(f64),
}

/// A mass, in whole tenths of a microgram. May be negative: a difference, or help taken off.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Mass(i64);

impl Mass {
    /// No mass.
    pub const ZERO: Self = Self(0);
    /// The largest mass taken, either way: 100 t, far past any load, well inside the integer.
    const LIMIT: i64 = 100_000 * PER_KG;

    /// The mass of `amount` units, to the nearest tenth of a microgram.
    ///
    /// # Errors
    /// [`MassError`] when `amount` is not finite or beyond ±100,000 kg.
    pub fn new(amount: f64, unit: Unit) -> Result<Self, MassError> {
        if !amount.is_finite() {
            return Err(MassError::NotFinite);
        }
        #[expect(clippy::cast_precision_loss, reason = "both are far under 2^53")]
        let tenths = (amount * unit.size() as f64).round();
        #[expect(clippy::cast_precision_loss, reason = "10^15 is under 2^53")]
        if tenths.abs() > Self::LIMIT as f64 {
            return Err(MassError::OutOfRange(amount));
        }
        #[expect(clippy::cast_possible_truncation, reason = "bounded just above")]
        Ok(Self(tenths as i64))
    }

    /// The mass of `kg` kilograms; see [`Mass::new`].
    ///
    /// # Errors
    /// As [`Mass::new`].
    pub fn from_kg(kg: f64) -> Result<Self, MassError> {
        Self::new(kg, Unit::Kg)
    }

    /// The mass of `lb` pounds; see [`Mass::new`].
    ///
    /// # Errors
    /// As [`Mass::new`].
    pub fn from_lb(lb: f64) -> Result<Self, MassError> {
        Self::new(lb, Unit::Lb)
    }

    /// The mass of a whole number of grams.
    pub const fn from_grams(grams: i32) -> Self {
        Self(grams as i64 * (PER_KG / 1000))
    }

    /// From the stored count of tenths of a microgram, unchecked: sums saturate rather than
    /// overflow whatever was stored.
    pub const fn from_tenth_micrograms(count: i64) -> Self {
        Self(count)
    }

    /// The stored count of tenths of a microgram.
    pub const fn tenth_micrograms(self) -> i64 {
        self.0
    }

    /// The number of `unit`s, as near as an `f64` comes.
    #[expect(
        clippy::cast_precision_loss,
        reason = "loads lie under LIMIT, where every count has its own f64"
    )]
    pub fn amount(self, unit: Unit) -> f64 {
        self.0 as f64 / unit.size() as f64
    }

    /// Kilograms.
    pub fn in_kg(self) -> f64 {
        self.amount(Unit::Kg)
    }

    /// Pounds.
    pub fn in_lb(self) -> f64 {
        self.amount(Unit::Lb)
    }

    /// `count` times this mass, exactly; no load comes near the bounds of the integer, where it
    /// would stop.
    #[must_use]
    pub const fn times(self, count: i64) -> Self {
        Self(self.0.saturating_mul(count))
    }

    /// This mass rounded to the nearest 0.01 of `unit` and written plainly: `82.5`, `60`.
    pub fn plain(self, unit: Unit) -> String {
        let text = format!("{:.2}", self.amount(unit));
        match text.trim_end_matches('0').trim_end_matches('.') {
            "-0" => "0".to_owned(),
            plain => plain.to_owned(),
        }
    }
}

impl Add for Mass {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Mass {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Neg for Mass {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl Sum for Mass {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::ZERO, Add::add)
    }
}
