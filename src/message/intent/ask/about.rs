//! What a question is about, by its key words: rules over the words of one clause.

use crate::message::grammar::clause::{Bag, Clause};
use crate::message::grammar::scan::Scan;
use crate::message::reading::About;
use crate::message::words::vocabulary::W;

/// Words that open a question.
const OPENERS: &[W] = &[W::How, W::What, W::Which, W::When, W::Show];

/// Words that open a question when they stand before the person: `should I`, `I should` does not.
const MODALS: &[W] = &[W::Can, W::Should, W::Do, W::Am];

/// Words of more, less or as much.
const CHANGES: &[W] = &[
    W::AddVerb,
    W::Heavier,
    W::Lighter,
    W::Up,
    W::Down,
    W::Take,
    W::Plus,
    W::More,
    W::Less,
    W::Same,
];

/// Whether the words may be a question at all; `asks` says that it ends in a question mark.
pub(crate) fn may_ask(bag: &Bag, asks: bool) -> bool {
    let choice = [
        W::Drop,
        W::Stay,
        W::AddVerb,
        W::Same,
        W::More,
        W::Heavier,
        W::Lighter,
    ];
    asks || bag.any(OPENERS)
        || bag.any(MODALS)
        || bag.has(W::Or) && bag.any(&choice)
        || bag.all(&[W::My, W::Week])
        || bag.all(&[W::Have, W::I])
        || bag.all(&[W::So, W::Far])
        || bag.has(W::Is) && bag.any(&[W::Too, W::Enough])
}

/// A clause of which every word may stand in a question.
pub(super) struct Asked {
    pub bag: Bag,
    /// It ends in a question mark.
    pub asks: bool,
    /// An exercise is named.
    pub exercise: bool,
    /// A muscle is named, and no exercise.
    pub muscle: bool,
    /// A set in thought is described.
    pub what_if: bool,
    /// A number above 10 is named: a load.
    pub number: bool,
    /// A number is named.
    pub change: bool,
    /// A length of time is named.
    pub time: bool,
    /// Only a statement stands there: `I can`, `I should`.
    pub states: bool,
    /// A load is to be told in the other unit.
    pub converts: bool,
}

/// `I can go up`, `I should have done more`: the person before the verb, and nothing else that
/// asks.
pub(super) fn states(scan: &Scan<'_>, clause: &Clause) -> bool {
    let mut modals = 0;
    let mut told = 0;
    for at in clause.from..clause.to {
        if OPENERS.contains(&scan.w(at)) {
            return false;
        }
        let before = at.checked_sub(1).filter(|before| *before >= clause.from);
        let before = before.map_or(W::None, |before| scan.w(before));
        if MODALS.contains(&scan.w(at)) && !matches!(before, W::Can | W::Should) {
            modals += 1;
            told += usize::from(before == W::I);
        }
    }
    told > 0 && told == modals
}

/// `what's 82.5 in lbs`, `225 lb to kilos`.
pub(super) fn converts(scan: &Scan<'_>, clause: &Clause) -> bool {
    let unit = |at: usize| matches!(scan.w(at), W::Kg | W::Lb);
    (clause.from..clause.to).any(|at| {
        matches!(scan.w(at), W::In | W::To)
            && unit(at + 1)
            && (at + 2..clause.to).all(|at| scan.digits(at).is_none())
    }) && (clause.from..clause.to).any(|at| scan.digits(at).is_some())
}

/// What the clause asks about, if it asks at all.
pub(super) fn about(asked: &Asked) -> Option<About> {
    let Asked { bag, asks, .. } = asked;
    if !may_ask(bag, *asks) || asked.states && !asks || asked.converts {
        return None;
    }
    if is_volume(asked) {
        return Some(About::Volume);
    }
    if is_week(asked) {
        return Some(About::Week);
    }
    let tried = asked.what_if && (*asks || bag.has(W::What));
    if is_rest(asked) && !(tried && asked.number && bag.has(W::What)) {
        return Some(About::Rest);
    }
    let tries = asked.number && bag.any(&[W::Should, W::Can]) && bag.has(W::I);
    (tried || tries || is_load(asked)).then_some(About::Load)
}

