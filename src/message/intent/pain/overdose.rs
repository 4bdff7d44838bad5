//! Too much of a medicine, taken: `took 30 pills`, `swallowed the whole pack of paracetamol`.
//!
//! A rule of three features: a word for taking, a medicine, and so many that no dose is meant. It stands beside the
//! other rules since it counts, which concepts do not. Two tablets are a dose of nearly everything, and eight of
//! paracetamol the most in a day (general medical teaching, from memory); what packs and handfuls mean is common
//! practice, no source.

use super::bystander::is_another;
use super::scope::{FAR, scope};
use super::signs::Found;
use crate::domain::quantities::warning::WarningSign;
use crate::message::words::numeral::small_number;
use crate::message::words::token::{Kind, Mark, Tokens};
use crate::message::words::variants::has;
use crate::message::words::{Concept, Concepts, Marked};

/// Had, or carried off; what follows tells.
const TOOK: &str = "took taken tooken tuk had popped";
/// Swallowed, whatever follows.
const SWALLOWED: &str = "swallowed swalowed swollowed swallowd downed necked ate eaten";
/// Too much, said so.
const OVERDOSE: &str = "overdose overdosed od";
/// What medicines come as, and some by their use or ending.
const PILLS: &str = "pill pills tablet tablets tabs capsules meds medication medicine sleepers antidepressants \
    antihistamines blockers aspirin aspirins cocodamol codamol";
/// Beginnings of the names of medicines, with their slips.
const NAMES: &str = "paracet ibupro ibrupro painkil codein tramad diazep zopicl sertral naprox propran morphin melaton";
/// What is harmless by the handful.
const FOOD: &str = "creatine vitamin vitamins multivitamin multivitamins magnesium salt electrolyte electrolytes bcaa \
    bcaas amino aminos protein collagen fish oil omega liver glucose dextrose zinc mint mints sugar supplement \
    supplements spirulina";
/// Between how much and of what.
const BETWEEN: &str = "of my the his her their these those your our a x mums moms dads nans grans mates strong blood anti \
    beta co little remaining extra half";
/// Before pills whatever tells their kind (`sleeping`, `diet`), but these.
const NO_KIND: &str = "and then plus or with without before after but on at min mins minutes reps sets kg off while until \
    hours hrs took taken had";
/// What a tablet weighs is no count.
const WEIGHTS: &str = "mg g mcg";
/// What holds more than a dose.
const PACKS: &str =
    "pack packs packet packets box boxes bottle bottles strip strips blister blisters";
/// More than a dose, in words.
const MUCH: &str =
    "whole entire full all every load loads handful handfuls fistful bunch many dozen";
/// What is much, but less than one says: `had loads of painkillers after the op`.
const LOOSE: &str = "load loads bunch many full every";
/// Before the word for taking: not so, or in thought only.
const UNREAL: &str = "never not havent hasnt would should could if nearly almost who nobody anyone";
/// What may stand between.
const AUXILIARY: &str = "i ive id he she they you we have has had just ever even actually really";
/// Between taking and how much: something else is taken.
const OTHERWISE: &str = "to for buy get after before off out from home without";
/// Who takes it in a story, and animals.
const STORIES: &str = "film movie show episode series book song game character dog cat puppy";
/// Days over which a medicine is taken.
const SPANS: &str = "day days daily week weeks weekly month months course night";
/// Before one of them: no `bad day` to take it on.
const EACH: &str = "a per every each the this two three few over";
/// Right behind what is carried off.
const CARRIED: &str = "away home along out into to";
/// Right behind `to`: what for, and not where.
const PURPOSE: &str = "end die kill stop sleep help numb get make feel go be forget cope";
/// Right behind what one had at hand.
const AT_HAND: &str = "left in at on for open after somewhere";
/// What all is taken of every day, and beside what.
const REGIMEN: &str = "meds medication medicine";
const ROUTINE: &str = "morning today breakfast lunch dinner time finally food";

