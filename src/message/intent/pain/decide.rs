//! The decision: answer, ask or be silent, by what each mistake costs.

use std::str::FromStr;

use super::bystander::{are_others, is_another};
use super::illness::{illness, is_burning};
use super::overdose;
use super::place;
use super::scope::scope;
use super::signs::{self, Found};
use crate::domain::quantities::warning::{Caution, WarningSign};
use crate::message::intent::features::{Feature, features, runs};
use crate::message::intent::model::{Model, softmax};
use crate::message::intent::net::Net;
use crate::message::reading::Hurt;
use crate::message::words::token::Tokens;
use crate::message::words::{Concept, Concepts, Lexicon, Marked, Unit};

/// The classes of the first model, in order.
pub(super) const CLASSES: [&str; 3] = ["none", "hurt", "urgent"];

/// The share of the network in the scores: it and the linear weights err on different messages, so that both
/// together err less.
const BY_ORDER: f32 = 0.6;

/// What it is worth, as a score, that the last person before the sign is not the writer.
const BESIDE: f32 = 3.0;

/// How likely no report has to be after the first network for the others not to be asked.
const SURE: f32 = 0.97;

/// What is decided.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Decision {
    /// A report.
    pub hurt: Option<Hurt>,
    /// What may be one.
    pub may_hurt: Option<Hurt>,
    /// What belongs to a licensed professional.
    pub caution: Option<Caution>,
    /// A report that is only asked about where the writer says how ready they are.
    pub barely: bool,
    /// Tokens of clauses that tell of the body, as ranges.
    pub told: Vec<(usize, usize)>,
}

impl Decision {
    /// The decision about one who also says how ready they are for the next set, whose words speak of breath
    /// and muscles, too.
    pub(crate) fn of_ready(&mut self) {
        if self.barely {
            self.may_hurt = self.may_hurt.take().or(self.hurt.take());
        }
    }
}

/// What each mistake costs. Judged, not measured: common practice in triage is that a missed sign
/// outweighs many false alarms.
mod price {
    /// Silence to a report, in needless questions.
    pub(super) const SILENCE: f32 = 5.0;
    /// A needless answer, which takes a lifter's training away for no reason, in questions where an
    /// answer was due: to what is likest a plain pain.
    pub(super) const NEEDLESS: f32 = 9.0;
    /// The same where the writer tells plainly of pain of the writer's own.
    pub(super) const NEEDLESS_PLAIN: f32 = 1.0;
    /// The same where the writer tells of an injury as such (`injured myself`, `sharp pain`), whose
    /// words mean little else.
    pub(super) const NEEDLESS_INJURY: f32 = 0.25;
    /// The same to what is likest a warning sign, which is hardly to wait for a question. So dear that of harmless
    /// messages by authors left out under 3 % are answered.
    pub(super) const NEEDLESS_URGENT: f32 = 0.4;
    /// The same where the sign is thoughts of suicide: a third of the strangers' text messages that were answered
    /// for nothing speak of love and quarrels.
    pub(super) const NEEDLESS_SUICIDE: f32 = 1.5;
    /// The same where the writer says how ready they are, too: `chest feels ready, still out of breath`.
    pub(super) const NEEDLESS_WHERE_READY: f32 = 1.5;
    /// The same where the rules find a warning sign whose words often mean something else.
    pub(super) const NEEDLESS_LOOSE_SIGN: f32 = 0.7;
    /// The same where they find any other.
    pub(super) const NEEDLESS_SIGN: f32 = 0.15;
    /// A warning sign answered as a plain pain, set against the reverse at 1. Beyond this more plain pains get
    /// the urgent words and no warning sign more is answered as such (authors left out: 0.925 of the signs at 3
    /// and 5.9 % of the pains, 0.933 and 6.7 % at 5, 0.933 and 9.9 % at 8).
    pub(super) const TOO_MILD: f32 = 5.0;
    /// The same where a place is named and nothing that signs are told in.
    pub(super) const TOO_MILD_PLACE: f32 = 1.0;
}