fn is_week(Asked { bag, muscle, .. }: &Asked) -> bool {
    let short = !bag.any(&[W::For, W::Of, W::In]);
    let show = bag.has(W::Show) && bag.has(W::Week) && (bag.any(&[W::My, W::Me]) || short);
    let did = bag.all(&[W::What, W::I, W::Week]) && bag.any(&[W::Did, W::Done, W::Got]);
    let how = bag.all(&[W::How, W::My, W::Week]);
    let mine = bag.all(&[W::My, W::Week]) && !bag.any(&[W::Off, W::Start]);
    let doing = bag.all(&[W::How, W::Am, W::I, W::Week]) && !muscle;
    let far = bag.all(&[W::Week, W::So, W::Far]) && !muscle;
    show || did || how || mine || doing || far
}

fn is_volume(asked: &Asked) -> bool {
    let Asked {
        bag, asks, muscle, ..
    } = asked;
    let sets = bag.any(&[W::Sets, W::Volume]);
    if bag.has(W::Volume) && bag.has(W::My)
        || bag.all(&[W::How, W::Many, W::Sets]) && !bag.has(W::Rest)
    {
        return true;
    }
    if !muscle {
        let behind = bag.all(&[W::Am, W::I, W::Sets]) && bag.any(&[W::Short, W::Behind]);
        return behind && !bag.has(W::Rest);
    }
    let rest_words = bag.any(&[W::Rest, W::Long, W::Longer]);
    let counts = bag.has(W::How) && bag.any(&[W::Many, W::Much]) && !rest_words;
    let done = bag.any(&[W::Done, W::Enough]) && bag.any(&[W::Am, W::I, W::With, W::Week, W::Have]);
    let left = sets || bag.has(W::Left) && bag.any(&[W::What, W::Week]);
    let how_am_i = bag.has(W::How) && bag.any(&[W::Am, W::Doing, W::My]);
    let stands = bag.all(&[W::Am, W::I]) && !bag.any(&[W::Ready, W::Good, W::Go]);
    let needs = bag.all(&[W::I, W::Need]) && bag.any(&[W::Do, W::What]) && !rest_words;
    let week = *asks && bag.any(&[W::Week, W::Far]);
    counts || done || left || how_am_i || stands || needs || week
}

fn is_rest(asked: &Asked) -> bool {
    let Asked { bag, asks, .. } = asked;
    let asks = *asks;
    let load_words = bag.any(&[
        W::Up,
        W::Down,
        W::Heavier,
        W::Lighter,
        W::Drop,
        W::Weight,
        W::Load,
        W::Heavy,
    ]);
    let long = bag.has(W::How) && bag.any(&[W::Long, W::Longer]) && !bag.has(W::Take);
    let much = bag.has(W::How)
        && (bag.has(W::Much) && bag.any(&[W::Rest, W::Time, W::Longer])
            || bag.all(&[W::Many, W::Rest]));
    let what = bag.all(&[W::What, W::Rest]);
    let go = bag.has(W::Go)
        && bag.any(&[
            W::Can,
            W::Should,
            W::When,
            W::Am,
            W::Do,
            W::Good,
            W::Ready,
            W::Again,
            W::Is,
        ])
        && bag.any(&[W::I, W::Again, W::Now, W::Yet, W::Next])
        && !load_words
        || asks && bag.has(W::Go) && bag.any(&[W::Now, W::Yet]) && !load_words
        || bag.all(&[W::Can, W::I, W::Start]);
    let again =
        asks && bag.has(W::Again) && bag.any(&[W::Go, W::Ready, W::Yet, W::Now]) && !load_words;
    let rest = asks && bag.any(&[W::Rest, W::Resting]) && !bag.any(&[W::Drop, W::Day]);
    let ready = asks && bag.has(W::Ready) && bag.any(&[W::I, W::Am, W::Yet]);
    let time = asks
        && bag.has(W::Time)
        && bag.any(&[W::Yet, W::Is, W::Next])
        && !bag.any(&[W::Week, W::What]);
    let next_set = bag.all(&[W::When, W::Next, W::Sets]);
    let longer = asks && bag.has(W::Longer) || bag.all(&[W::Should, W::I, W::Longer]);
    let should_rest = bag.has(W::Should) && bag.has(W::Rest);
    let enough = bag.has(W::Enough)
        && (asked.time && (asks || bag.has(W::Is))
            || bag.has(W::Rest) && bag.any(&[W::Have, W::Is])
            || asks && bag.has(W::Long));
    long || much
        || what
        || go
        || again
        || rest
        || ready
        || time
        || next_set
        || longer
        || should_rest
        || enough
}