/// The fewest tablets, and the fewest packs, that are no dose.
const MANY: f64 = 8.0;
const PACKS_MANY: f64 = 2.0;
/// From here on a number is a weight: `took 400 ibuprofen`.
const WEIGHS: f64 = 200.0;
/// Words between the word for taking and how much.
const WITHIN: usize = 6;
/// Words in which all is said about it.
const NEAR: usize = 10;
/// Words behind a medicine in which it is said over how long it was taken.
const SPREAD_WITHIN: usize = 5;
/// Adverbs are longer than names that end like them: `accidentally took`, `emily took`.
const ADVERB: usize = 8;

/// A word or a number.
pub(super) struct Word<'t> {
    pub(super) text: &'t str,
    pub(super) number: Option<f64>,
    owner: bool,
    pub(super) token: usize,
    pub(super) clause: usize,
    pub(super) sentence: usize,
}

impl Word<'_> {
    pub(super) fn value(&self) -> Option<f64> {
        self.number
            .or_else(|| small_number(self.text).map(f64::from))
    }
}

pub(super) struct Words<'t>(pub(super) Vec<Word<'t>>);

/// Whose overdose a message tells of: the writer's, or of somebody beside the writer.
pub(super) fn overdose(tokens: &Tokens, marked: &Marked) -> Option<WarningSign> {
    let words = Words::of(tokens);
    let at = (0..words.0.len()).find(|&at| words.is_overdose(at) && !words.is_past(marked, at))?;
    let is_adverb = |at: &usize| {
        let text = words.text(*at);
        text.ends_with("ly") && text.len() >= ADVERB
    };
    let subject = at.checked_sub(1).filter(is_adverb).unwrap_or(at);
    let found = found(marked, words.0[subject].token);
    let beside = found.scope.other || is_another(marked, &found);
    Some(match beside {
        true => WarningSign::Bystander,
        false => WarningSign::Overdose,
    })
}

/// The place of the unit that holds a token, or of the last one.
fn unit_of(marked: &Marked, token: usize) -> usize {
    let units = &marked.units;
    let at = units.iter().position(|unit| unit.to > token);
    at.unwrap_or(units.len().saturating_sub(1))
}

/// The word for taking as a sign.
pub(super) fn found(marked: &Marked, token: usize) -> Found {
    let at = unit_of(marked, token);
    Found {
        sign: WarningSign::Overdose,
        from: at,
        to: at + 1,
        scope: scope(marked, at, at + 1),
    }
}

impl<'t> Words<'t> {
    pub(super) fn of(tokens: &'t Tokens) -> Self {
        let (mut clause, mut sentence) = (0, 0);
        let mut words = Vec::new();
        for (at, token) in tokens.list.iter().enumerate() {
            if let Kind::Mark(mark) = token.kind {
                clause += usize::from(mark == Mark::Comma || mark.ends_sentence());
                sentence += usize::from(mark.ends_sentence());
                continue;
            }
            words.push(Word {
                text: tokens.text_of(token),
                number: (token.kind == Kind::Number).then_some(token.value),
                owner: token.possessive,
                token: at,
                clause,
                sentence,
            });
        }
        Self(words)
    }