/// Signs whose words often mean something else: to collapse, to break, to see double.
const LOOSE: &[WarningSign] = &[
    WarningSign::Faint,
    WarningSign::Bone,
    WarningSign::Stroke,
    WarningSign::Allergy,
    WarningSign::Limb,
];

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

/// Concepts that are enough for a message to be about the body.
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

/// Concepts that a warning sign is told in. A back or a knee alone (`back feels tight`) is likest a plain complaint.
const OF_SIGNS: Concepts = Concepts::of(&[
    Concept::Blood,
    Concept::Blow,
    Concept::Breathless,
    Concept::Broke,
    Concept::Chest,
    Concept::Clammy,
    Concept::Concussion,
    Concept::Confused,
    Concept::Dark,
    Concept::DarkUrine,
    Concept::Dead,
    Concept::Deformed,
    Concept::Dimmed,
    Concept::Dizzy,
    Concept::DownArm,
    Concept::Droops,
    Concept::Emergency,
    Concept::Eyes,
    Concept::Face,
    Concept::Fainted,
    Concept::Gushes,
    Concept::Head,
    Concept::Headache,
    Concept::Heart,
    Concept::HeartAttack,
    Concept::Hives,
    Concept::Hot,
    Concept::Leaks,
    Concept::LeftArm,
    Concept::Limp,
    Concept::NoAir,
    Concept::NoSweat,
    Concept::Numb,
    Concept::OddBeat,
    Concept::Other,
    Concept::Palpitations,
    Concept::Racing,
    Concept::Saddle,
    Concept::Seizure,
    Concept::Sick,
    Concept::Skin,
    Concept::Slurred,
    Concept::Speech,
    Concept::Spreads,
    Concept::Stranger,
    Concept::Suicide,
    Concept::Swollen,
    Concept::Throat,
    Concept::Unable,
    Concept::Unresponsive,
    Concept::Urine,
    Concept::Weak,
    Concept::Wheeze,
]);

/// What somebody else's health is spoken of in, whatever else is said.
const HEALTH: Concepts = Concepts::of(&[
    Concept::Pain,
    Concept::Injury,
    Concept::Hurt,
    Concept::Limp,
    Concept::Fainted,
    Concept::Dizzy,
    Concept::Breathless,
    Concept::HeartAttack,
    Concept::Palpitations,
    Concept::Concussion,
    Concept::Seizure,
    Concept::Sick,
    Concept::Emergency,
    Concept::Health,
]);

/// What tells of pain, whatever else is said.
const PAINS: Concepts = Concepts::of(&[
    Concept::Pain,
    Concept::Sharp,
    Concept::Injury,
    Concept::Hurt,
    Concept::Numb,
]);

/// What has to meet a complaint: a place, or what one complains of like a place.
const PLACES: Concepts = place::PLACES.with(Concepts::of(&[
    Concept::Skin,
    Concept::Urine,
    Concept::Speech,
    Concept::Hot,
]));

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
pub(crate) struct Judge {
    lexicon: Lexicon,
    report: Model,
    sign: Model,
    nets: Vec<Net>,
}

/// A message with what is known of it before anything is decided.
pub(crate) struct Weighed {
    /// The probabilities of [`CLASSES`].
    pub p: [f32; 3],
    /// The signs that the rules find.
    pub signs: Vec<Found>,
    /// What a needless answer costs because the writer tells plainly of pain of the writer's own.
    pub plain: Option<f32>,
    /// Of which sign an answer would speak, unless it is as good as sure that there is no report.
    pub sign: Option<WarningSign>,
    /// A place is named, and nothing that a warning sign is told in.
    pub only_a_place: bool,
}

