//! Exercise names put together from parts: implement, position, side, grip, stance, manner, and the
//! movement itself.
//!
//! A name is a set of parts, in any order: `smith incline press`, `incline press (smith)`. A name of
//! the catalogue fits a text when all of its parts stand there, and everything else that stands
//! there leaves the movement as it is: `standing` an overhead press, `seated` a leg extension, `one
//! arm` a dumbbell row. Words of the movement itself (`front`, `reverse`, `neck`, `JM`) never fall
//! out: a text that has one more than the catalogue knows names nothing.

mod facts;
mod parts;

use std::collections::{HashMap, HashSet};

use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::{ExerciseId, MuscleId};
use crate::domain::quantities::lift_class::LiftClass;

use facts::Facts;
use parts::{ALIKE, JOINTS, ROLES, Role, SPELLINGS, VAGUE};

/// More parts than this are no name.
const MOST_PARTS: usize = 9;
/// Parts that may fall out at most.
const MOST_DROPPED: u32 = 4;
/// Two words of a name written as one are known from this length on: `latpulldown`.
const SHORTEST_JOINED: usize = 7;

/// The words of a phrase after the first, and the parts that it stands for.
type Phrase = (Box<[Box<str>]>, Box<[u16]>);

/// What a word stands for by itself, and the phrases that it begins.
#[derive(Clone, Debug, Default)]
struct Entry {
    single: Option<Box<[u16]>>,
    /// Longer ones first.
    phrases: Vec<Phrase>,
}

/// Every name of a catalogue as sets of parts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Composer {
    parts: HashMap<Box<str>, u16>,
    texts: Vec<Box<str>>,
    roles: Vec<Role>,
    /// How often a part stands in names: rare ones say more.
    counts: Vec<f64>,
    entries: HashMap<Box<str>, Entry>,
    names: HashMap<Vec<u16>, Vec<ExerciseId>>,
    /// The parts of names that are the movement itself, without the others.
    movements: HashSet<Vec<u16>>,
    facts: Vec<Facts>,
    /// How much each part says of which exercise is meant.
    weights: Vec<f64>,
    /// The exercises in whose names each part stands.
    holders: Vec<Vec<u16>>,
    /// The weights of each exercise's parts together.
    totals: Vec<f64>,
    /// The muscles that a part is a word for.
    muscles: HashMap<u16, Vec<MuscleId>>,
}

/// What some words come to as a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Composed {
    /// This exercise.
    Known(ExerciseId),
    /// Parts of names, but of none that is known.
    Unknown,
}

/// The parts of some words, sorted, each once.
struct Parts {
    all: Vec<u16>,
    /// Those that stand behind a word that joins, and are what one lies or stands on.
    props: Vec<u16>,
}

impl Composer {
    /// The composer of `catalogue`.
    pub(crate) fn new(catalogue: &Catalogue) -> Self {
        // What nobody has mapped is somebody's own name, which is put together with no other.
        let listed = || {
            let all = catalogue.exercises();
            all.filter(|(_, exercise)| exercise.is_mapped())
        };
        let mut out = Self::default();
        for (role, words) in ROLES {
            for word in words.split_whitespace() {
                let id = out.part(word);
                if let Some(slot) = out.roles.get_mut(usize::from(id)) {
                    *slot = *role;
                }
            }
        }
        for (parts, texts) in SPELLINGS {
            let ids: Box<[u16]> = parts
                .split_whitespace()
                .map(|part| out.part(part))
                .collect();
            for text in texts.split(", ") {
                out.spell(text, &ids);
            }
        }
        for (_, exercise) in listed() {
            for name in std::iter::once(&exercise.name).chain(&exercise.aliases) {
                for word in pieces(name).filter(|word| !JOINTS.has(word)) {
                    if out.word(word).is_none() {
                        out.part(word);
                    }
                }
            }
        }
        // Names go before other names for the same movement, whoever's they are.
        for aliases in [false, true] {
            for (id, exercise) in listed() {
                let own = std::iter::once(&exercise.name).filter(|_| !aliases);
                for name in own.chain(exercise.aliases.iter().filter(|_| aliases)) {
                    out.enter(name, id);
                }
            }
        }
        out.enter_alike();
        for (_, exercise) in listed() {
            out.join_words(&exercise.name);
        }
        for (id, muscle) in catalogue.muscles() {
            for word in std::iter::once(&muscle.name).chain(&muscle.words) {
                if let Some(&[part]) = out.word(word)
                    && out.role(part) == Role::Movement
                {
                    out.muscles.entry(part).or_default().push(id);
                }
            }
        }
        out.facts = catalogue
            .exercises()
            .map(|(_, exercise)| {
                let words: Vec<&str> = pieces(&exercise.name).collect();
                let parts = out.parts_of(&words).map(|parts| parts.all);
                Facts::new(exercise, parts.unwrap_or_default())
            })
            .collect();
        out.weigh();
        out
    }

