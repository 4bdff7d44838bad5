//! Laws of plan text: what is printed reads back as the same plan, and no text is too odd.
#![expect(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::sync::OnceLock;

use chalkbell::bot::text::plan::spread;
use chalkbell::config;
use chalkbell::domain::coaching::plan::{
    Amount, Day, DayName, Item, Note, Percent, Plan, PlannedLoad, RepRange, Seconds, Sets, Slot,
};
use chalkbell::domain::quantities::catalogue::{Basis, Catalogue};
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::load::Load;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::message::NameIndex;
use chalkbell::message::forms::plan::{Language, print, read, sections};
use chrono::Weekday;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, subsequence};

fn language() -> Language<'static> {
    static KNOWN: OnceLock<(std::sync::Arc<Catalogue>, NameIndex)> = OnceLock::new();
    let (catalogue, names) = KNOWN.get_or_init(|| {
        let catalogue = config::built_in();
        let names = NameIndex::new(&catalogue);
        (catalogue, names)
    });
    Language {
        catalogue,
        names,
        unit: Unit::Kg,
    }
}

/// A load that the exercise can have: hundredths of a unit, as loads are shown.
fn load(own: Basis, hundredths: u32, pound: bool, pick: usize) -> Load {
    let unit = if pound { Unit::Lb } else { Unit::Kg };
    let bases: &[Basis] = match own {
        Basis::Body => &[
            Basis::Body,
            Basis::Added,
            Basis::Assisted,
            Basis::PerHand,
            Basis::Total,
        ],
        _ => &[Basis::Total, Basis::PerHand],
    };
    match bases[pick % bases.len()] {
        // The body alone weighs in the coach's unit, whichever it is.
        Basis::Body => Load::body(Unit::Kg),
        basis => Load {
            mass: Mass::new(f64::from(hundredths) / 100.0, unit).unwrap(),
            unit,
            basis,
        },
    }
}

/// What an item may hold beyond sets, repetitions, effort and a load.
#[derive(Clone, Debug)]
struct More {
    or: Option<Index>,
    sets: u32,
    amount: Option<Amount>,
    load: Option<PlannedLoad>,
    rest: Option<Seconds>,
    per_side: bool,
    note: Option<Note>,
}

fn amount() -> impl Strategy<Value = Amount> {
    prop_oneof![
        vec(1u32..=100, 2..8).prop_map(|reps| Amount::by_set(reps).unwrap()),
        (1u32..=600, 0u32..=60).prop_map(|(low, more)| {
            Amount::Time(Seconds::held(low, (low + more).min(600)).unwrap())
        }),
        Just(Amount::Max),
    ]
}

fn share() -> impl Strategy<Value = PlannedLoad> {
    let percent = |tenths: u32| Percent::new(f64::from(tenths) / 10.0).unwrap();
    prop_oneof![
        (10u32..=1500, 0u32..=200, 1u32..=20).prop_map(move |(low, more, of)| {
            PlannedLoad::Share {
                low: percent(low),
                high: percent((low + more).min(1500)),
                of,
            }
        }),
        (10u32..=1500).prop_map(move |tenths| PlannedLoad::OfTopSet(percent(tenths))),
    ]
}

prop_compose! {
    fn more()(
        or in proptest::option::weighted(0.2, any::<Index>()),
        sets in 0u32..=3,
        amount in proptest::option::of(amount()),
        load in proptest::option::weighted(0.3, share()),
        rest in proptest::option::of((0u32..=900, 0u32..=300)),
        per_side in any::<bool>(),
        note in proptest::option::of("[ -~]{1,40}"),
    ) -> More {
        More {
            or,
            sets,
            amount,
            load,
            rest: rest.map(|(low, more)| Seconds::rest(low, (low + more).min(900)).unwrap()),
            per_side,
            note: note.and_then(|words| Note::new(&words)),
        }
    }
}

prop_compose! {
    fn item()(
        exercise in any::<Index>(),
        sets in 1u32..=20,
        (low, wider) in (1u32..=100, 0u32..=20),
        halves in proptest::option::of(0u8..=20),
        hundredths in proptest::option::of(1u32..=50_000),
        more in more(),
        pound in any::<bool>(),
        pick in 0usize..10,
    ) -> Item {
        let catalogue = language().catalogue;
        let all: Vec<_> = catalogue.exercises().collect();
        let (id, exercise) = all[exercise.index(all.len())];
        let reps = Amount::Reps(RepRange::new(low, (low + wider).min(100)).unwrap());
        let load = hundredths.map(|hundredths| load(exercise.basis, hundredths, pound, pick));
        Item {
            rir: halves.map(|halves| Rir::new(f64::from(halves) / 2.0).unwrap()),
            load: more.load.or(load.map(PlannedLoad::Fixed)),
            or: more.or.map_or_else(Vec::new, |index| {
                let (other, _) = all[index.index(all.len())];
                if other == id { Vec::new() } else { vec![other] }
            }),
            rest: more.rest,
            per_side: more.per_side,
            note: more.note,
            ..Item::new(
                id,
                Sets::range(sets, (sets + more.sets).min(20)).unwrap(),
                more.amount.unwrap_or(reps),
            )
        }
    }
}