impl Judge {
    /// A judge with these weights; weights that cannot be read weigh nothing, and only the rules
    /// hold.
    pub(crate) fn new(report: &str, sign: &str, net: &str) -> Self {
        let model = |text: &str| Model::from_str(text).unwrap_or_default();
        Self {
            lexicon: Lexicon::default(),
            report: model(report),
            sign: model(sign),
            nets: Net::read_all(net),
        }
    }

    /// Marks a message.
    pub(crate) fn mark(&self, tokens: &Tokens) -> Marked {
        let mut marked = Marked::new(tokens, &self.lexicon);
        overdose::without_popped(tokens, &mut marked);
        marked
    }

    /// Whether a message speaks of the body in words that are in the lists.
    pub(crate) fn matters(marked: &Marked) -> bool {
        marked.concepts.any(ALONE) || marked.concepts.any(PLACES) && marked.concepts.any(COMPLAINTS)
    }

    /// Weighs a marked message.
    pub(crate) fn weigh(&self, marked: &Marked) -> Weighed {
        let signs = signs::signs(marked);
        let mut linear = self.report.scores();
        each_once(marked, &signs, |feature| {
            self.report.add(feature, &mut linear)
        });
        let linear = <[f32; 3]>::try_from(linear).unwrap_or([0.0; 3]);
        let mut p = self.with_nets(linear, marked);
        if !Self::matters(marked) && own_sign(&signs).is_none() {
            p = in_plain_chat(p);
        }
        Weighed {
            sign: (p[0] < SURE).then(|| self.sign_of(marked, &signs)),
            plain: price_of_plain(marked),
            only_a_place: marked.concepts.any(PLACES) && !marked.concepts.any(OF_SIGNS),
            p,
            signs,
        }
    }

    /// The probabilities of [`CLASSES`] by the linear scores and the networks; those behind the first are
    /// asked only where there is some doubt, since most messages are sets.
    fn with_nets(&self, linear: [f32; 3], marked: &Marked) -> [f32; 3] {
        let mut sum = [0.0; 3];
        let mut p = linear;
        softmax(&mut p);
        let mut count = 0.0;
        for net in &self.nets {
            if count > 0.0 && p[0] > SURE {
                break;
            }
            let Some(scores) = net.scores(marked) else {
                continue;
            };
            count += 1.0;
            for (sum, score) in sum.iter_mut().zip(scores) {
                *sum += score;
            }
            p = std::array::from_fn(|class| {
                linear[class] + BY_ORDER * (sum[class] / count - linear[class])
            });
            softmax(&mut p);
        }
        p
    }

    /// Whether a message speaks of illness, of an injury or of doctors.
    pub(crate) fn speaks_of_health(&self, tokens: &Tokens) -> bool {
        let marked = self.mark(tokens);
        let breaks = marked.concepts.has(Concept::Broke) && marked.concepts.any(PLACES);
        marked.concepts.any(HEALTH) || breaks
    }