fn is_load(asked: &Asked) -> bool {
    let Asked { bag, asks, .. } = asked;
    let asks = *asks;
    let load = bag.any(&[W::Load, W::Weight, W::Put, W::Bar, W::Heavy, W::Kg, W::Lb]);
    drops_or_stays(bag, asks)
        || asks_what_load(asked, load)
        || asks_for_change(asked, load)
        || asks_for_another(asked)
}

fn drops_or_stays(bag: &Bag, asks: bool) -> bool {
    let opens = asks || bag.any(&[W::Should, W::Or, W::Do]);
    let stay = bag.has(W::Stay) && !bag.all(&[W::Or, W::Go]);
    opens && (bag.has(W::Drop) || stay)
}

/// `what load`, `what next`, `how heavy should I go`, `squat load?`; not `how heavy is the bar`.
fn asks_what_load(asked: &Asked, load: bool) -> bool {
    let Asked {
        bag,
        asks,
        exercise,
        ..
    } = asked;
    let next =
        bag.any(&[W::What, W::Which]) && bag.any(&[W::Next, W::Now, W::Then]) && !bag.has(W::Week)
            || *asks && bag.has(W::Next) && !bag.any(&[W::Week, W::Time]);
    let of_thing = !bag.any(&[W::I, W::Too, W::My])
        && (bag.all(&[W::Is, W::The]) || bag.all(&[W::Of, W::The]));
    let what = !of_thing
        && !bag.has(W::Long)
        && bag.any(&[W::What, W::Which, W::How])
        && (load || *exercise);
    let bare = *asks && *exercise && bag.any(&[W::Load, W::Weight]);
    let count = *asks && asked.number && bag.all(&[W::How, W::Many]);
    next || what || bare || count
}

/// `should I add weight`, `heavier or lighter?`, `more weight or same`, `is 80 too heavy`.
fn asks_for_change(asked: &Asked, load: bool) -> bool {
    let Asked { bag, asks, .. } = asked;
    let change = bag.any(CHANGES);
    let ways = [W::Go, W::Heavier, W::Lighter, W::AddVerb, W::Off, W::Same];
    let should = bag.any(MODALS) && change && (load || bag.any(&ways));
    let choice = bag.has(W::Or) && change && load;
    let bare = *asks
        && (bag.any(&[W::Heavier, W::Lighter])
            || bag.any(&[W::Up, W::Down]) && bag.any(&[W::Go, W::Or])
            || bag.any(&[W::More, W::AddVerb, W::Less]) && bag.any(&[W::Weight, W::Load])
            || bag.has(W::AddVerb) && (asked.change || bag.has(W::Or))
            || bag.has(W::Same) && bag.any(&[W::Weight, W::Load, W::Or, W::Again])
            || bag.all(&[W::Take, W::Off]));
    let too = bag.has(W::Too) && bag.any(&[W::Heavy, W::Light]);
    should || choice || bare || too && (*asks || asked.number && bag.has(W::Is))
}

/// `another set or done?`, `one more set?`, `should I do another set`, `am I done with bench?`.
fn asks_for_another(asked: &Asked) -> bool {
    let Asked { bag, asks, .. } = asked;
    let another = bag.has(W::Another) || bag.all(&[W::One, W::More]);
    let set = bag.has(W::Sets) && (*asks || bag.all(&[W::Should, W::I]));
    let done = *asks && bag.all(&[W::Am, W::I, W::Done]);
    another && set || done
}
