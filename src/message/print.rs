//! A reading as the object that `chalkbell read` prints.

use serde_json::{Map, Value, json};

use crate::domain::quantities::catalogue::{Basis, Catalogue};
use crate::domain::quantities::mass::Unit;

use super::reading::{Day, Kind, Readiness, Reading, SetReading};

/// Readings that are printed of an unclear message, at most.
const MOST_READINGS: usize = 3;

/// The keys of the reading's kind and of whatever else it carries. A correction prints its kind
/// alone, but for sets that stand beside it.
#[must_use]
pub fn print(reading: &Reading, catalogue: &Catalogue) -> Value {
    let mut out = Map::new();
    let kind = reading.kind();
    out.insert("kind".to_owned(), json!(kind.word()));
    if !reading.sets.is_empty() {
        out.insert("sets".to_owned(), print_sets(&reading.sets, catalogue));
        if let Some(sure) = reading.sure {
            out.insert("sure".to_owned(), number((sure * 1e3).round() / 1e3));
        }
    }
    if let Some(question) = &reading.question {
        out.insert("about".to_owned(), json!(question.about.word()));
    }
    if let Some(readiness) = &reading.readiness {
        out.insert("ready".to_owned(), print_readiness(readiness));
    }
    let of_sets = matches!(kind, Kind::Sets | Kind::Unclear);
    let unclear = reading.unclear.as_ref().filter(|_| of_sets);
    let needs = unclear.iter().flat_map(|unclear| &unclear.needs);
    let mut needs: Vec<&str> = needs.map(|need| need.word()).collect();
    needs.extend(reading.may_hurt.as_ref().map(|_| "hurt"));
    if unclear.is_some() || !needs.is_empty() {
        out.insert("needs".to_owned(), json!(needs));
    }
    if let Some(unclear) = unclear.filter(|unclear| !unclear.readings.is_empty()) {
        let readings = unclear.readings.iter().take(MOST_READINGS);
        let readings = readings.map(|sets| print_sets(sets, catalogue));
        out.insert("readings".to_owned(), readings.collect());
    }
    if let Some(hurt) = &reading.hurt {
        out.insert("body".to_owned(), json!(hurt.body));
        out.insert("urgent".to_owned(), json!(hurt.urgent()));
    }
    if let Some(caution) = reading.caution {
        out.insert("caution".to_owned(), json!(caution.word()));
    }
    Value::Object(out)
}

fn print_readiness(readiness: &Readiness) -> Value {
    let mut out = Map::new();
    let checks = [
        ("muscle", readiness.muscle),
        ("helpers", readiness.helpers),
        ("breath", readiness.breath),
        ("drive", readiness.drive),
    ];
    for (name, fit) in checks {
        if let Some(fit) = fit {
            out.insert(name.to_owned(), json!(fit));
        }
    }
    Value::Object(out)
}

/// A number without a needless fraction: `80`, `82.5`.
fn number(value: f64) -> Value {
    let rounded = (value * 1e6).round() / 1e6;
    if rounded.fract() == 0.0 && rounded.abs() < 1e15 {
        #[expect(clippy::cast_possible_truncation, reason = "whole and under 10^15")]
        let whole = rounded as i64;
        return json!(whole);
    }
    json!(rounded)
}

fn print_sets(sets: &[SetReading], catalogue: &Catalogue) -> Value {
    sets.iter().map(|set| print_set(set, catalogue)).collect()
}

fn print_set(set: &SetReading, catalogue: &Catalogue) -> Value {
    let body = set.load.basis == Basis::Body;
    let mass = set.hung_a_side.unwrap_or(set.load.mass);
    let load = (!body).then(|| number(mass.amount(set.load.unit)));
    let basis = match set.hung_a_side {
        Some(_) => "per_side",
        None => set.load.basis.word(),
    };
    let mut out = json!({
        "exercise": catalogue.exercise(set.exercise).name,
        "load": load,
        "unit": (!body && set.load.unit != Unit::Pin).then(|| set.load.unit.symbol()),
        "basis": basis,
        "reps": set.reps,
        "rir": set.rir.map(|rir| number(rir.reps())),
        "warm_up": set.warm_up,
        "per_side": set.per_side,
        "rest_s": set.rest_s,
        "straight": set.straight,
        "day": set.day.map(print_day),
    });
    if let (Some(seconds), Some(out)) = (set.seconds, out.as_object_mut()) {
        out.insert("reps".to_owned(), Value::Null);
        out.insert("seconds".to_owned(), json!(seconds));
    }
    out
}

fn print_day(day: Day) -> String {
    match day {
        Day::Ago(days) => format!("-{days}"),
        Day::Weekday(weekday) => weekday.to_string().to_lowercase(),
        Day::Date(date) => date.to_string(),
        Day::Yearless { day, month, .. } => format!("--{month:02}-{day:02}"),
    }
}