    /// Decides about a message.
    pub(crate) fn decide(&self, tokens: &Tokens) -> Decision {
        let marked = self.mark(tokens);
        let told = caution(&marked);
        let caution = match told {
            None | Some(Caution::Doctor) => illness(tokens, &marked).or(told),
            _ => told,
        };
        if marked.units.iter().all(is_number) {
            return Decision {
                caution,
                ..Decision::default()
            };
        }
        let mut weighed = self.weigh(&marked);
        let mut decision = Decision {
            caution,
            ..Decision::default()
        };
        let overdose = overdose::overdose(tokens, &marked);
        let verdict = match overdose {
            Some(_) => Verdict::Urgent,
            None => verdict(&weighed),
        };
        weighed.sign = overdose.or(weighed.sign);
        let of_signs = marked.concepts.and(OF_SIGNS);
        let explained = match verdict {
            Verdict::Silent => true,
            Verdict::Hurt => false,
            // An illness is no pain; what else is told stays one.
            Verdict::Ask => is_plain(&marked),
            // Nor is a fever heat, by itself.
            Verdict::Urgent => {
                of_signs == Concepts::of(&[Concept::Hot])
                    && is_plain(&marked)
                    && !is_burning(tokens)
            }
        };
        if overdose.is_none() && caution.is_some_and(Caution::is_illness) && explained {
            return decision;
        }
        if overdose.is_none()
            && own_sign(&weighed.signs).is_none()
            && of_signs == Concepts::of(&[Concept::Sick])
            && is_plain(&marked)
            && is_sick(&marked, verdict != Verdict::Silent)
        {
            decision.may_hurt = Some(Hurt {
                sign: Some(WarningSign::Help),
                ..Self::hurt(tokens, &marked, &weighed, false)
            });
            decision.told = place::told(&marked);
            return decision;
        }
        let hurt = match verdict {
            Verdict::Silent => return decision,
            Verdict::Ask | Verdict::Hurt => Self::hurt(tokens, &marked, &weighed, false),
            Verdict::Urgent => Self::hurt(tokens, &marked, &weighed, true),
        };
        let [none, report @ ..] = weighed.p;
        let report: f32 = report.iter().sum();
        decision.barely = overdose.is_none()
            && price_of_sign(&weighed).is_none()
            && report < price::NEEDLESS_WHERE_READY * none;
        decision.told = place::told(&marked);
        if verdict == Verdict::Ask {
            decision.may_hurt = Some(hurt);
        } else {
            decision.hurt = Some(hurt);
        }
        decision
    }

    fn hurt(tokens: &Tokens, marked: &Marked, weighed: &Weighed, urgent: bool) -> Hurt {
        let found = own_sign(&weighed.signs);
        let sign = urgent.then(|| weighed.sign.unwrap_or(WarningSign::Help));
        let body = place::body(tokens, marked, found.filter(|_| urgent), urgent);
        let places = place::places(marked, body.as_ref().map(|body| body.unit));
        Hurt {
            body: body.map(|body| body.text),
            places,
            sign,
            exercise: None,
        }
    }

    /// Of which sign an answer speaks: the likeliest by what was learned.
    pub(super) fn sign_of(&self, marked: &Marked, signs: &[Found]) -> WarningSign {
        let mut scores = self.sign.scores();
        of_signs(marked, signs, |feature| {
            self.sign.add(feature, &mut scores);
        });
        let found = own_sign(signs);
        let is_beside = found.map_or_else(|| are_others(signs), |found| is_another(marked, found));
        let classes = self.sign.classes().iter().zip(scores);
        let likely = classes.filter_map(|(word, score)| {
            let sign = WarningSign::from_word(word)?;
            let beside = is_beside && sign == WarningSign::Bystander;
            Some((sign, if beside { score + BESIDE } else { score }))
        });
        let best = likely.max_by(|a, b| a.1.total_cmp(&b.1));
        best.map(|(sign, _)| sign)
            .or(found.map(|found| found.sign))
            .unwrap_or(WarningSign::Help)
    }
}

/// Hands each feature to `take`, each once.
pub(super) fn each_once(marked: &Marked, signs: &[Found], take: impl FnMut(u32)) {
    let mut list = Vec::with_capacity(512);
    runs(marked, |run| list.push(run));
    features(marked, signs, |feature: Feature<'_>| {
        list.push(feature.hash())
    });
    once(list, take);
}

/// The same for those features by which signs are told apart.
pub(super) fn of_signs(marked: &Marked, signs: &[Found], take: impl FnMut(u32)) {
    let mut list = Vec::with_capacity(256);
    features(marked, signs, |feature: Feature<'_>| {
        if !matches!(feature, Feature::Whole(_) | Feature::Plain(..)) {
            list.push(feature.hash());
        }
    });
    once(list, take);
}

fn once(mut list: Vec<u32>, take: impl FnMut(u32)) {
    list.sort_unstable();
    list.dedup();
    list.into_iter().for_each(take);
}

