//! Exercise names put together from parts: implement, position, side, grip, stance, manner, and the
//! movement itself.
//!
//! A name is a set of parts, in any order: `smith incline press`, `incline press (smith)`. A name of
//! the catalogue fits a text when all of its parts stand there, and everything else that stands
//! there leaves the movement as it is: `standing` an overhead press, `seated` a leg extension, `one
//! arm` a dumbbell row. Words of the movement itself (`front`, `reverse`, `neck`, `JM`) never fall
//! out: a text that has one more than the catalogue knows names nothing.

use std::collections::{HashMap, HashSet};

use crate::domain::quantities::catalogue::{Basis, Catalogue, Equipment, Exercise};
use crate::domain::quantities::id::{ExerciseId, MuscleId};
use crate::domain::quantities::lift_class::LiftClass;

/// What a part says of a movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Role {
    /// What makes it this movement and no other: `squat`, `front`, `reverse`.
    Movement,
    /// What is held: `barbell`, `cable`.
    Implement,
    /// How the body is placed: `seated`.
    Position,
    /// One limb or in turn: `one-arm`.
    Side,
    /// How the bar is held: `wide-grip`.
    Grip,
    /// How the feet are placed.
    Stance,
    /// How it is done, whatever it is: `paused`, `strict`.
    Manner,
}

/// Parts that are no movement.
const ROLES: &[(Role, &str)] = &[
    (
        Role::Implement,
        "barbell bar dumbbell kettlebell cable rope machine ez smith plate bodyweight band landmine",
    ),
    (
        Role::Position,
        "seated standing lying kneeling half-kneeling bent-over flat incline decline angled",
    ),
    (
        Role::Side,
        "one-arm one-leg single alternating two-arm double",
    ),
    (
        Role::Grip,
        "wide-grip close-grip neutral-grip underhand overhand medium-grip hook-grip grip",
    ),
    (Role::Stance, "wide-stance narrow-stance"),
    (
        Role::Manner,
        "paused tempo slow strict weighted heavy light deep full assisted explosive touch competition \
         beltless belted raw deadstop",
    ),
];