    /// Notes how much each part says, and where it stands: what is looked up for an unknown name.
    fn weigh(&mut self) {
        self.weights = (0..self.roles.len())
            .filter_map(|part| u16::try_from(part).ok())
            .map(|part| {
                let count = self.counts.get(usize::from(part)).copied().unwrap_or(1.0);
                let loose = match self.role(part) {
                    Role::Movement if !VAGUE.contains(&self.text(part)) => 1.0,
                    Role::Movement => 0.3,
                    _ => 0.6,
                };
                loose / (1.0 + count).ln().max(0.7)
            })
            .collect();
        self.holders = vec![Vec::new(); self.roles.len()];
        for (at, facts) in self.facts.iter().enumerate() {
            for part in &facts.parts {
                if let (Some(list), Ok(at)) =
                    (self.holders.get_mut(usize::from(*part)), u16::try_from(at))
                {
                    list.push(at);
                }
            }
        }
        let total = |facts: &Facts| facts.parts.iter().map(|part| self.weight(*part)).sum();
        self.totals = self.facts.iter().map(total).collect();
    }

    fn weight(&self, part: u16) -> f64 {
        self.weights
            .get(usize::from(part))
            .copied()
            .unwrap_or_default()
    }

    fn part(&mut self, word: &str) -> u16 {
        let next = u16::try_from(self.roles.len()).unwrap_or(u16::MAX);
        let id = *self.parts.entry(word.into()).or_insert(next);
        if id == next {
            self.texts.push(word.into());
            self.roles.push(Role::Movement);
            self.counts.push(0.0);
            self.spell(word, &[id]);
        }
        id
    }

    /// Lets a word or a phrase stand for parts, with its plural; what it stood for before stays.
    fn spell(&mut self, text: &str, ids: &[u16]) {
        let mut words = text.split(' ');
        let first = words.next().unwrap_or_default();
        let rest: Box<[Box<str>]> = words.map(Into::into).collect();
        if !rest.is_empty() {
            let phrases = &mut self.entries.entry(first.into()).or_default().phrases;
            let longer = phrases.partition_point(|(other, _)| other.len() >= rest.len());
            phrases.insert(longer, (rest, ids.into()));
            return;
        }
        self.entries.entry(first.into()).or_default().single = Some(ids.into());
    }

    /// What some words in one stand for: `latpulldown`, `calfraise`.
    fn join_words(&mut self, name: &str) {
        let words: Vec<&str> = pieces(name).collect();
        for pair in words.windows(2) {
            let joined = pair.concat();
            if joined.len() < SHORTEST_JOINED || self.word(&joined).is_some() {
                continue;
            }
            if let Some(parts) = self.parts_of(pair) {
                self.spell(&joined, &parts.all);
            }
        }
    }

    fn enter(&mut self, name: &str, id: ExerciseId) {
        let words: Vec<&str> = pieces(name).collect();
        let Some(Parts { all: parts, .. }) = self.parts_of(&words) else {
            return;
        };
        for part in &parts {
            if let Some(count) = self.counts.get_mut(usize::from(*part)) {
                *count += 1.0;
            }
        }
        let movement = self.movement_of(&parts, &[]);
        self.movements.insert(movement);
        let list = self.names.entry(parts).or_default();
        if !list.contains(&id) {
            list.push(id);
        }
    }