fn is_number(unit: &Unit) -> bool {
    unit.text.starts_with('#')
}

/// How many more messages without a report there are among those that say nothing of the body in words of
/// the lists than among the labelled ones. In a channel one message in some hundreds is a report, and
/// nearly all of those do.
const PLAIN_CHAT: f32 = 3.0;

/// The probabilities by that share.
fn in_plain_chat([none, hurt, urgent]: [f32; 3]) -> [f32; 3] {
    let sum = PLAIN_CHAT * none + hurt + urgent;
    [PLAIN_CHAT * none / sum, hurt / sum, urgent / sum]
}

/// What to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// Say nothing.
    Silent,
    /// Ask whether something hurts.
    Ask,
    /// Answer a pain.
    Hurt,
    /// Answer a warning sign.
    Urgent,
}

/// The cheapest thing to do.
pub(crate) fn verdict(weighed: &Weighed) -> Verdict {
    let [none, hurt, urgent] = weighed.p;
    let report = hurt + urgent;
    // A rule overrules what was learned; one whose words often mean something else not where a plain pain is
    // nearly sure.
    let overrules = !only_loose_signs(weighed) || urgent >= LEAST_FOR_LOOSE * report;
    if overrules && price_of_sign(weighed).is_some_and(|price| report >= price * none) {
        return Verdict::Urgent;
    }
    let too_mild = if weighed.only_a_place {
        price::TOO_MILD_PLACE
    } else {
        price::TOO_MILD
    };
    let is_urgent = too_mild * urgent > hurt;
    let by_class = match weighed.sign {
        _ if !is_urgent => price::NEEDLESS,
        Some(WarningSign::Suicide) => price::NEEDLESS_SUICIDE,
        _ => price::NEEDLESS_URGENT,
    };
    let needless = weighed.plain.map_or(by_class, |plain| plain.min(by_class));
    if report >= needless * none {
        if is_urgent {
            Verdict::Urgent
        } else {
            Verdict::Hurt
        }
    } else if price::SILENCE * report >= none {
        Verdict::Ask
    } else {
        Verdict::Silent
    }
}

/// How likely a warning sign has to be, among reports, for a rule of loose words to overrule. Of authors left out it
/// spares one in six of the plain pains that got the urgent words, and loses no warning sign.
const LEAST_FOR_LOOSE: f32 = 0.05;

/// Whether all warning signs of the writer's own that the rules find are such whose words often mean something else.
fn only_loose_signs(weighed: &Weighed) -> bool {
    let mut own = weighed.signs.iter().filter(|found| found.holds());
    own.all(|found| LOOSE.contains(&found.sign))
}

/// What a needless answer costs where the rules find a warning sign of the writer's own.
pub(super) fn price_of_sign(weighed: &Weighed) -> Option<f32> {
    let own = weighed.signs.iter().filter(|found| found.holds());
    let price = |found: &Found| {
        if LOOSE.contains(&found.sign) {
            price::NEEDLESS_LOOSE_SIGN
        } else {
            price::NEEDLESS_SIGN
        }
    };
    own.map(price).reduce(f32::min)
}

