//! The decision: answer, ask or be silent, by what each mistake costs.

use std::str::FromStr;

use super::place;
use super::scope::scope;
use super::signs::{self, Found};
use crate::domain::warning::{Caution, WarningSign};
use crate::message::intent::features::{Feature, features};
use crate::message::intent::model::Model;
use crate::message::reading::Hurt;
use crate::message::token::Tokens;
use crate::message::words::{Concept, Concepts, Lexicon, Marked};

/// The classes of the first model, in order.
pub(super) const CLASSES: [&str; 3] = ["none", "hurt", "urgent"];

/// What is decided.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in crate::message) struct Decision {
    /// A report.
    pub hurt: Option<Hurt>,
    /// What may be one.
    pub may_hurt: Option<Hurt>,
    /// What belongs to a licensed professional.
    pub caution: Option<Caution>,
    /// Tokens of clauses that tell of the body, as ranges.
    pub told: Vec<(usize, usize)>,
}

/// What each mistake costs. The unit is a needless answer: it takes a lifter's training away for
/// no reason. Judged, not measured: common practice in triage is that a missed sign outweighs many
/// false alarms.
mod price {
    /// Silence to a plain pain.
    pub(super) const SILENCE_HURT: f32 = 2.2;
    /// Silence to a warning sign.
    pub(super) const SILENCE_URGENT: f32 = 3.4;
    /// A needless question.
    pub(super) const QUESTION: f32 = 0.3;
    /// A question where an answer was due, to a plain pain.
    pub(super) const DELAY_HURT: f32 = 0.8;
    /// The same to a warning sign.
    pub(super) const DELAY_URGENT: f32 = 1.1;
    /// A warning sign answered as a plain pain, set against the reverse at 1.
    pub(super) const TOO_MILD: f32 = 3.0;
}

/// A sign that the rules find in the writer is answered from this probability of any report on.
const SIGN_FROM: f32 = 0.12;

/// A pain of the writer's own that is told plainly is answered from this probability on.
const PLAIN_FROM: f32 = 0.3;

/// The same of an injury told as such (`injured myself`), whose words mean little else.
const INJURY_FROM: f32 = 0.1;

/// What makes a plain word of pain doubtful.
const DOUBTFUL: Concepts = Concepts::of(&[
    Concept::If,
    Concept::General,
    Concept::Figure,
    Concept::Other,
    Concept::Over,
    Concept::Doms,
    Concept::Object2,
]);

/// Concepts beside those below that make a message worth learning from: what has nothing to do with
/// the body teaches the decision only that reports are rare, which they are not among messages that
/// are weighed.
const RELATED: Concepts = Concepts::of(&[
    Concept::Back,
    Concept::Despair,
    Concept::Indigestion,
    Concept::Allergen,
]);

/// Concepts that are enough for a message to be weighed.
const ALONE: Concepts = Concepts::of(&[
    Concept::Joint,
    Concept::Muscle,
    Concept::Calf,
    Concept::Neck,
    Concept::OwnBack,
    Concept::Saddle,
    Concept::Chest,
    Concept::Heart,
    Concept::Wheeze,
    Concept::Pain,
    Concept::Sharp,
    Concept::Hurt,
    Concept::Injury,
    Concept::Buckled,
    Concept::Limp,
    Concept::Numb,
    Concept::Gushes,
    Concept::Deformed,
    Concept::Fainted,
    Concept::Dizzy,
    Concept::Dimmed,
    Concept::Slurred,
    Concept::Droops,
    Concept::Headache,
    Concept::HeartAttack,
    Concept::NoAir,
    Concept::Breathless,
    Concept::Palpitations,
    Concept::DarkUrine,
    Concept::Leaks,
    Concept::NoSweat,
    Concept::Hives,
    Concept::Suicide,
    Concept::Seizure,
    Concept::Concussion,
    Concept::Unresponsive,
    Concept::Sick,
    Concept::Swollen,
    Concept::Emergency,
]);

/// Places, which have to meet a complaint.
const PLACES: Concepts = Concepts::of(&[
    Concept::Joint,
    Concept::Back,
    Concept::Neck,
    Concept::Head,
    Concept::Face,
    Concept::Throat,
    Concept::Eyes,
    Concept::Chest,
    Concept::Heart,
    Concept::Limb,
    Concept::Hand,
    Concept::Calf,
    Concept::Muscle,
    Concept::Belly,
    Concept::Saddle,
    Concept::Bone,
    Concept::Skin,
    Concept::Urine,
    Concept::Speech,
    Concept::Hot,
]);