    /// The text of a word, empty beyond the ends.
    pub(super) fn text(&self, at: usize) -> &'t str {
        self.0.get(at).map_or("", |word| word.text)
    }

    /// The words behind one, so many, of the same sentence.
    fn behind(&self, at: usize, count: usize) -> impl Iterator<Item = usize> {
        let same = move |&next: &usize| self.0[next].sentence == self.0[at].sentence;
        (at + 1..self.0.len().min(at + 1 + count)).take_while(same)
    }

    fn is_medicine(&self, at: usize) -> bool {
        let text = self.text(at);
        let is = has(PILLS, text) || NAMES.split(' ').any(|name| text.starts_with(name));
        let food = |at: Option<usize>| at.is_some_and(|at| has(FOOD, self.text(at)));
        let of_food = self.text(at + 1) == "of" && food(Some(at + 2));
        is && !(of_food || food(at.checked_sub(1)) || food(at.checked_sub(2)))
    }

    /// Where it begins to be said how much of the medicine at a place, if it is more than a dose.
    fn much(&self, medicine: usize) -> Option<usize> {
        let (mut at, mut packs) = (medicine, false);
        while let Some(before) = at.checked_sub(1) {
            let word = &self.0[before];
            if word.clause != self.0[medicine].clause {
                break;
            }
            let is_kind = |at: usize| {
                let word = &self.0[at];
                let plain =
                    word.value().is_none() && !has(MUCH, word.text) && !has(NO_KIND, word.text);
                plain && at + 1 == medicine && has(PILLS, self.text(medicine))
            };
            let is_count = |value: f64| {
                let least = if packs { PACKS_MANY } else { MANY };
                (least..WEIGHS).contains(&value)
            };
            if has(WEIGHTS, word.text) {
                at = before.saturating_sub(1);
            } else if has(PACKS, word.text) {
                (at, packs) = (before, true);
            } else if has(BETWEEN, word.text)
                || word.owner
                || self.is_medicine(before)
                || is_kind(before)
            {
                at = before;
            } else if has(MUCH, word.text) || word.value().is_some_and(is_count) {
                // `2 of the 30 pills`
                let part = (before.saturating_sub(2)..before).any(|at| self.text(at) == "of");
                return (!part).then_some(before);
            } else {
                break;
            }
        }
        packs.then_some(at)
    }

    /// Whether the word at a place says that somebody has taken too much.
    fn is_overdose(&self, at: usize) -> bool {
        let word = &self.0[at];
        let took = has(TOOK, word.text);
        let medicine = if took || has(SWALLOWED, word.text) {
            self.taken(at)
        } else if has(OVERDOSE, word.text) {
            let done = word.text == "overdosed"
                || (at.saturating_sub(2)..at).any(|before| has(TOOK, self.text(before)));
            let medicine = self.behind(at, WITHIN).find(|&at| self.is_medicine(at));
            let of_else = medicine.is_none() && matches!(self.text(at + 1), "on" | "of" | "when");
            (done && !of_else).then(|| medicine.unwrap_or(at))
        } else {
            None
        };
        let Some(medicine) = medicine else {
            return false;
        };
        let before = || {
            let clause = |&at: &usize| self.0[at].clause == word.clause;
            (at.saturating_sub(3)..at)
                .rev()
                .take_while(clause)
                .map(|at| self.text(at))
        };
        let unreal = before()
            .find(|text| !has(AUXILIARY, text))
            .is_some_and(|text| has(UNREAL, text));
        let in_story = before().any(|text| has(STORIES, text))
            && !before().any(|text| matches!(text, "i" | "ive"));
        !(unreal || in_story || self.is_spread(medicine) || took && self.is_carried(at, medicine))
    }

    /// The last word of what was taken, where it is more than a dose.
    fn taken(&self, at: usize) -> Option<usize> {
        let had = self.text(at) == "had";
        let is_loose = |at: usize| {
            has(LOOSE, self.text(at)) || has(BETWEEN, self.text(at)) || has(PACKS, self.text(at))
        };
        let named = self.behind(at, 2 * NEAR).find(|&medicine| {
            let much = self.is_medicine(medicine).then(|| self.much(medicine));
            much.flatten().is_some_and(|much| {
                let close = if had { 2 } else { WITHIN };
                let mut between = at + 1..much;
                much > at
                    && much - at <= close
                    && !between.any(|at| has(OTHERWISE, self.text(at)))
                    && !(had && is_loose(much))
            })
        });
        // `30 paracetamol, swallowed them`, `got the pills and took them all`
        let them = |to: usize| {
            let (one, two) = (self.text(to), self.text(to + 1));
            matches!(one, "everything" | "lot")
                || matches!((one, two), ("them" | "it", "all") | ("all", "of"))
        };
        let all = self.behind(at, 3).find(|&to| them(to));
        let told = |&medicine: &usize| {
            let them = matches!(self.text(at + 1), "them" | "em");
            self.is_medicine(medicine) && (all.is_some() || them && self.much(medicine).is_some())
        };
        let earlier = || (at.saturating_sub(NEAR)..at).find(told);
        named.or_else(|| {
            (!had)
                .then(earlier)
                .flatten()
                .map(|_| all.unwrap_or(at + 1))
        })
    }

    /// Over days: `8 a day`, `over 3 days`, not `2 days ago`.
    fn is_spread(&self, medicine: usize) -> bool {
        let told = |&at: &usize| !matches!(self.text(at), "and" | "but" | "so");
        let mut behind = self.behind(medicine, SPREAD_WITHIN).take_while(told);
        behind.any(|at| {
            let before = &self.0[at - 1];
            let each = has(EACH, before.text) || before.value().is_some();
            let counted = each || matches!(self.text(at), "daily" | "weekly" | "course");
            has(SPANS, self.text(at)) && counted && !matches!(self.text(at + 1), "ago" | "before")
        })
    }

    /// Had at hand, carried off, or taken as every day.
    fn is_carried(&self, at: usize, medicine: usize) -> bool {
        let mut behind = medicine + 1;
        let same = self
            .0
            .get(behind)
            .is_some_and(|next| next.clause == self.0[medicine].clause);
        let to_chemist = self.text(behind) == "back" && self.text(behind + 1) == "to";
        behind += usize::from(to_chemist);
        let (next, then) = (self.text(behind), self.text(behind + 1));
        let carried = has(CARRIED, next) && !(next == "to" && has(PURPOSE, then));
        let at_hand = self.text(at) == "had" && has(AT_HAND, next);
        let along = next == "with" && matches!(then, "me" | "us" | "him" | "her");
        let all = (at..medicine).any(|at| self.text(at) == "all");
        let daily = all
            && has(REGIMEN, self.text(medicine))
            && self
                .behind(medicine, NEAR)
                .any(|at| has(ROUTINE, self.text(at)));
        let someone = at.checked_sub(1).is_some_and(|before| {
            self.text(before).starts_with("someone") || self.text(before).starts_with("somebody")
        });
        let ours = (at..medicine).any(|at| matches!(self.text(at), "my" | "our" | "the"));
        same && (carried || at_hand || along) || daily || someone && ours
    }

    /// Long ago, and not `all at once`: said beside the word for taking, or anywhere in the sentence and nothing of
    /// now.
    fn is_past(&self, marked: &Marked, at: usize) -> bool {
        let taking = unit_of(marked, self.0[at].token);
        let Some(unit) = marked.units.get(taking) else {
            return false;
        };
        let near = taking.saturating_sub(FAR)..marked.units.len().min(taking + FAR);
        let near = marked.units.get(near).unwrap_or_default();
        let sentence = || near.iter().filter(|other| other.sentence == unit.sentence);
        let now = sentence().any(|other| other.is(Concept::Now));
        sentence().any(|other| {
            let past = other.text == "#year" || other.is(Concept::Past) && other.text != "once";
            past && (!now || other.clause == unit.clause)
        })
    }
}

/// A tablet that is popped is no joint that pops: `popped a paracetamol, knee ok`.
pub(super) fn without_popped(tokens: &Tokens, marked: &mut Marked) {
    if !tokens.text.contains("popped") {
        return;
    }
    let words = Words::of(tokens);
    let is_taken = |at: usize| {
        let counted = |at: usize| matches!(words.text(at), "a" | "an" | "some" | "my");
        let counted = counted(at + 1) || words.0.get(at + 1).is_some_and(|w| w.value().is_some());
        words.text(at) == "popped" && counted && words.behind(at, 3).any(|at| words.is_medicine(at))
    };
    for at in (0..words.0.len()).filter(|&at| is_taken(at)) {
        let token = words.0[at].token;
        for unit in marked.units.iter_mut().filter(|unit| unit.from == token) {
            unit.concepts = Concepts::NONE;
        }
    }
    let all = marked.units.iter().map(|unit| unit.concepts);
    marked.concepts = all.fold(Concepts::NONE, Concepts::with);
}