    /// Names in which some parts stand for others, where no exercise has them itself.
    fn enter_alike(&mut self) {
        let ids = |out: &Self, text: &str| -> Vec<u16> {
            let parts = text.split(' ').filter_map(|part| out.parts.get(part));
            parts.copied().collect()
        };
        let mut names: Vec<_> = self.names.clone().into_iter().collect();
        names.sort_unstable();
        for (said, other) in ALIKE {
            let (said, other) = (ids(self, said), ids(self, other));
            for (parts, exercises) in &names {
                if !said.iter().all(|part| parts.contains(part)) {
                    continue;
                }
                let kept = parts.iter().filter(|part| !said.contains(part));
                let mut new: Vec<u16> = kept.chain(&other).copied().collect();
                new.sort_unstable();
                new.dedup();
                let movement = self.movement_of(&new, &[]);
                self.movements.insert(movement);
                self.names.entry(new).or_insert_with(|| exercises.clone());
            }
        }
    }

    /// What a word stands for, also in its plural.
    fn word(&self, word: &str) -> Option<&[u16]> {
        let known = |stem: &str| self.entries.get(stem)?.single.as_deref();
        if let Some(parts) = known(word) {
            return Some(parts);
        }
        let short = word.strip_suffix('s').filter(|stem| stem.len() >= 2)?;
        if word.ends_with("ss") {
            return None;
        }
        known(short).or_else(|| {
            let es = word.strip_suffix("es")?;
            known(es).or_else(|| known(&format!("{}y", word.strip_suffix("ies")?)))
        })
    }

    /// Every word that can stand in a name, plurals too.
    pub(crate) fn words(&self) -> Vec<String> {
        let phrases = self.entries.iter().flat_map(|(first, entry)| {
            let tails = entry.phrases.iter().flat_map(|(tail, _)| tail);
            std::iter::once(first).chain(tails)
        });
        let mut out: Vec<String> = JOINTS.all().to_vec();
        for word in phrases.flat_map(|text| text.split('-')) {
            out.push(word.to_owned());
            if !word.ends_with('s') {
                out.push(format!("{word}s"));
                out.push(format!("{word}es"));
            }
        }
        out.sort_unstable();
        out.dedup();
        out
    }

    /// Whether `word` is a thing that one uses or stands on, and no name by itself.
    pub(crate) fn is_thing(&self, word: &str) -> bool {
        let thing = |id: &u16| matches!(self.role(*id), Role::Implement | Role::Prop);
        word == "belt"
            || word != "bench" && self.word(word).is_some_and(|ids| ids.iter().all(thing))
    }

    /// Whether `word` only joins the parts of a name.
    pub(crate) fn joins(word: &str) -> bool {
        JOINTS.has(word)
    }

    /// Whether `word`, by itself or as the start of a phrase, stands in names.
    pub(crate) fn is_part(&self, word: &str) -> bool {
        self.word(word).is_some() || self.entries.contains_key(word)
    }

    /// Whether `word` says how a movement is done, whatever it is.
    pub(crate) fn is_manner(&self, word: &str) -> bool {
        self.word(word)
            .is_some_and(|ids| ids.iter().all(|id| self.role(*id) == Role::Manner))
    }

    /// Whether `words` say nothing of a movement but how, with what and in which position it is done.
    pub(crate) fn only_tells_how(&self, words: &[&str]) -> bool {
        self.parts_of(words).is_some_and(|parts| {
            let how = |part: &u16| !matches!(self.role(*part), Role::Movement | Role::Prop);
            parts.all.iter().all(how)
        })
    }