/// Complaints, which have to meet a place.
const COMPLAINTS: Concepts = Concepts::of(&[
    Concept::Grumble,
    Concept::Sound,
    Concept::Went,
    Concept::Locked,
    Concept::Unable,
    Concept::Sore,
    Concept::Weak,
    Concept::Wound,
    Concept::Broke,
    Concept::Blood,
    Concept::Tight,
    Concept::OddBeat,
    Concept::Racing,
    Concept::Blow,
    Concept::Closing,
    Concept::Dark,
    Concept::Confused,
    Concept::Dead,
    Concept::Clammy,
    Concept::Stops,
    Concept::Something,
    Concept::Flesh,
    Concept::Limp,
    Concept::Treats,
]);

/// Weighs messages. Built once, shared, never changed.
#[derive(Clone, Debug)]
pub(in crate::message) struct Judge {
    lexicon: Lexicon,
    report: Model,
    sign: Model,
}

/// A message with what is known of it before anything is decided.
pub(in crate::message) struct Weighed {
    /// The probabilities of [`CLASSES`].
    pub p: [f32; 3],
    /// The signs that the rules find.
    pub signs: Vec<Found>,
    /// From which probability on pain of the writer's own is answered because it is told plainly.
    pub plain: Option<f32>,
}

impl Judge {
    /// A judge with these weights; weights that cannot be read weigh nothing, and only the rules
    /// hold.
    pub(in crate::message) fn new(report: &str, sign: &str) -> Self {
        let model = |text: &str| Model::from_str(text).unwrap_or_default();
        Self::with(model(report), model(sign))
    }

    /// A judge with these models.
    pub(in crate::message) fn with(report: Model, sign: Model) -> Self {
        Self {
            lexicon: Lexicon::default(),
            report,
            sign,
        }
    }

    /// Marks a message.
    pub(in crate::message) fn mark(&self, tokens: &Tokens) -> Marked {
        Marked::new(tokens, &self.lexicon)
    }

    /// Whether a message holds anything to be weighed.
    pub(in crate::message) fn matters(marked: &Marked) -> bool {
        marked.concepts.any(ALONE) || marked.concepts.any(PLACES) && marked.concepts.any(COMPLAINTS)
    }

    /// Whether a message is worth learning from.
    pub(super) fn relates(marked: &Marked) -> bool {
        let related = RELATED.with(ALONE).with(PLACES).with(COMPLAINTS);
        marked.concepts.any(related)
    }

    /// Weighs a marked message.
    pub(in crate::message) fn weigh(&self, marked: &Marked) -> Weighed {
        let signs = signs::signs(marked);
        let mut scores = self.report.scores();
        each_once(marked, &signs, |feature| {
            self.report.add(feature, &mut scores)
        });
        self.report.probabilities(&mut scores);
        let p = <[f32; 3]>::try_from(scores).unwrap_or([1.0, 0.0, 0.0]);
        Weighed {
            p,
            signs,
            plain: plain_from(marked),
        }
    }

    /// Decides about a message.
    pub(in crate::message) fn decide(&self, tokens: &Tokens) -> Decision {
        let marked = self.mark(tokens);
        let caution = caution(&marked);
        if !Self::matters(&marked) {
            return Decision {
                caution,
                ..Decision::default()
            };
        }
        let weighed = self.weigh(&marked);
        let mut decision = Decision {
            caution,
            ..Decision::default()
        };
        let verdict = verdict(&weighed);
        let hurt = match verdict {
            Verdict::Silent => return decision,
            Verdict::Ask | Verdict::Hurt => self.hurt(tokens, &marked, &weighed, false),
            Verdict::Urgent => self.hurt(tokens, &marked, &weighed, true),
        };
        decision.told = place::told(&marked);
        if verdict == Verdict::Ask {
            decision.may_hurt = Some(hurt);
        } else {
            decision.hurt = Some(hurt);
        }
        decision
    }

    fn hurt(&self, tokens: &Tokens, marked: &Marked, weighed: &Weighed, urgent: bool) -> Hurt {
        let found = own_sign(&weighed.signs);
        let sign = urgent.then(|| match found {
            Some(found) => found.sign,
            None => self.likeliest_sign(marked, &weighed.signs),
        });
        let body = place::body(tokens, marked, found.filter(|_| urgent), urgent);
        let places = place::places(marked, body.as_ref().map(|body| body.unit));
        Hurt {
            body: body.map(|body| body.text),
            places,
            sign,
            exercise: None,
        }
    }