/// Words and phrases that stand for parts. Longer ones first where one begins another.
const SPELLINGS: &[(&str, &str)] = &[
    ("close grip", "close-grip"),
    ("narrow grip", "close-grip"),
    ("cg", "close-grip"),
    ("narrow", "close-grip"),
    ("wide", "wide-grip"),
    ("lpd", "lat pulldown"),
    ("wide grip", "wide-grip"),
    ("wg", "wide-grip"),
    ("neutral grip", "neutral-grip"),
    ("parallel grip", "neutral-grip"),
    ("hammer grip", "neutral-grip"),
    ("ng", "neutral-grip"),
    ("underhand grip", "underhand"),
    ("reverse grip", "underhand"),
    ("supinated grip", "underhand"),
    ("supinated", "underhand"),
    ("under hand", "underhand"),
    ("overhand grip", "overhand"),
    ("pronated grip", "overhand"),
    ("pronated", "overhand"),
    ("medium grip", "medium-grip"),
    ("snatch grip", "snatch-grip"),
    ("sg", "snatch-grip"),
    ("hook grip", "hook-grip"),
    ("wide stance", "wide-stance"),
    ("narrow stance", "narrow-stance"),
    ("close stance", "narrow-stance"),
    ("dumb bell", "dumbbell"),
    ("dumbell", "dumbbell"),
    ("dumbells", "dumbbell"),
    ("db", "dumbbell"),
    ("dbs", "dumbbell"),
    ("bar bell", "barbell"),
    ("barbel", "barbell"),
    ("bb", "barbell"),
    ("kettle bell", "kettlebell"),
    ("kb", "kettlebell"),
    ("kbs", "kettlebell"),
    ("smith machine", "smith"),
    ("smiths", "smith"),
    ("sm", "smith"),
    ("mach", "machine"),
    ("ez bar", "ez"),
    ("ez curl bar", "ez"),
    ("curl bar", "ez"),
    ("ezbar", "ez"),
    ("cambered bar", "ez"),
    ("trap bar", "trap-bar"),
    ("trapbar", "trap-bar"),
    ("hex bar", "trap-bar"),
    ("hexbar", "trap-bar"),
    ("safety bar", "safety-bar"),
    ("safety squat bar", "safety-bar"),
    ("ssb", "safety-bar"),
    ("swiss bar", "swiss-bar"),
    ("football bar", "swiss-bar"),
    ("low bar", "low-bar"),
    ("high bar", "high-bar"),
    ("t bar", "t-bar"),
    ("tbar", "t-bar"),
    ("land mine", "landmine"),
    ("banded", "band"),
    ("resistance band", "band"),
    ("swiss ball", "ball"),
    ("stability ball", "ball"),
    ("exercise ball", "ball"),
    ("gym ball", "ball"),
    ("medicine ball", "med ball"),
    ("bw", "bodyweight"),
    ("body weight", "bodyweight"),
    ("inc", "incline"),
    ("incl", "incline"),
    ("low incline", "incline"),
    ("high incline", "incline"),
    ("slight incline", "incline"),
    ("dec", "decline"),
    ("decl", "decline"),
    ("sitting", "seated"),
    ("seat", "seated"),
    ("stand", "standing"),
    ("laying", "lying"),
    ("prone", "lying"),
    ("supine", "lying"),
    ("bent over", "bent-over"),
    ("bentover", "bent-over"),
    ("bent", "bent-over"),
    ("bo", "bent-over"),
    ("half kneeling", "half-kneeling"),
    ("single arm", "one-arm"),
    ("one arm", "one-arm"),
    ("single armed", "one-arm"),
    ("one armed", "one-arm"),
    ("single hand", "one-arm"),
    ("one hand", "one-arm"),
    ("one handed", "one-arm"),
    ("single handed", "one-arm"),
    ("unilateral", "single"),
    ("sa", "one-arm"),
    ("two arm", "two-arm"),
    ("single leg", "one-leg"),
    ("one leg", "one-leg"),
    ("single legged", "one-leg"),
    ("one legged", "one-leg"),
    ("sl", "one-leg"),
    ("alternate", "alternating"),
    ("alt", "alternating"),
    ("pause", "paused"),
    ("comp", "competition"),
    ("dead stop", "deadstop"),
    ("chest supported", "chest-supported"),
    ("cs", "chest-supported"),
    ("supp", "supported"),
    ("pull down", "pulldown"),
    ("pulldn", "pulldown"),
    ("pd", "pulldown"),
    ("push down", "pushdown"),
    ("pushdn", "pushdown"),
    ("pressdown", "pushdown"),
    ("press down", "pushdown"),
    ("pull up", "pull-up"),
    ("pullup", "pull-up"),
    ("push up", "push-up"),
    ("pushup", "push-up"),
    ("press up", "push-up"),
    ("pressup", "push-up"),
    ("chin up", "chin-up"),
    ("chinup", "chin-up"),
    ("muscle up", "muscle-up"),
    ("sit up", "sit-up"),
    ("situp", "sit-up"),
    ("step up", "step-up"),
    ("stepup", "step-up"),
    ("pull over", "pullover"),
    ("pull apart", "pull-apart"),
    ("pull through", "pull-through"),
    ("dead lift", "deadlift"),
    ("dl", "deadlift"),
    ("rdl", "romanian deadlift"),
    ("sldl", "stiff-leg deadlift"),
    ("stiff leg", "stiff-leg"),
    ("stiff legged", "stiff-leg"),
    ("straight leg", "stiff-leg"),
    ("straight legged", "stiff-leg"),
    ("deads", "deadlift"),
    ("romain", "romanian"),
    ("roman deadlift", "romanian deadlift"),
    ("ohp", "overhead press"),
    ("military press", "overhead press"),
    ("oh", "overhead"),
    ("over head", "overhead"),
    ("skull crusher", "lying triceps extension"),
    ("skullcrusher", "lying triceps extension"),
    ("scullcrusher", "lying triceps extension"),
    ("skull", "lying triceps extension"),
    ("ext", "extension"),
    ("exts", "extension"),
    ("extn", "extension"),
    ("extention", "extension"),
    ("extensions", "extension"),
    ("tricep", "triceps"),
    ("tri", "triceps"),
    ("tris", "triceps"),
    ("bicep curl", "curl"),
    ("biceps curl", "curl"),
    ("bi curl", "curl"),
    ("bicep", "biceps"),
    ("arm curl", "curl"),
    ("lat raise", "lateral raise"),
    ("lats raise", "lateral raise"),
    ("side raise", "lateral raise"),
    ("side lateral", "lateral"),
    ("laterals", "lateral raise"),
    ("ham curl", "leg curl"),
    ("hamstring curl", "leg curl"),
    ("hammy curl", "leg curl"),
    ("quad extension", "leg extension"),
    ("ham", "hamstring"),
    ("abductor", "hip abduction"),
    ("adductor", "hip adduction"),
    ("sq", "squat"),
    ("bench dip", "bench dip"),
    ("bp", "bench press"),
    ("flye", "fly"),
    ("flyes", "fly"),
    ("flies", "fly"),
    ("delts", "delt"),
    ("calves", "calf"),
    ("calve", "calf"),
    ("calfs", "calf"),
    ("rev", "reverse"),
    ("bulg", "bulgarian"),
    ("shldr", "shoulder"),
    ("hyper", "hyperextension"),
    ("kick back", "kickback"),
    ("pres", "press"),
    ("benches", "bench"),
    ("farmers", "farmer"),
    ("farmer s", "farmer"),
    ("raised", "elevated"),
    ("pec dec", "pec deck"),
    ("roll out", "rollout"),
    ("clean and", "clean"),
    ("wood chop", "woodchop"),
    ("get up", "get-up"),
];

