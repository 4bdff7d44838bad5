//! Warning signs: of the heart, the brain, the spine, and of muscle breakdown. Most are red flags.
//!
//! Breath is the hard one. `out of breath`, `can't breathe yet` and `can't breathe after that set`
//! are said between sets all day and are readiness; breath that does not come, with nothing said of
//! a set or of waiting, or that stays away at rest, is a sign.

use super::super::lexicon::pain;
use super::super::reading::Hurt;
use super::super::token::Kind;
use super::super::vocabulary::{Roles, W};
use super::told::Told;
use crate::domain::warning::WarningSign;

/// So long after a set nobody is short of breath from it, seconds. From memory: breathing is back
/// within about five minutes of a hard set; twice that is no longer the set.
const BREATH_IS_BACK_S: f64 = 600.0;

fn flag(body: impl Into<String>, sign: WarningSign) -> Option<Hurt> {
    Some(Hurt {
        body: Some(body.into()),
        sign: Some(sign),
        ..Hurt::default()
    })
}

impl Told<'_> {
    /// Signs that are told by what is missing, so that a `no` denies nothing: `no feeling in my
    /// arm`, `can't move my legs`.
    pub(super) fn loss(&self) -> Option<Hurt> {
        if self.joke || self.says_anywhere(pain::COLD) || self.says_anywhere(pain::SORE) {
            return None;
        }
        let at = self.tokens().find(|&at| self.loses(at))?;
        let part = (at + 1..self.clause.to.min(at + 6))
            .find(|&i| self.is_one(i, pain::LOST_PARTS) && !self.in_name(i))?;
        let works = self.token(part + 1, |t| t.word.w == W::Work) || self.says(&["firing"]);
        (!works).then(|| Hurt {
            body: Some(self.with_side(part)),
            sign: self
                .is_one(part, pain::VITAL_PARTS)
                .then_some(WarningSign::Limb),
            ..Hurt::default()
        })
    }

    /// `can't feel`, `can't move`, `no feeling`, `lost all feeling`.
    fn loses(&self, at: usize) -> bool {
        let next = self.text(at + 1);
        match self.w(at) {
            W::Cant => matches!(next, "feel" | "move"),
            W::No => next == "feeling",
            _ => {
                self.text(at) == "lost"
                    && (at + 1..at + 4).any(|i| matches!(self.text(i), "feeling"))
            }
        }
    }

    /// The first sign of the clause.
    pub(super) fn sign(&self) -> Option<Hurt> {
        self.tokens().find_map(|at| self.sign_at(at))
    }

    fn sign_at(&self, at: usize) -> Option<Hurt> {
        match self.w(at) {
            W::Symptom => self.symptom(at),
            W::Headache if self.is_past_or_figure(at) => None,
            W::Headache => Some(Hurt {
                body: Some(self.text(at).to_owned()),
                sign: self.says(pain::SEVERE).then_some(WarningSign::Stroke),
                ..Hurt::default()
            }),
            W::Headed => self.light_headed(at),
            W::PassedOut => self.goes_out(at),
            W::Collapsed => self
                .collapses(at)
                .then(|| flag("collapsed", WarningSign::Faint))
                .flatten(),
            W::Conscious => (self.text(at) == "unconscious" || self.says(&["lost", "losing"]))
                .then(|| flag(self.text(at), WarningSign::Faint))
                .flatten(),
            W::Vision if self.bag.any(&[W::My, W::Feel]) || self.says(pain::DIMMED) => {
                flag(self.text(at), WarningSign::Stroke)
            }
            W::Dark => self.goes_dark(at),
            W::Spin if !self.joke => self.spins(at),
            W::Urine if self.bag.has(W::Dark) => flag(self.dark_urine(at), WarningSign::Urine),
            W::Blood => self
                .bleeds()
                .then(|| flag(self.text(at), WarningSign::Bleeding))
                .flatten(),
            W::Bladder if self.says(pain::LEAKS) => flag(self.text(at), WarningSign::Bladder),
            W::Chest if self.is_place(at) => self
                .chest(at)
                .and_then(|body| flag(body, WarningSign::Chest)),
            W::Heart if self.beats_oddly(at) || self.is_at_rest() => {
                flag(self.text(at), WarningSign::Heart)
            }
            W::Breath | W::Breathless | W::Blow => self.breath(at),
            W::Numb if !self.says_anywhere(pain::COLD) => self.numb(at),
            _ if self.is_one(at, pain::SEEN) => self.sees(at),
            _ => None,
        }
    }

    fn symptom(&self, at: usize) -> Option<Hurt> {
        let text = self.text(at);
        // A faint smell, a faint chance.
        let sensed = text != "faint" || self.bag.has(W::Feel);
        let sign = match text {
            "nauseous" | "nausea" => None,
            "palpitations" => Some(WarningSign::Heart),
            _ => Some(WarningSign::Faint),
        };
        sensed.then(|| Hurt {
            body: Some(text.to_owned()),
            sign,
            ..Hurt::default()
        })
    }

    /// `light-headed`, `light headed`.
    fn light_headed(&self, at: usize) -> Option<Hurt> {
        let mut from = self.before(at)?;
        if self.text(from).is_empty() {
            from = self.before(from)?;
        }
        (self.w(from) == W::Light)
            .then(|| flag(self.words(from, at + 1), WarningSign::Faint))
            .flatten()
    }

    /// `passed out`, `blacking out`; `pass out` only as what one feels like. Flyers are passed out
    /// too, phones pass out, and so do those on a sofa.
    fn goes_out(&self, at: usize) -> Option<Hurt> {
        let told = self.text(at) != "pass" || self.feels_like(at);
        let out = self.w(at + 1) == W::Out && told && !self.says_anywhere(pain::COMFORTS);
        let dealt = self.is_noun(at + 2) && self.text(at + 2).ends_with('s');
        let things = dealt || self.subject(at).is_some_and(|i| self.is_noun(i));
        (out && !things)
            .then(|| flag(self.words(at, at + 2), WarningSign::Faint))
            .flatten()
    }

    /// The word before a deed and the adverbs that lead to it.
    fn subject(&self, deed: usize) -> Option<usize> {
        (self.clause.from..deed).rev().find(|&at| {
            !matches!(
                self.w(at),
                W::Just | W::Nearly | W::Have | W::Had | W::Fully
            ) && !self.is_one(at, pain::ADVERBS)
        })
    }

    /// A word that goes with no set: the thing that is spoken of.
    fn is_noun(&self, at: usize) -> bool {
        at < self.clause.to
            && self.token(at, |t| {
                t.kind == Kind::Word
                    && t.word.w == W::None
                    && !t.word.roles.any(Roles::FILL.with(Roles::FIT))
            })
    }

    /// `headache yesterday`, `a headache for the treasurer`.
    fn is_past_or_figure(&self, at: usize) -> bool {
        self.w(at + 1) == W::For || self.bag.any(&[W::Yesterday, W::Night])
    }

    /// `collapsed after that set`: the writer did, and nothing else in the clause.
    fn collapses(&self, at: usize) -> bool {
        let mut before = (self.clause.from..at).rev().take_while(|&i| {
            self.token(i, |t| t.kind == Kind::Word) && !matches!(self.w(i), W::And | W::Then)
        });
        let fell = matches!(self.text(at), "collapsed" | "keeled") || self.feels_like(at);
        let inward = self.w(at + 1) == W::In && self.text(at + 2) != "the";
        fell && !inward
            && !self.joke
            && !self.says(pain::COMFORTS)
            && before.all(|i| self.is_oneself(i))
    }

    /// The writer, or a word that leaves the writer the subject.
    fn is_oneself(&self, at: usize) -> bool {
        matches!(
            self.w(at),
            W::I | W::Just | W::Nearly | W::Then | W::So | W::Have | W::Had | W::Feel | W::Like
        ) || matches!(self.w(at), W::Going | W::To | W::About)
            || self.is_one(at, pain::ADVERBS)
    }

    /// `everything went black`, and nothing on a screen.
    fn goes_dark(&self, at: usize) -> Option<Hurt> {
        let went = self
            .before(at)
            .filter(|&before| matches!(self.text(before), "went" | "going" | "goes"))?;
        let all = self
            .before(went)
            .is_some_and(|before| self.is_one(before, pain::SURROUNDINGS));
        (all && !self.says_anywhere(pain::LIGHTS))
            .then(|| flag(self.words(went, at + 1), WarningSign::Faint))
            .flatten()
    }

    /// `the room is spinning`, `my head's spinning`.
    fn spins(&self, at: usize) -> Option<Hurt> {
        let around = (self.clause.from..at)
            .rev()
            .take(2)
            .any(|before| self.is_one(before, pain::SURROUNDINGS));
        around
            .then(|| flag(self.text(at), WarningSign::Faint))
            .flatten()
    }

    fn dark_urine(&self, at: usize) -> String {
        let from = (self.clause.from..at)
            .rev()
            .find(|&i| self.w(i) != W::Dark)
            .map_or(self.clause.from, |i| i + 1);
        self.words(from, at + 1)
    }

    /// `coughing up blood`, `blood in my pee`; a torn callus bleeds too.
    fn bleeds(&self) -> bool {
        self.bag.has(W::Urine) || self.says(pain::BLEEDS)
    }

    /// `chest tightness` and `chest pain` are symptoms as a whole; `tight` or `pain` elsewhere in
    /// the clause makes the chest the place.
    fn chest(&self, at: usize) -> Option<String> {
        if at + 1 < self.clause.to && self.is_one(at + 1, pain::CHEST_NOUNS) {
            return Some(self.words(at, at + 2));
        }
        let worse =
            self.says(pain::PRESSING) || self.bag.any(&[W::Pain, W::Hurt, W::Sharp, W::Ache]);
        worse.then(|| self.with_side(at))
    }

    /// `heart keeps skipping`, `irregular heart beat`, `heart racing weirdly`.
    fn beats_oddly(&self, at: usize) -> bool {
        let behind = at + 1..self.clause.to.min(at + 6);
        self.says(pain::ODD_BEAT) || behind.clone().any(|i| self.is_one(i, pain::ODD))
    }

    /// `seeing stars`, `saw double`; one sees black smoke, too.
    fn sees(&self, at: usize) -> Option<Hurt> {
        let before = self
            .before(at)
            .filter(|&before| self.is_one(before, pain::SEES))?;
        let ends = at + 1 >= self.clause.to
            || matches!(
                self.w(at + 1),
                W::After | W::On | W::In | W::And | W::Now | W::Again | W::For | W::There
            );
        ends.then(|| flag(self.words(before, at + 1), WarningSign::Faint))
            .flatten()
    }

    fn breath(&self, at: usize) -> Option<Hurt> {
        if self.is_at_rest() || self.is_long_after() {
            return flag(self.text(at), WarningSign::Breath);
        }
        let breathes = self.is_one(at, pain::BREATHES);
        let hurts = self.bag.any(&[W::Hurt, W::Sharp, W::Pain]) && self.text(at) == "breathe";
        let stuck = breathes && self.is_stuck(at) && !self.joke;
        let body = || self.first_place().unwrap_or_else(|| "breathing".to_owned());
        (hurts || stuck)
            .then(|| flag(body(), WarningSign::Breath))
            .flatten()
    }

    /// `can't breathe`, `struggling to breathe`, with nothing said of a set or of waiting;
    /// `can't breathe properly` whatever is said.
    fn is_stuck(&self, at: usize) -> bool {
        let unable = |i: usize| self.w(i) == W::Cant || self.is_one(i, pain::UNABLE);
        let near = (self.clause.from.max(at.saturating_sub(3))..at).any(unable);
        let heavily = self.text(at) == "breathing" && self.text(at + 1) == "hard";
        let of_a_set = self.bag.any(&[
            W::Yet,
            W::Still,
            W::After,
            W::Sets,
            W::Rest,
            W::Sec,
            W::Min,
            W::Now,
            W::In,
            W::From,
        ]) || self.names_an_exercise();
        let properly = matches!(self.text(at + 1), "properly" | "right" | "normally");
        near && !heavily && (properly || !of_a_set)
    }

    /// `at rest`, `even sitting down`.
    fn is_at_rest(&self) -> bool {
        let at_rest = self
            .tokens()
            .any(|at| self.w(at) == W::At && self.w(at + 1) == W::Rest);
        let still = self.tokens().any(|at| {
            self.is_one(at, pain::RESTING) && matches!(self.text(at + 1), "down" | "still")
        });
        let short = self
            .bag
            .any(&[W::Cant, W::Out, W::Short, W::Breathless, W::Heart]);
        at_rest || still && short && self.says(&["even", "while", "when", "just", "racing"])
    }

    /// `still out of breath after 10 minutes`.
    fn is_long_after(&self) -> bool {
        let long = |at: usize| {
            let seconds = self.scan.digits(at).map(|count| count * 60.0);
            seconds.is_some_and(|s| s >= BREATH_IS_BACK_S) && self.w(at + 1) == W::Min
        };
        let short = self.bag.any(&[W::Cant, W::Out, W::Short, W::Breathless]);
        self.bag.has(W::Still) && short && self.tokens().any(long)
    }

    /// Both legs, the saddle, an arm or the face: not the hand that slept.
    fn numb(&self, at: usize) -> Option<Hurt> {
        let spine = self.bag.any(&[W::Both, W::Saddle]) || self.says(&["legs", "groin"]);
        const FACE: &[&str] = &["face", "tongue", "mouth"];
        let face = (self.text(at).starts_with("numb") && self.says(FACE))
            .then(|| self.tokens().find(|&i| self.is_one(i, FACE)))
            .flatten();
        if let Some(face) = face {
            return flag(self.text(face), WarningSign::Stroke);
        }
        let body = || {
            self.body_near(at)
                .unwrap_or_else(|| self.text(at).to_owned())
        };
        let sign = if self.bag.has(W::Saddle) || self.says(&["groin"]) {
            WarningSign::Bladder
        } else {
            WarningSign::Limb
        };
        spine.then(|| flag(body(), sign)).flatten()
    }
}
