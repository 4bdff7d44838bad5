//! What was made of a plan's text, as an object for programs.

use serde_json::{Value, json};

use super::{FaultKind, Understood, name_word};
use crate::domain::coaching::plan::{Amount, DayName, Item, Percent, PlannedLoad};
use crate::domain::quantities::catalogue::{Basis, Catalogue};
use crate::domain::quantities::mass::Unit;

/// `{"items":[…],"notes":[…],"asked":[…]}`: what was understood, the words kept, and what could not be
/// understood in the coach's own words. A line without a day is no fault here.
pub fn wire(understood: &Understood, catalogue: &Catalogue) -> Value {
    let mut items = Vec::new();
    let mut groups = 0;
    for (day, _, slots) in &understood.days {
        for slot in slots {
            let several = slot.items().count() > 1;
            groups += usize::from(several);
            let group = several.then_some(groups);
            items.extend(
                slot.items()
                    .map(|item| self::item(item, *day, group, catalogue)),
            );
        }
    }
    let asked = understood.faults.iter();
    let asked = asked.filter(|fault| !matches!(fault.kind, FaultKind::NoDay | FaultKind::Nothing));
    let notes = understood.titles.iter().chain(&understood.notes);
    let notes = notes.map(|(_, note)| note);
    json!({
        "items": items,
        "notes": notes.collect::<Vec<_>>(),
        "asked": asked.map(|fault| &fault.words).collect::<Vec<_>>(),
    })
}

fn item(item: &Item, day: Option<DayName>, group: Option<usize>, catalogue: &Catalogue) -> Value {
    let name = |id| catalogue.exercise(id).name.as_str();
    let reps = match &item.amount {
        Amount::Reps(reps) => Some([reps.low(), reps.high()]),
        Amount::BySet(_) | Amount::Time(_) | Amount::Max => None,
    };
    let by_set = match &item.amount {
        Amount::BySet(reps) => Some(reps),
        Amount::Reps(_) | Amount::Time(_) | Amount::Max => None,
    };
    let seconds = match &item.amount {
        Amount::Time(time) => Some([time.low(), time.high()]),
        Amount::Reps(_) | Amount::BySet(_) | Amount::Max => None,
    };
    let rir = item.rir.map(|rir| [rir.reps(), rir.reps()]);
    json!({
        "day": day.map(name_word),
        "exercise": name(item.exercise),
        "or": item.or.iter().map(|&id| name(id)).collect::<Vec<_>>(),
        "sets": [item.sets.count(), item.sets.most()],
        "reps": reps,
        "reps_by_set": by_set,
        "seconds": seconds,
        "max": item.amount == Amount::Max,
        "rir": rir,
        "load": item.load.map(load),
        "rest_s": item.rest.map(|rest| [rest.low(), rest.high()]),
        "per_side": item.per_side,
        "group": group,
        "note": item.note.as_ref().map(|note| note.words()),
    })
}

fn load(load: PlannedLoad) -> Value {
    let number = |low: Percent, high: Percent| match low == high {
        true => json!(low.percent()),
        false => json!([low.percent(), high.percent()]),
    };
    match load {
        PlannedLoad::Fixed(load) => {
            let amount = load.mass.plain(load.unit).parse::<f64>().unwrap_or(0.0);
            match (load.basis, load.unit) {
                (Basis::Body, _) => json!({"bodyweight_plus": 0}),
                (Basis::Added, Unit::Kg) => json!({"added_kg": amount}),
                (Basis::Added, Unit::Lb) => json!({"added_lb": amount}),
                (Basis::Assisted, Unit::Kg) => json!({"assisted_kg": amount}),
                (Basis::Assisted, Unit::Lb) => json!({"assisted_lb": amount}),
                (_, Unit::Kg) => json!({"kg": amount}),
                (_, Unit::Lb) => json!({"lb": amount}),
                (_, Unit::Pin) => json!({"pin": amount}),
            }
        }
        PlannedLoad::Share { low, high, of: 1 } => json!({"percent": number(low, high)}),
        PlannedLoad::Share { low, high, of } => {
            json!({"percent": number(low, high), "of_reps": of})
        }
        PlannedLoad::OfTopSet(share) => json!({"percent_of_top_set": share.percent()}),
    }
}