/// Words that only join parts.
const JOINTS: &[&str] = &[
    "on", "with", "the", "to", "of", "off", "from", "in", "a", "w", "using", "s",
];

/// More parts than this are no name.
const MOST_PARTS: usize = 9;
/// Parts that may fall out at most.
const MOST_DROPPED: u32 = 4;

/// Every name of a catalogue as sets of parts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Composer {
    parts: HashMap<Box<str>, u16>,
    texts: Vec<Box<str>>,
    roles: Vec<Role>,
    /// How often a part stands in names: rare ones say more.
    counts: Vec<f64>,
    spellings: HashMap<Box<str>, Vec<u16>>,
    longest: usize,
    names: HashMap<Vec<u16>, Vec<ExerciseId>>,
    /// The parts of names that are the movement itself, without the others.
    movements: HashSet<Vec<u16>>,
    facts: Vec<Facts>,
    /// The muscles that a part is a word for.
    muscles: HashMap<u16, Vec<MuscleId>>,
}

/// What decides which parts leave an exercise as it is.
#[derive(Clone, Debug)]
struct Facts {
    parts: Vec<u16>,
    name: Box<str>,
    equipment: Equipment,
    basis: Basis,
    class: LiftClass,
    hangs: bool,
    target: Option<MuscleId>,
}