    /// The sign that the message is likest to, where no rule says.
    fn likeliest_sign(&self, marked: &Marked, signs: &[Found]) -> WarningSign {
        let mut scores = self.sign.scores();
        of_signs(marked, signs, |feature| self.sign.add(feature, &mut scores));
        let best = scores
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1))
            .and_then(|(at, _)| self.sign.classes().get(at));
        best.and_then(|word| WarningSign::from_word(word))
            .unwrap_or(WarningSign::Help)
    }
}

/// Hands each feature to `take`, each once.
pub(super) fn each_once(marked: &Marked, signs: &[Found], take: impl FnMut(u64)) {
    chosen(marked, signs, |_| true, take);
}

/// The same for those features by which signs are told apart.
pub(super) fn of_signs(marked: &Marked, signs: &[Found], take: impl FnMut(u64)) {
    let is_of_signs = |feature: &Feature<'_>| {
        matches!(
            feature,
            Feature::Concept(_) | Feature::Next(..) | Feature::Sign(..)
        )
    };
    chosen(marked, signs, is_of_signs, take);
}

fn chosen(
    marked: &Marked,
    signs: &[Found],
    keep: impl Fn(&Feature<'_>) -> bool,
    take: impl FnMut(u64),
) {
    let mut list = Vec::with_capacity(256);
    features(marked, signs, |feature: Feature<'_>| {
        if keep(&feature) {
            list.push(feature.hash());
        }
    });
    list.sort_unstable();
    list.dedup();
    list.into_iter().for_each(take);
}

/// What to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::message) enum Verdict {
    /// Say nothing.
    Silent,
    /// Ask whether something hurts.
    Ask,
    /// Answer a pain.
    Hurt,
    /// Answer a warning sign.
    Urgent,
}

/// The cheapest thing to do; a sign of the writer's own goes before.
pub(in crate::message) fn verdict(weighed: &Weighed) -> Verdict {
    let [none, hurt, urgent] = weighed.p;
    if own_sign(&weighed.signs).is_some() && 1.0 - none >= SIGN_FROM {
        return Verdict::Urgent;
    }
    let silent = price::SILENCE_HURT * hurt + price::SILENCE_URGENT * urgent;
    let ask = price::QUESTION * none + price::DELAY_HURT * hurt + price::DELAY_URGENT * urgent;
    let answer = if weighed.plain.is_some_and(|from| 1.0 - none >= from) {
        0.0
    } else {
        none
    };
    if silent <= ask && silent <= answer {
        Verdict::Silent
    } else if ask < answer {
        Verdict::Ask
    } else if price::TOO_MILD * urgent > hurt {
        Verdict::Urgent
    } else {
        Verdict::Hurt
    }
}

/// From which probability on the writer is answered, who tells plainly of pain and neither asks nor
/// laughs.
pub(super) fn plain_from(marked: &Marked) -> Option<f32> {
    if marked.asks || marked.laughs || marked.concepts.any(DOUBTFUL) {
        return None;
    }
    let own = |(rule, found): (u8, Found)| {
        let from = if rule == signs::INJURY {
            INJURY_FROM
        } else {
            PLAIN_FROM
        };
        found.scope.is_own_now().then_some(from)
    };
    signs::plain(marked)
        .into_iter()
        .filter_map(own)
        .reduce(f32::min)
}

/// The first sign of the writer's own, or of somebody beside the writer.
fn own_sign(signs: &[Found]) -> Option<&Found> {
    signs
        .iter()
        .filter(|found| found.holds())
        .min_by_key(|found| (found.sign, found.from))
}

/// What belongs to a licensed professional, of the writer's own.
fn caution(marked: &Marked) -> Option<Caution> {
    let words = [
        (Concept::Minor, Caution::Age),
        (Concept::Pregnant, Caution::Pregnancy),
        (Concept::HeartCondition, Caution::Heart),
        (Concept::Operated, Caution::Operation),
        (Concept::Drugs, Caution::Drugs),
        (Concept::Starved, Caution::Eating),
    ];
    let own = |concept: Concept, caution: Caution| {
        // A heart condition of last year is one today, an operation of last year is over.
        let passes = matches!(caution, Caution::Operation | Caution::Eating);
        marked.units.iter().enumerate().any(|(at, unit)| {
            unit.is(concept) && {
                let scope = scope(marked, at, at + 1);
                !(scope.other || scope.past && passes || scope.supposed)
            }
        })
    };
    words
        .into_iter()
        .find_map(|(concept, caution)| own(concept, caution).then_some(caution))
}
