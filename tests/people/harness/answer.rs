//! What the bot said, as far as people at the rack look at it.

use serde_json::Value;

/// What the bot said of the next set.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// The word for what to do.
    pub decision: String,
    /// Kilograms as written; help is below nothing.
    pub kg: Option<f64>,
    pub rest_s: f64,
    /// Median and interval of the repetitions.
    pub expect: Option<(f64, u32, u32)>,
    /// Repetitions in reserve asked for.
    pub rir: f64,
}

/// Kilograms in a pound: exact by the agreement of 1959.
const LB: f64 = 0.453_592_37;

impl Answer {
    pub fn of(advice: Option<&Value>) -> Option<Self> {
        let advice = advice?;
        let whole = |value: &Value| value.as_u64().and_then(|n| u32::try_from(n).ok());
        let expect = &advice["expect"];
        let load = advice["load"]
            .as_f64()
            .map(|load| match advice["unit"].as_str() {
                Some("lb") => load * LB,
                _ => load,
            });
        let kg = match advice["basis"].as_str() {
            Some("assisted") => load.map(|kg| -kg),
            Some("body") => Some(0.0),
            _ => load,
        };
        Some(Self {
            decision: advice["decision"].as_str()?.to_owned(),
            kg,
            rest_s: advice["rest_s"].as_f64().unwrap_or(0.0),
            expect: expect["reps"]
                .as_f64()
                .and_then(|reps| Some((reps, whole(&expect["low"])?, whole(&expect["high"])?))),
            rir: expect["rir"].as_f64().unwrap_or(1.0),
        })
    }

    /// Whether there is no set to come.
    pub fn is_over(&self) -> bool {
        matches!(self.decision.as_str(), "finish" | "stop")
    }
}

/// The last advice among lines.
pub fn advice(lines: &[Value]) -> Option<&Value> {
    let mut advice = lines.iter().rev().map(|line| &line["advice"]);
    advice.find(|advice| advice.is_object())
}

/// A question about numbers among lines: its reply's id and its buttons.
pub fn question(lines: &[Value]) -> Option<(String, Vec<String>)> {
    let asked = lines.iter().any(|line| line["as"] == "question");
    let reply = lines.iter().rev().find(|line| {
        line["type"] == "reply" && line["buttons"].as_array().is_some_and(|b| !b.is_empty())
    })?;
    let id = reply["id"].as_str()?.to_owned();
    let buttons = reply["buttons"].as_array()?.iter();
    let buttons = buttons.filter_map(|b| b["id"].as_str().map(str::to_owned));
    asked.then(|| (id, buttons.collect()))
}