/// What some words come to as a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Composed {
    /// This exercise.
    Known(ExerciseId),
    /// Parts of names, but of none that is known.
    Unknown,
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
        for (text, parts) in SPELLINGS {
            let ids = parts
                .split_whitespace()
                .map(|part| out.part(part))
                .collect();
            out.longest = out.longest.max(text.split(' ').count());
            out.spellings.insert((*text).into(), ids);
        }
        for (_, exercise) in listed() {
            for name in std::iter::once(&exercise.name).chain(&exercise.aliases) {
                for word in pieces(name).filter(|word| !JOINTS.contains(word)) {
                    let known = out.spellings.contains_key(word);
                    if !known && out.singular(word).is_none() {
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
            .map(|(_, exercise)| out.facts_of(exercise))
            .collect();
        out
    }

    fn part(&mut self, word: &str) -> u16 {
        let next = u16::try_from(self.roles.len()).unwrap_or(u16::MAX);
        let id = *self.parts.entry(word.into()).or_insert(next);
        if id == next {
            self.texts.push(word.into());
            self.roles.push(Role::Movement);
            self.counts.push(0.0);
        }
        id
    }

    fn enter(&mut self, name: &str, id: ExerciseId) {
        let words: Vec<&str> = pieces(name).collect();
        let Some(parts) = self.parts_of(&words) else {
            return;
        };
        for part in &parts {
            if let Some(count) = self.counts.get_mut(usize::from(*part)) {
                *count += 1.0;
            }
        }
        let movement = self.movement_of(&parts);
        self.movements.insert(movement);
        let list = self.names.entry(parts).or_default();
        if !list.contains(&id) {
            list.push(id);
        }
    }

    fn facts_of(&self, exercise: &Exercise) -> Facts {
        let words: Vec<&str> = pieces(&exercise.name).collect();
        Facts {
            parts: self.parts_of(&words).unwrap_or_default(),
            name: exercise.name.as_str().into(),
            equipment: exercise.equipment,
            basis: exercise.basis,
            class: exercise.class,
            hangs: exercise.body_share > 0.0,
            target: exercise.target,
        }
    }

    /// The part that a plural stands for.
    fn singular(&self, word: &str) -> Option<&[u16]> {
        let known = |stem: &str| {
            self.spellings
                .get(stem)
                .map(Vec::as_slice)
                .or_else(|| self.parts.get(stem).map(std::slice::from_ref))
        };
        let short = word.strip_suffix('s').filter(|stem| stem.len() >= 2)?;
        if word.ends_with("ss") {
            return None;
        }
        known(short).or_else(|| {
            let es = word.strip_suffix("es")?;
            known(es).or_else(|| known(&format!("{}y", word.strip_suffix("ies")?)))
        })
    }

    fn word(&self, word: &str) -> Option<&[u16]> {
        self.spellings
            .get(word)
            .map(Vec::as_slice)
            .or_else(|| self.parts.get(word).map(std::slice::from_ref))
            .or_else(|| self.singular(word))
    }

    /// Every word that can stand in a name, plurals too.
    pub(crate) fn words(&self) -> Vec<String> {
        let spelled = self.spellings.keys().flat_map(|text| text.split(' '));
        let parts = self.texts.iter().flat_map(|text| text.split('-'));
        let mut out: Vec<String> = Vec::new();
        for word in spelled.chain(parts) {
            out.push(word.to_owned());
            if !word.ends_with('s') {
                out.push(format!("{word}s"));
                out.push(format!("{word}es"));
            }
        }
        out
    }

    /// Whether `word` says how a movement is done, whatever it is.
    pub(crate) fn is_manner(&self, word: &str) -> bool {
        self.word(word)
            .is_some_and(|ids| ids.iter().all(|id| self.role(*id) == Role::Manner))
    }

    /// The parts of `words`, sorted, each once; `None` where a word is no part.
    fn parts_of(&self, words: &[&str]) -> Option<Vec<u16>> {
        let mut out: Vec<u16> = Vec::with_capacity(words.len());
        let mut at = 0;
        while at < words.len() {
            let (ids, taken) = self.longest_spelling(words, at).or_else(|| {
                let word = *words.get(at)?;
                if JOINTS.contains(&word) {
                    return Some((&[][..], 1));
                }
                Some((self.word(word)?, 1))
            })?;
            out.extend_from_slice(ids);
            at += taken;
        }
        out.sort_unstable();
        out.dedup();
        (!out.is_empty()).then_some(out)
    }

    fn longest_spelling(&self, words: &[&str], at: usize) -> Option<(&[u16], usize)> {
        for count in (2..=self.longest.min(words.len() - at)).rev() {
            let run = words.get(at..at + count)?;
            let joined = run.join(" ");
            let found = self
                .spellings
                .get(joined.as_str())
                .or_else(|| self.spellings.get(joined.strip_suffix('s')?));
            if let Some(ids) = found {
                return Some((ids, count));
            }
        }
        None
    }

    /// Whether `word` beside a name may make another movement of it; an `ordinary` word does so only
    /// when it is an implement, a position, a side or a grip.
    pub(crate) fn changes(&self, word: &str, ordinary: bool) -> bool {
        self.word(word).is_some_and(|ids| {
            ids.iter().any(|id| match self.role(*id) {
                Role::Manner => false,
                Role::Movement => !ordinary,
                _ => true,
            })
        })
    }

    /// What `words` name, all of them taken together; `None` when one of them stands in no name.
    pub(crate) fn compose(&self, words: &[&str]) -> Option<Composed> {
        let parts = self.parts_of(words)?;
        match self.put_together(&parts)? {
            Composed::Unknown => Some(self.without_muscle(&parts)),
            known => Some(known),
        }
    }

    /// `upright shoulder row`: a muscle that the movement works anyway falls out.
    fn without_muscle(&self, parts: &[u16]) -> Composed {
        for (at, part) in parts.iter().enumerate() {
            let Some(muscles) = self.muscles.get(part) else {
                continue;
            };
            let rest: Vec<u16> = [&parts[..at], &parts[at + 1..]].concat();
            let works = |id: ExerciseId| {
                let facts = self.facts.get(id.index());
                let target = facts
                    .filter(|f| f.class != LiftClass::Hinge)
                    .and_then(|f| f.target);
                target.is_some_and(|target| muscles.contains(&target))
            };
            if let Some(Composed::Known(id)) = self.put_together(&rest)
                && works(id)
            {
                return Composed::Known(id);
            }
        }
        Composed::Unknown
    }

    fn put_together(&self, parts: &[u16]) -> Option<Composed> {
        if parts.len() > MOST_PARTS {
            return Some(Composed::Unknown);
        }
        if !self.movements.contains(&self.movement_of(parts)) {
            return Some(Composed::Unknown);
        }
        let loose: Vec<usize> = (0..parts.len())
            .filter(|at| self.role(parts[*at]) != Role::Movement)
            .collect();
        let mut drops: Vec<u32> = (0..1_u32 << loose.len().min(8)).collect();
        drops.retain(|set| set.count_ones() <= MOST_DROPPED);
        drops.sort_by_key(|set| (set.count_ones(), *set));
        let mut kept = Vec::with_capacity(parts.len());
        for set in drops {
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
            let Some(ids) = self.names.get(&kept) else {
                continue;
            };
            let fits = |id: &&ExerciseId| {
                (0..parts.len())
                    .filter(|at| falls(*at))
                    .all(|at| self.leaves_as_is(parts[at], **id))
            };
            if let Some(id) = ids.iter().find(fits) {
                return Some(Composed::Known(*id));
            }
        }
        Some(Composed::Unknown)
    }

    fn movement_of(&self, parts: &[u16]) -> Vec<u16> {
        let movement = |part: &&u16| self.role(**part) == Role::Movement;
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
            Role::Manner => true,
            Role::Implement => facts.is_done_with(text),
            Role::Position => facts.is_done(text),
            Role::Side => facts.is_one_sided(text),
            Role::Grip => facts.is_held(text),
            Role::Stance => matches!(facts.class, LiftClass::Squat | LiftClass::LegPress),
        }
    }

    /// Catalogue names nearest to some words, best first, at most `most`: those that share parts
    /// with them, rare parts before common ones.
    pub(crate) fn nearest(&self, words: &[&str], most: usize) -> Vec<ExerciseId> {
        let mut wanted = Vec::new();
        for (at, word) in words.iter().enumerate() {
            if let Some((ids, _)) = self.longest_spelling(words, at) {
                wanted.extend_from_slice(ids);
            }
            if let Some(ids) = self.word(word) {
                wanted.extend_from_slice(ids);
            }
        }
        wanted.sort_unstable();
        wanted.dedup();
        let weight = |part: u16| {
            let count = self.counts.get(usize::from(part)).copied().unwrap_or(1.0);
            let loose = if self.role(part) == Role::Movement {
                1.0
            } else {
                0.6
            };
            loose / (1.0 + count).ln().max(0.7)
        };
        let mut scored: Vec<(f64, usize)> = Vec::new();
        for (at, facts) in self.facts.iter().enumerate() {
            let shared: f64 = facts
                .parts
                .iter()
                .filter(|part| wanted.contains(part))
                .map(|part| weight(*part))
                .sum();
            let movement = facts
                .parts
                .iter()
                .any(|part| wanted.contains(part) && self.role(*part) == Role::Movement);
            let all: f64 = facts.parts.iter().map(|part| weight(*part)).sum();
            if movement {
                scored.push((shared - 0.2 * (all - shared), at));
            }
        }
        scored.sort_by(|a, b| b.0.total_cmp(&a.0));
        scored
            .into_iter()
            .take(most)
            .filter_map(|(_, at)| u16::try_from(at).ok().map(ExerciseId))
            .collect()
    }
}

impl Facts {
    fn says(&self, word: &str) -> bool {
        self.name.split([' ', '-']).any(|piece| piece == word)
    }

    fn is_machine(&self) -> bool {
        matches!(self.equipment, Equipment::Stack | Equipment::PlateMachine)
    }

    fn is_done_with(&self, implement: &str) -> bool {
        match implement {
            "barbell" | "bar" => self.equipment == Equipment::Barbell && !self.says("smith"),
            "dumbbell" | "kettlebell" => {
                self.equipment == Equipment::Dumbbell
                    || self.basis == Basis::Body
                    || self.hangs && self.class == LiftClass::Squat
            }
            "cable" | "rope" => self.equipment == Equipment::Stack && !self.says("machine"),
            // Machines help with pull-ups and dips, too.
            "machine" => self.is_machine() && !self.says("cable") || self.basis == Basis::Body,
            "ez" => self.equipment == Equipment::Barbell && self.class == LiftClass::SmallUpper,
            "plate" | "bodyweight" => self.basis == Basis::Body || self.hangs,
            _ => false,
        }
    }

    fn is_done(&self, position: &str) -> bool {
        use LiftClass::{Calf, Press, Pull, SmallLower, SmallUpper, Trunk};
        let placed = ["lying", "standing", "seated", "incline"]
            .iter()
            .any(|word| self.says(word));
        let free = !placed;
        match position {
            "seated" => {
                free && (self.class == SmallUpper
                    || self.class == Press && self.says("shoulder")
                    || self.is_machine() && matches!(self.class, Press | Pull | SmallLower | Trunk))
            }
            "standing" => {
                free && (matches!(self.class, SmallUpper | Calf | Trunk)
                    || self.class == Press && self.says("overhead")
                    || self.class == Press && !self.says("bench") && self.says("push")
                    || self.class == SmallLower && self.says("cable"))
            }
            "kneeling" | "half-kneeling" => self.equipment == Equipment::Stack,
            "bent-over" => {
                self.class == Pull && !self.says("upright")
                    || self.says("rear")
                    || self.says("kickback")
            }
            "flat" => free && (self.class == Press && self.says("bench") || self.says("fly")),
            "angled" => self.class == LiftClass::LegPress || self.says("extension"),
            _ => false,
        }
    }

    fn is_one_sided(&self, side: &str) -> bool {
        use LiftClass::{Calf, Press, Pull, SmallLower, SmallUpper, Squat};
        let arms = matches!(self.class, Press | Pull | SmallUpper)
            && matches!(
                self.equipment,
                Equipment::Dumbbell | Equipment::Stack | Equipment::PlateMachine
            );
        let stepped = self.class == Squat && self.hangs;
        match side {
            "one-arm" => arms,
            "one-leg" => matches!(self.class, SmallLower | Calf) && self.basis != Basis::Body,
            "single" => {
                arms || matches!(self.class, SmallLower | Calf) && self.basis != Basis::Body
            }
            "alternating" | "double" => arms || stepped || self.equipment == Equipment::Dumbbell,
            "two-arm" => true,
            _ => false,
        }
    }

    fn is_held(&self, grip: &str) -> bool {
        use LiftClass::{Hinge, Press, Pull, SmallUpper};
        match grip {
            "overhand" | "hook-grip" | "medium-grip" => true,
            "wide-grip" | "close-grip" => {
                matches!(self.class, Pull | SmallUpper) && !self.says("grip")
            }
            "neutral-grip" => {
                self.class == Pull
                    || matches!(self.class, Press | SmallUpper)
                        && self.equipment != Equipment::Barbell
            }
            "underhand" => self.class == SmallUpper && self.says("curl") && !self.says("reverse"),
            "grip" => self.class != Hinge,
            _ => false,
        }
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
            "single leg hack squat",
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