    /// Whether `words` leave parts of the exercise's name to be understood: `zercher`, `hack`.
    pub(crate) fn is_short_for(&self, words: &[&str], id: ExerciseId) -> bool {
        let parts = self
            .parts_of(words)
            .map(|parts| parts.all)
            .unwrap_or_default();
        let full = self
            .facts
            .get(id.index())
            .map_or(&[][..], |facts| &facts.parts);
        parts.len() < full.len() && parts.iter().all(|part| full.contains(part))
    }

    /// The parts of `words`; `None` where a word is no part.
    fn parts_of(&self, words: &[&str]) -> Option<Parts> {
        let mut out = Parts {
            all: Vec::with_capacity(words.len()),
            props: Vec::new(),
        };
        let mut at = 0;
        // Behind a word that joins or one for a position, a bench may be no more than a bench.
        let mut joined = false;
        while at < words.len() {
            let word = *words.get(at)?;
            let (ids, taken) = match self.phrase(words, at) {
                Some(phrase) => phrase,
                None if JOINTS.has(word) => {
                    joined = true;
                    at += 1;
                    continue;
                }
                None => (self.word(word)?, 1),
            };
            out.all.extend_from_slice(ids);
            let props = ids.iter().filter(|id| self.role(**id) == Role::Prop);
            out.props.extend(props.filter(|_| joined));
            joined |= ids.iter().any(|id| self.role(*id) == Role::Position);
            at += taken;
        }
        out.all.sort_unstable();
        out.all.dedup();
        (!out.all.is_empty()).then_some(out)
    }

    /// The longest phrase of two words or more that starts at `at`, and how many words it has.
    fn phrase(&self, words: &[&str], at: usize) -> Option<(&[u16], usize)> {
        let behind = words.get(at + 1..)?;
        let phrases = &self.entries.get(*words.get(at)?)?.phrases;
        let is = |(tail, _): &&Phrase| {
            let Some((last, others)) = tail.split_last() else {
                return false;
            };
            let word = |at: usize| behind.get(at).copied().unwrap_or_default();
            let end = word(others.len());
            (end == &**last || end.strip_suffix('s') == Some(last))
                && others
                    .iter()
                    .enumerate()
                    .all(|(at, other)| word(at) == &**other)
        };
        let (tail, ids) = phrases.iter().find(is)?;
        Some((ids, tail.len() + 1))
    }

    /// Whether `word` beside a name may make another movement of it; an `ordinary` word does so only
    /// when it is an implement, a position, a side or a grip.
    pub(crate) fn changes(&self, word: &str, ordinary: bool) -> bool {
        self.word(word).is_some_and(|ids| {
            ids.iter().any(|id| match self.role(*id) {
                Role::Manner => false,
                Role::Movement | Role::Prop => !ordinary,
                _ => true,
            })
        })
    }

    /// Whether `word` behind a name makes another movement of it: what it is done with, how the trunk lies,
    /// and in a phrase (`joined`) what one lies on.
    pub(crate) fn changes_behind(&self, word: &str, joined: bool) -> bool {
        self.word(word).is_some_and(|ids| {
            ids.iter().any(|id| {
                let text = self.text(*id);
                match self.role(*id) {
                    Role::Implement => {
                        !["bar", "machine", "plate", "rope", "handle"].contains(&text)
                    }
                    Role::Position => ["incline", "decline", "lying", "bent-over"].contains(&text),
                    Role::Prop => joined && !["rack", "stand", "pad", "station"].contains(&text),
                    _ => false,
                }
            })
        })
    }

    /// What `words` name, all of them taken together; `None` when one of them stands in no name.
    pub(crate) fn compose(&self, words: &[&str]) -> Option<Composed> {
        let Parts { all, props } = self.parts_of(words)?;
        let found = self
            .put_together(&all, &props)
            .or_else(|| self.without_muscle(&all, &props))
            .or_else(|| self.at_an_angle(&all, &props));
        Some(found.map_or(Composed::Unknown, Composed::Known))
    }