fn slot() -> impl Strategy<Value = Slot> {
    prop_oneof![
        3 => item().prop_map(Slot::one),
        1 => vec(item(), 2..=4).prop_map(|items| Slot::in_turn(items).unwrap()),
    ]
}

fn plan() -> impl Strategy<Value = Plan> {
    const WEEK: [Weekday; 7] = [
        Weekday::Mon,
        Weekday::Tue,
        Weekday::Wed,
        Weekday::Thu,
        Weekday::Fri,
        Weekday::Sat,
        Weekday::Sun,
    ];
    let title = || proptest::option::weighted(0.2, "[ -~]{1,40}");
    let days = (subsequence(WEEK.to_vec(), 1..=7), vec(vec(slot(), 1..8), 7));
    let weeks = proptest::collection::btree_set(2u32..=26, 0..3);
    (days, title(), title(), weeks).prop_map(|((weekdays, slots), name, title, weeks)| {
        let note = |words: Option<String>| words.and_then(|words| Note::new(&words));
        let title = note(title);
        let days = weekdays.into_iter().zip(slots);
        let days = days.map(|(weekday, slots)| {
            // Every other plan is one of numbered days.
            let name = match slots.len() % 2 {
                0 => DayName::Weekday(weekday),
                _ => DayName::numbered(weekday.num_days_from_monday() + 1).unwrap(),
            };
            Day::new(name, slots).unwrap().titled(title.clone())
        });
        let days: Vec<Day> = days.collect();
        let plan = Plan::new(days.clone()).unwrap().called(note(name));
        // A later week has the same days, one after the other taken off.
        let left = |week: u32| {
            days.iter()
                .skip(week as usize % days.len())
                .cloned()
                .collect()
        };
        weeks
            .into_iter()
            .fold(plan, |plan, week| plan.then(week, left(week)).unwrap())
    })
}

/// Pieces of plans in any order: nearer to what people write than arbitrary characters.
fn scraps() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        Just("mon:"),
        Just("thr:"),
        Just("squat"),
        Just("bench press"),
        Just("4x8"),
        Just("x"),
        Just("4 x"),
        Just("-"),
        Just("6-10"),
        Just("2rir"),
        Just("rir"),
        Just("@"),
        Just("@8"),
        Just("80kg"),
        Just("+"),
        Just("+10"),
        Just("with"),
        Just(";"),
        Just(","),
        Just("\n"),
        Just("for Ines:"),
        Just("#"),
        Just("×"),
        Just("–"),
        Just("each hand"),
        Just("1e9"),
        Just("99999999999x8"),
        Just("½"),
        Just("é:"),
        Just("bw"),
        Just("to failure"),
    ];
    vec(piece, 0..24).prop_map(|pieces| pieces.join(" "))
}

proptest! {
    #[test]
    fn a_printed_plan_reads_back_as_itself(plan in plan()) {
        let language = language();
        let text = print(&plan, language.catalogue);
        let again = read(&text, &language);
        prop_assert_eq!(again, Ok(plan), "{}", text);
    }

    #[test]
    fn a_plan_as_it_is_shown_reads_back_as_itself(plan in plan()) {
        let language = language();
        let text = spread(&print(&plan, language.catalogue));
        prop_assert_eq!(read(&text, &language), Ok(plan), "{}", text);
    }

    #[test]
    fn a_printed_plan_reads_back_from_one_line(plan in plan()) {
        let language = language();
        // Weeks have lines of their own.
        prop_assume!(plan.later().is_empty());
        let text = print(&plan, language.catalogue).replace('\n', "; ");
        prop_assert_eq!(read(&text, &language), Ok(plan), "{}", text);
    }

    #[test]
    fn no_text_is_too_odd(text in prop_oneof![scraps(), "\\PC*", ".*"]) {
        let lines = text.lines().count().max(1);
        let _ = sections(&text);
        if let Err(faults) = read(&text, &language()) {
            prop_assert!(!faults.is_empty());
            for fault in faults {
                prop_assert!((1..=lines).contains(&fault.line), "{:?}", fault);
            }
        }
    }
}
