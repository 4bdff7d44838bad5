//! Rest, sides and loads.

use super::facts::{Amount, Fact, Found, Load, Scan, Span};
use super::lex::Kind;
use super::numbers::{REPS, pair};
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::mass::Unit;
use crate::message::forms::plan::LEAST_OPEN;
use crate::message::words::unit::unit_of;
use crate::message::words::variants::has;

/// A number over this that is multiplied is no number of sets. Common practice, no source.
pub(super) const MOST_SETS: f64 = 20.0;

/// Words behind which percent are taken off.
const LESS: &str = "drop reduce minus less";

/// Words behind percent of something else.
const COMPARED: &str = "drop less lighter lower heavier more up";

/// Words before a load that is not that of the sets.
const OTHER_LOADS: &str = "pb pr best record under below than exceed was max";

/// What a load may hang on or be held as.
const IMPLEMENTS: &str = "plate plates dumbbell dumbbells kettlebell bar";

impl Scan<'_> {
    pub(super) fn rest(&self, at: usize) -> Option<(Fact, usize)> {
        const WORDS: &str = "rest rests recovery recover resting break";
        let around = |at: usize| {
            let mut at = at;
            while self.any(at, ": for about ~ around = of") {
                at += 1;
            }
            at
        };
        let between = |to: usize| {
            let mut to = to;
            let mut said = false;
            while self.any(to, "of rest rests recovery break breaks in between after each sets set rounds all legs arms sides exercises singles every off reps") {
                said |= self.any(to, "rest rests recovery between off break breaks");
                to += 1;
            }
            said.then_some(to)
        };
        if self.at(at) == "no" && self.at(at + 1) == "rest" {
            return Some((Fact::Manner, between(at + 1).unwrap_or(at + 2)));
        }
        // `E2MOM`: every second minute on the minute.
        if self.at(at) == "e"
            && self.at(at + 2) == "mom"
            && let Some(minutes) = self.whole(at + 1)
        {
            let seconds = f64::from(60 * minutes);
            return Some((Fact::Rest((seconds, seconds)), at + 3));
        }
        // `r 2'`: short for rest where a time stands behind it.
        if self.at(at) == "r"
            && let Some((time, to)) = self.duration(around(at + 1))
        {
            return Some((Fact::Rest(time), between(to).unwrap_or(to)));
        }
        // `pause 3 minutes`; a pause of seconds is part of a repetition.
        if self.at(at) == "pause"
            && let Some((time, to)) = self.duration(around(at + 1))
            && time.0 >= 45.0
        {
            return Some((Fact::Rest(time), between(to).unwrap_or(to)));
        }
        // `r90`, `r 120`
        if self.at(at) == "r"
            && let Some(seconds) = self.whole(at + 1).filter(|seconds| *seconds >= 20)
            && (self.glued(at + 1) || seconds >= 45)
        {
            return Some((Fact::Rest(pair(f64::from(seconds))), at + 2));
        }
        if self.any(at, WORDS) {
            let from = around(at + 1);
            if let Some((time, to)) = self.duration(from) {
                return Some((Fact::Rest(time), between(to).unwrap_or(to)));
            }
            let (span, to) = self.range(from)?;
            // Without a unit only what can be but one of the two.
            let scale = if span.0 >= 20.0 {
                1.0
            } else if span.1 <= 6.0 {
                60.0
            } else {
                return None;
            };
            return Some((Fact::Rest((span.0 * scale, span.1 * scale)), to));
        }
        let from = around(at);
        if self.at(at) == "every"
            && let Some((time, to)) = self.duration(at + 1).or_else(|| {
                let minute = self.any(at + 1, "minute min");
                minute.then_some(((60.0, 60.0), at + 2))
            })
        {
            return Some((Fact::Rest(time), to));
        }
        let (time, to) = self.duration(from)?;
        if self.at(to) == "x" {
            // `60s x 8`: a pair of dumbbells as likely as a minute; `45 sec x 3` is held so often.
            let sets = self.whole(to + 1).filter(|sets| *sets <= 6);
            // A range of seconds is held: no pair of dumbbells has one.
            let held = time.0 < time.1 || !self.any(to - 1, "s");
            let sets = sets.filter(|_| held && self.at(to + 2) != "x");
            return Some(match sets {
                Some(sets) => (
                    Fact::SetsOf(pair(f64::from(sets)), Amount::Time(time)),
                    to + 2,
                ),
                None => (Fact::Loose, to),
            });
        }
        if let Some(to) = between(to) {
            return Some((Fact::Rest(time), to));
        }
        // `w/ 24s`, `with 14s`: dumbbells.
        let with = at > 0
            && (self.at(at - 1) == "with"
                || self.at(at - 1) == "/" && at > 1 && self.at(at - 2) == "w");
        if with && from == at && self.any(to - 1, "s") && self.glued(to - 1) && time.1 <= 60.0 {
            return Some((mass(time.0, None, Some(Basis::PerHand)), to));
        }
        let on = usize::from(self.at(to) == "on");
        Some((Fact::Time(time), to + on))
    }

    pub(super) fn sides(&self, at: usize, before: &[Found]) -> Option<(Fact, usize)> {
        const SIDE: &str = "side leg arm sides legs arms limb";
        let each = |at: usize| self.any(at, "each per / a every ea");
        // `25 per leg`, in brackets behind a number for both.
        if matches!(before.last().map(|found| &found.fact), Some(Fact::Open))
            && let Some((span, to)) = self.range(at)
        {
            let to = self.past(to, REPS);
            if each(to) && self.any(to + 1, SIDE) {
                return Some((Fact::SideReps(span), to + 2));
            }
        }
        // `lunges 10/10`: the same for each side.
        if let (Some(one), Some('/'), Some(other)) =
            (self.whole(at), self.sign(at + 1), self.whole(at + 2))
            && one == other
            && self.glued(at + 1)
            && self.glued(at + 2)
            && !self.any(at + 3, "/ x")
            && self.unit_at(at + 3).is_none()
            && before
                .iter()
                .any(|found| matches!(found.fact, Fact::Name(_)))
        {
            let reps = pair(f64::from(one));
            return Some((Fact::SideReps(reps), self.past(at + 3, REPS)));
        }
        let words = [self.at(at), self.at(at + 1), self.at(at + 2)];
        let used = match words {
            ["e", "/", "h"] => return Some((Fact::Hand, at + 3)),
            ["ea" | "e", "/", "s" | "side"] | ["r" | "l", "/", "l" | "r"] => 3,
            ["left", "and" | "&" | "+", "right"] | ["right", "and" | "&" | "+", "left"] => 3,
            ["each" | "per", "hand" | "dumbbell" | "db", _] => return Some((Fact::Hand, at + 2)),
            ["between", "legs" | "arms" | "sides", _] => 2,
            ["alternate" | "alternating", "legs" | "arms" | "sides", _] => 2,
            ["ea" | "es" | "unilateral" | "l&r" | "r&l", ..] => 1,
            [_, word, _] if each(at) && has(SIDE, word) => 2,
            ["each", ")", _] if at > 0 && self.sign(at - 1) == Some('(') => 1,
            // `split squat 3x10 each`: of one exercise, behind its repetitions.
            ["each", ..] if self.ends_at(at + 1) && is_of_one(before) => 1,
            _ => return None,
        };
        Some((Fact::Side, at + used))
    }

    /// Whether what stands before this token ends there.
    pub(super) fn ends_at(&self, at: usize) -> bool {
        self.tokens
            .get(at)
            .is_none_or(|token| token.sign().is_some())
    }

    pub(super) fn load(&self, at: usize, before: &[Found]) -> Option<(Fact, usize)> {
        // `3x8x60`, `4 x 6 x 80`: the load behind sets and repetitions.
        if self.at(at) == "x"
            && matches!(before.last(), Some(found) if matches!(found.fact, Fact::SetsOf(_, Amount::Reps(_))))
            && let Some(amount) = self.value(at + 1).filter(|amount| *amount > MOST_SETS)
            && !self.any(at + 2, "x % s sec min")
        {
            let unit = unit_of(self.at(at + 2));
            return Some((
                mass(amount, unit, None),
                at + 2 + usize::from(unit.is_some()),
            ));
        }
        let from = at + usize::from(self.any(at, "@ at + -"));
        let from = from + usize::from(self.any(from, "about ~ around"));
        let less = self.at(at) == "-";
        if self.any(at, "bw bodyweight") {
            let plus = self.at(at + 1) == "+";
            return match self.range(at + 2).filter(|_| plus) {
                Some((span, to)) if self.unit_at(to).is_none() => {
                    Some((mass(span.0, None, Some(Basis::Added)), to))
                }
                _ if plus => self.load(at + 1, before),
                _ => Some((Fact::Load(Load::Body), at + 1)),
            };
        }
        // `assisted 15`
        if let Some(basis) = basis_of(self.at(at))
            && let Some(amount) = self.value(at + 1)
        {
            let unit = unit_of(self.at(at + 2));
            let to = at + 2 + usize::from(unit.is_some());
            return Some((mass(amount, unit, Some(basis)), to));
        }
        // `kg=42.5`, as in forms.
        if let Some(unit) = unit_of(self.at(at))
            && self.any(at + 1, "= :")
            && let Some(amount) = self.value(at + 2)
        {
            return Some((mass(amount, Some(unit), None), at + 3));
        }
        // `PB 140kg`, `no more than 80 kg`: another load than that of the sets.
        let loaded = |at: &usize| self.value(*at).is_some() && unit_of(self.at(at + 1)).is_some();
        let other = self.any(at, OTHER_LOADS) || self.at(at) == "no" && self.at(at + 1) == "more";
        if other
            && (at == 0 || self.at(at - 1) != "x")
            && let Some(to) = (at + 1..at + 4).find(loaded)
        {
            return Some((Fact::Manner, to + 2));
        }
        let (span, to) = self.range(from)?;
        // `@ 80,85,90`, `80/82.5/85 kg`: of several loads nobody knows whose each is.
        if let Some(end) = self.loads(from)
            && (self.at(at) == "@" || unit_of(self.at(end)).is_some())
        {
            return Some((Fact::Loose, self.past(end, "kg lb lbs")));
        }
        // `2x16 kg`: a pair of dumbbells.
        if span == pair(2.0)
            && self.at(to) == "x"
            && let Some(amount) = self.value(to + 1)
            && let Some(unit) = unit_of(self.at(to + 2))
        {
            return Some((mass(amount, Some(unit), Some(Basis::PerHand)), to + 3));
        }
        // `5% less than last week`, `10% drop each set`: of no load that is known here.
        let behind = self.past(to + 1, COMPARED);
        if self.any(to, "% percent") && behind > to + 1 && self.any(behind, "than each every per") {
            return Some((Fact::Manner, behind + 1));
        }
        if self.any(to, "% percent") {
            let less = less || at > 0 && self.any(at - 1, LESS);
            return self.share(span, to + 1, less);
        }
        // `60-80%` may also be written `60%-80%`.
        let short = self.at(to) == "k" && self.glued(to);
        let unit = unit_of(self.at(to)).or_else(|| short.then_some(Unit::Kg));
        if let Some(unit) = unit
            && (self.at(to) != "#" || self.glued(to))
        {
            let added = (self.at(at) == "+").then_some(Basis::Added);
            let taken_off = less && self.glued(from);
            if taken_off || span.0 < span.1 {
                return Some((Fact::Loose, to + 1));
            }
            let to = self.past(to + 1, IMPLEMENTS);
            let basis = added.or_else(|| basis_of(self.at(to)));
            let to = to + usize::from(added.is_none() && basis.is_some());
            // `40 kg each side`: of the bar, whose weight is not said.
            if self.any(to, "each per a") && self.at(to + 1) == "side" {
                return Some((Fact::Loose, to + 2));
            }
            return Some((mass(span.0, Some(unit), basis), to));
        }
        if self.at(at) == "@" && self.at(to) == "rm" {
            return Some((Fact::Manner, to + 1));
        }
        let one = span.0 >= span.1;
        let dumbbells = self.at(to) == "s" && self.glued(to);
        match self.at(at) {
            // `@ 24s`: dumbbells.
            "@" if dumbbells && one => Some((mass(span.0, None, Some(Basis::PerHand)), to + 1)),
            "@" if self.unit_at(to).is_some() => None,
            "@" if span.1 <= LEAST_OPEN => Some((Fact::NoEffort, to)),
            "@" if !one => Some((Fact::Loose, to)),
            "@" => {
                let load = Load::Open {
                    amount: span.0,
                    at: (at, to),
                };
                Some((Fact::Load(load), to))
            }
            // `bench 100x5x3`, `60x5, 100x5`: more than any number of sets.
            _ if from == at && one && span.0 > MOST_SETS && self.at(to) == "x" => {
                let last = before.last().map(|one| &one.fact);
                let leads = matches!(last, None | Some(Fact::Name(_) | Fact::Comma | Fact::Colon));
                (leads && self.whole(to + 1).is_some_and(|reps| reps <= 30))
                    .then(|| (mass(span.0, None, None), to))
            }
            // `squat 100 5x5`, `press 45 8,8,8`: before the sets.
            _ if from == at && one && span.0 > LEAST_OPEN && self.leads(to, before) => {
                Some((mass(span.0, None, None), to))
            }
            _ => None,
        }
    }

    /// The end of three loads or more in a row; `None` where there are fewer.
    fn loads(&self, from: usize) -> Option<usize> {
        let sign = self
            .sign(from + 1)
            .filter(|sign| matches!(sign, ',' | '/'))?;
        let load = |at: usize| self.value(at).is_some_and(|value| value > LEAST_OPEN);
        let mut to = from + 1;
        while self.sign(to) == Some(sign) && load(to + 1) {
            to += 2;
        }
        (load(from) && to >= from + 5).then_some(to)
    }

    /// Whether a number that ends here stands between a name, or the sign behind other sets, and sets of its own.
    fn leads(&self, to: usize, before: &[Found]) -> bool {
        let named = before.iter().any(|one| matches!(one.fact, Fact::Name(_)));
        let last = before.last().map(|one| &one.fact);
        named
            && matches!(last, Some(Fact::Name(_) | Fact::Comma))
            && self.at(to) != "x"
            && matches!(
                self.sets(to),
                Some((Fact::SetsOf(..) | Fact::Amount(Amount::List(_)), _))
            )
    }

    /// Behind `75 %`: of what.
    pub(super) fn share(&self, span: Span, to: usize, less: bool) -> Option<(Fact, usize)> {
        if let Some((more, behind)) = self.range(to + 1)
            && self.sign(to) == Some('-')
            && self.any(behind, "%")
        {
            return self.share((span.0, more.1), behind + 1, less);
        }
        if less || self.any(to, "drop less lighter off reduction") {
            let to = to + usize::from(!less);
            let kept = 100.0 - f64::midpoint(span.0, span.1);
            return Some((Fact::Load(Load::TopSet(kept)), self.past(to, "load weight")));
        }
        let of = to + usize::from(self.any(to, "of from"));
        const WHOSE: &str = "your my her his their the current estimated est";
        let of = of + usize::from(self.any(of, WHOSE));
        // `80% of 140`, `75% of her 120kg max`: worked out, down to half a unit.
        if of > to
            && span.0 >= span.1
            && let Some(whole) = self.value(of).filter(|whole| *whole > LEAST_OPEN)
            && self.at(of + 1) != "rm"
        {
            let unit = unit_of(self.at(of + 1));
            let amount = (span.0 * whole / 50.0 + 1e-9).floor() / 2.0;
            let behind = of + 1 + usize::from(unit.is_some());
            return Some((
                mass(amount, unit, None),
                self.past(behind, "max 1rm pb best"),
            ));
        }
        let words = [self.at(of), self.at(of + 1), self.at(of + 2)];
        let share = |reps: u32, to: usize| Some((Fact::Load(Load::Share(span, reps)), to));
        match words {
            ["1rm" | "e1rm" | "rm" | "max" | "maximum" | "tm", ..] => return share(1, of + 1),
            ["one", "rep", "max"] => return share(1, of + 3),
            ["e", "1", "rm"] => return share(1, of + 3),
            ["one-rep", "max", _] => return share(1, of + 2),
            [number, "rm", _] => {
                let reps = number.parse::<u32>().ok().filter(|reps| *reps <= 20)?;
                return share(reps, of + 2);
            }
            ["that" | "it", ..] => return Some((Fact::Load(Load::TopSet(span.0)), of + 1)),
            ["top", "set" | "weight" | "single", _] => {
                return Some((Fact::Load(Load::TopSet(span.0)), of + 2));
            }
            ["bw" | "bodyweight", ..] => return Some((Fact::Manner, of + 1)),
            _ => {}
        }
        if of > to {
            // A share of something that is not known here stays words, up to the next sign.
            let end = (of..self.tokens.len()).find(|&at| {
                self.tokens
                    .get(at)
                    .is_some_and(|token| token.kind != Kind::Word)
            });
            return Some((Fact::Manner, end.unwrap_or(self.tokens.len())));
        }
        // `60%/2`, `(80%/4)3`, `70% x 4`: repetitions at that share are told apart by `sets`.
        share(1, to)
    }
}

/// What a word beside a load says of it: `28kg total`, `15kg assisted`.
fn basis_of(word: &str) -> Option<Basis> {
    match word {
        "total" => Some(Basis::Total),
        "added" => Some(Basis::Added),
        "assisted" => Some(Basis::Assisted),
        _ => None,
    }
}

/// Whether facts name one exercise and end in its repetitions.
fn is_of_one(facts: &[Found]) -> bool {
    let names = facts.iter().filter(|one| matches!(one.fact, Fact::Name(_)));
    let last = facts.last().map(|one| &one.fact);
    names.count() == 1 && matches!(last, Some(Fact::SetsOf(..) | Fact::Amount(_)))
}

const fn mass(amount: f64, unit: Option<Unit>, basis: Option<Basis>) -> Fact {
    Fact::Load(Load::Mass {
        amount,
        unit,
        basis,
    })
}