    /// `upright shoulder row`: a muscle that the movement works anyway falls out.
    fn without_muscle(&self, parts: &[u16], props: &[u16]) -> Option<ExerciseId> {
        let works = |id: ExerciseId, muscles: &[MuscleId]| {
            let facts = self.facts.get(id.index());
            let target = facts
                .filter(|f| f.class != LiftClass::Hinge)
                .and_then(|f| f.target);
            target.is_some_and(|target| muscles.contains(&target))
        };
        parts.iter().enumerate().find_map(|(at, part)| {
            let muscles = self.muscles.get(part)?;
            let rest: Vec<u16> = [&parts[..at], &parts[at + 1..]].concat();
            self.put_together(&rest, props)
                .filter(|id| works(*id, muscles))
        })
    }

    /// `30 degree dumbbell press`: on a bench that is set up so far.
    fn at_an_angle(&self, parts: &[u16], props: &[u16]) -> Option<ExerciseId> {
        let (angled, incline) = (*self.parts.get("angled")?, *self.parts.get("incline")?);
        let bare = self.movement_of(parts, props);
        if !parts.contains(&angled) || bare.is_empty() {
            return None;
        }
        let mut inclined: Vec<u16> = parts
            .iter()
            .map(|part| if *part == angled { incline } else { *part })
            .collect();
        inclined.sort_unstable();
        inclined.dedup();
        self.put_together(&inclined, props)
    }

    /// The exercise of which all parts are among these, and which the others leave as it is.
    fn put_together(&self, parts: &[u16], props: &[u16]) -> Option<ExerciseId> {
        if parts.len() > MOST_PARTS {
            return None;
        }
        let bare = self.movement_of(parts, props);
        if props.is_empty() && !self.movements.contains(&bare) {
            return None;
        }
        let loose: Vec<usize> = (0..parts.len())
            .filter(|at| self.is_loose(parts[*at], props))
            .collect();
        let mut drops: Vec<u32> = (0..1_u32 << loose.len().min(8)).collect();
        drops.retain(|set| set.count_ones() <= MOST_DROPPED);
        drops.sort_by_key(|set| (set.count_ones(), *set));
        let mut kept = Vec::with_capacity(parts.len());
        drops.into_iter().find_map(|set| {
            let falls = |at: usize| {
                loose
                    .iter()
                    .position(|place| *place == at)
                    .is_some_and(|bit| set & (1 << bit) != 0)
            };
            kept.clear();
            kept.extend(
                (0..parts.len())
                    .filter(|at| !falls(*at))
                    .map(|at| parts[at]),
            );
            let ids = self.names.get(&kept)?;
            let fits = |id: &&ExerciseId| {
                (0..parts.len())
                    .filter(|at| falls(*at))
                    .all(|at| self.leaves_as_is(parts[at], **id))
            };
            ids.iter().find(fits).copied()
        })
    }

    fn is_loose(&self, part: u16, props: &[u16]) -> bool {
        match self.role(part) {
            Role::Movement => false,
            Role::Prop => props.contains(&part),
            _ => true,
        }
    }

    fn movement_of(&self, parts: &[u16], props: &[u16]) -> Vec<u16> {
        let movement = |part: &&u16| !self.is_loose(**part, props);
        parts.iter().filter(movement).copied().collect()
    }

    fn role(&self, part: u16) -> Role {
        self.roles
            .get(usize::from(part))
            .copied()
            .unwrap_or(Role::Movement)
    }

    fn text(&self, part: u16) -> &str {
        self.texts.get(usize::from(part)).map_or("", |text| text)
    }

    /// Whether a part beside the name of an exercise leaves it the same movement. Common practice,
    /// no source.
    fn leaves_as_is(&self, part: u16, id: ExerciseId) -> bool {
        let Some(facts) = self.facts.get(id.index()) else {
            return false;
        };
        let text = self.text(part);
        match self.role(part) {
            Role::Movement => false,
            Role::Manner => facts.is_managed(text),
            Role::Implement => facts.is_done_with(text),
            Role::Position => facts.is_done(text),
            Role::Side => facts.is_one_sided(text),
            Role::Grip => facts.is_held(text),
            Role::Prop => facts.is_propped(text),
            Role::Stance => facts.is_stood(text),
        }
    }