/// What a needless answer costs to one who tells plainly of pain of the writer's own, and neither asks
/// nor laughs.
fn price_of_plain(marked: &Marked) -> Option<f32> {
    if marked.asks || marked.laughs || marked.concepts.any(DOUBTFUL) {
        return None;
    }
    let own = |(rule, found): (u8, Found)| {
        let price = if rule == signs::INJURY {
            price::NEEDLESS_INJURY
        } else {
            price::NEEDLESS_PLAIN
        };
        found.scope.is_own_now().then_some(price)
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

/// Whether neither pain nor a part of the body is named: `back after the flu` names none.
fn is_plain(marked: &Marked) -> bool {
    let is_adverb = |unit: &Unit| unit.text == "back" && !unit.is(Concept::OwnBack);
    let mut units = marked.units.iter().filter(|unit| !is_adverb(unit));
    !marked.concepts.any(PAINS) && !units.any(|unit| unit.concepts.any(place::PLACES))
}

/// Whether the writer feels sick, and says no more of it: hard sets do that, too, so it is asked about. A set, a view
/// and a joke may be sick by themselves; one may feel sick with nerves. What is `doubted` by nothing else has to speak of
/// a set.
fn is_sick(marked: &Marked, doubted: bool) -> bool {
    const FEELS: &[&str] = &["felt", "feel", "feels", "feeling", "felling", "feelin"];
    let units = &marked.units;
    let mut sick = (units.iter().enumerate()).filter(|(_, unit)| unit.is(Concept::Sick));
    sick.any(|(at, unit)| {
        let before = &units[at.saturating_sub(3)..at];
        let felt = before
            .iter()
            .any(|unit| FEELS.contains(&unit.text.as_str()));
        let plain = ["naus", "quea"]
            .iter()
            .any(|begin| unit.text.starts_with(begin));
        let of = units
            .get(at + 1)
            .is_some_and(|next| ["of", "with", "about"].contains(&next.text.as_str()));
        let set = Concepts::of(&[Concept::Stops, Concept::Onset]);
        let told = doubted || plain || marked.concepts.any(set);
        told && (felt || plain) && !of && !marked.laughs && scope(marked, at, at + 1).is_own_now()
    })
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
            unit.is(concept) && !is_high_otherwise(marked, at) && {
                let scope = scope(marked, at, at + 1);
                !(scope.other || scope.past && passes || scope.supposed)
            }
        })
    };
    words
        .into_iter()
        .find_map(|(concept, caution)| own(concept, caution).then_some(caution))
        .or_else(|| is_word_of_doctor(marked).then_some(Caution::Doctor))
}

/// A pulse is high on a set, and a bar on the back: the writer is not.
fn is_high_otherwise(marked: &Marked, at: usize) -> bool {
    let unit = &marked.units[at];
    let clause = || {
        let units = marked.units.iter();
        units.filter(|other| other.clause == unit.clause)
    };
    let own = clause().any(|other| other.is(Concept::Me));
    let of_else = Concepts::of(&[
        Concept::Heart,
        Concept::Object,
        Concept::Lift,
        Concept::Onset,
    ]);
    unit.text.starts_with("high on") && (!own || clause().any(|other| other.concepts.any(of_else)))
}

/// `doctor says no squats for a month`, `my physio says max 50%`: what a professional limits, and not what
/// one is to do (`physio wants 3x15 clamshells`) or that all is well again.
fn is_word_of_doctor(marked: &Marked) -> bool {
    const SAYS: &[&str] = &[
        "says", "said", "told", "wants", "advised", "reckons", "banned",
    ];
    const LIMITS: &[&str] = &[
        "no", "not", "dont", "don't", "cant", "can't", "max", "maximum", "only", "stop", "avoid",
        "rest", "never", "off", "light", "lighter", "easy", "careful", "banned", "until",
        "without", "less", "half", "under",
    ];
    const WELL: &[&str] = &["again", "fine", "ok", "okay", "cleared", "good", "nothing"];
    let word = |unit: &Unit, list: &[&str]| unit.text.split(' ').any(|word| list.contains(&word));
    let said = |(at, unit): (usize, &Unit)| {
        let behind = marked.units.iter().skip(at).take(3);
        let scope = scope(marked, at, at + 1);
        let says = behind.clone().any(|next| word(next, SAYS));
        unit.is(Concept::Health) && says && !scope.other && !scope.supposed
    };
    let any = |list: &[&str]| marked.units.iter().any(|unit| word(unit, list));
    !marked.asks && any(LIMITS) && !any(WELL) && marked.units.iter().enumerate().any(said)
}