    /// Catalogue names nearest to some words, best first, at most `most`: those that share parts
    /// with them, rare parts before common ones.
    pub(crate) fn nearest(&self, words: &[&str], most: usize) -> Vec<ExerciseId> {
        let mut wanted = Vec::new();
        for (at, word) in words.iter().enumerate() {
            if let Some((ids, _)) = self.phrase(words, at) {
                wanted.extend_from_slice(ids);
            }
            if let Some(ids) = self.word(word) {
                wanted.extend_from_slice(ids);
            }
        }
        wanted.sort_unstable();
        wanted.dedup();
        // Of each exercise that shares a part: what it shares, and whether that is of the movement.
        let mut shared: Vec<(f64, bool)> = vec![(0.0, false); self.facts.len()];
        for part in wanted {
            let weight = self.weight(part);
            let movement = self.role(part) == Role::Movement;
            for at in self.holders.get(usize::from(part)).into_iter().flatten() {
                if let Some(sum) = shared.get_mut(usize::from(*at)) {
                    *sum = (sum.0 + weight, sum.1 || movement);
                }
            }
        }
        let mut scored: Vec<(f64, usize)> = shared
            .into_iter()
            .zip(&self.totals)
            .enumerate()
            .filter(|(_, ((_, movement), _))| *movement)
            .map(|(at, ((shared, _), all))| (shared - 0.2 * (all - shared), at))
            .collect();
        scored.sort_by(|a, b| b.0.total_cmp(&a.0));
        scored
            .into_iter()
            .take(most)
            .filter_map(|(_, at)| u16::try_from(at).ok().map(ExerciseId))
            .collect()
    }
}

fn pieces(name: &str) -> impl Iterator<Item = &str> {
    name.split(|c: char| c.is_whitespace() || matches!(c, '-' | '/' | '\''))
        .filter(|piece| !piece.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn composed(text: &str) -> Option<String> {
        let catalogue = crate::config::built_in();
        let composer = Composer::new(&catalogue);
        let lower = text.to_lowercase();
        let words: Vec<&str> = pieces(&lower).collect();
        match composer.compose(&words) {
            Some(Composed::Known(id)) => Some(catalogue.exercise(id).name.clone()),
            _ => None,
        }
    }

    /// Which words leave a movement as it is: common practice, no source.
    #[test]
    fn names_are_put_together_from_parts() {
        let cases = [
            ("seated leg extension", "leg extension"),
            ("standing military press", "overhead press"),
            ("smith incline press", "smith machine incline press"),
            ("prone leg curl", "lying leg curl"),
            ("leg extension single leg", "leg extension"),
            ("db one arm row", "dumbbell row"),
            ("row barbell bent over underhand", "underhand barbell row"),
            ("decline barbell bench press", "decline bench press"),
            ("calf press on leg press", "leg press calf raise"),
            ("triceps pushdowns with rope", "triceps pushdown"),
        ];
        for (text, name) in cases {
            assert_eq!(composed(text).as_deref(), Some(name), "{text}");
        }
    }

    #[test]
    fn a_word_of_another_movement_never_falls_out() {
        let unknown = [
            "neck curl press",
            "reverse zercher press",
            "band good lunge",
            "incline deadlift",
            "seated bench squat",
            "single leg pendulum squat",
        ];
        for text in unknown {
            assert_eq!(composed(text), None, "{text}");
        }
        assert_ne!(composed("jm press"), composed("press"));
        assert_ne!(composed("reverse curl"), composed("curl"));
    }

    #[test]
    fn the_nearest_names_share_the_movement() {
        let catalogue = crate::config::built_in();
        let composer = Composer::new(&catalogue);
        let near = composer.nearest(&["banana", "curl"], 3);
        assert_eq!(near.len(), 3);
        for id in near {
            assert!(catalogue.exercise(id).name.contains("curl"));
        }
    }
}
