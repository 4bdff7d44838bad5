//! Pain, strains and things that gave: hurts that stop an exercise and call for no doctor by
//! themselves, unless they are told of the heart's side.

use super::super::lexicon::pain::{ARMS_AND_FACE, COLD, NOT_RIGHT, SENSES};
use super::super::reading::Hurt;
use super::super::vocabulary::{Roles, W};
use super::told::{Told, is_joint};
use crate::domain::warning::WarningSign;

impl Told<'_> {
    /// The first pain of the clause.
    pub(super) fn pain(&self) -> Option<Hurt> {
        self.tokens().find_map(|at| self.pain_at(at))
    }

    fn pain_at(&self, at: usize) -> Option<Hurt> {
        if let Some(body) = self.hurting(at) {
            return Some(Hurt {
                sign: self.is_of_the_heart(&body),
                body: Some(body).filter(|body| !body.is_empty()),
                ..Hurt::default()
            });
        }
        // A sharp pain is one wherever it is.
        let sharp = match self.w(at) {
            W::Sharp => self.bag.has(W::Pain),
            W::Pain => self.bag.has(W::Sharp) && !self.is_idiom(at),
            _ => false,
        };
        sharp.then(Hurt::default)
    }

    /// What hurts by the word at `at`; empty where that is not said.
    fn hurting(&self, at: usize) -> Option<String> {
        let near = || self.body_near(at);
        let joint = || near().filter(|body| is_joint(body));
        let sore = self.bag.any(&[W::From, W::Sore]);
        match self.w(at) {
            W::Pain if self.is_idiom(at) => None,
            W::Numb if self.says_anywhere(COLD) => None,
            W::Pain | W::Sharp | W::Numb | W::Swollen => near(),
            W::Hurt | W::Killing if sore => joint(),
            W::Hurt if self.bag.has(W::Myself) => near().or(Some(String::new())),
            W::Hurt => near(),
            W::Tweaked if self.is_no_tweak(at) => None,
            W::Tweaked => near().or_else(|| self.is_untold(at).then(String::new)),
            W::Killing => joint(),
            // What gave out before something else, or first, ended a set.
            W::Gave if matches!(self.text(at + 2), "first" | "before") => None,
            W::Gave if self.w(at + 1) == W::Out || self.text(at + 1) == "way" => joint(),
            // A back that collapses on a squat is technique.
            W::Collapsed if self.w(at + 1) != W::In => self
                .place_just_before(at)
                .filter(|body| is_joint(body) && !body.contains("back")),
            W::Went if self.before(at).is_some_and(|b| self.w(b) == W::Something) => near(),
            W::Went => self.place_just_before(at),
            W::Threw | W::Put => self.thrown_out(at),
            W::Feel if self.w(at + 1) == W::Right && self.denies_right() => near(),
            W::Go if self.feels_it_go(at) => near(),
            W::Wrong | W::Off if self.bag.has(W::Something) => (at..self.clause.to)
                .find(|&i| self.is_place(i))
                .map(|i| self.with_side(i)),
            W::Ache if sore => None,
            W::Ache => joint(),
            _ => None,
        }
    }

    /// `pain down my left arm`, `arm went numb`, jaw and breath together: the heart's or the
    /// brain's sign rather than the arm's.
    fn is_of_the_heart(&self, body: &str) -> Option<WarningSign> {
        let jaw = body.contains("jaw") && self.bag.any(&[W::Breath, W::Breathless, W::Limb]);
        let part = body.rsplit(' ').next().unwrap_or_default();
        let numb = ARMS_AND_FACE.contains(&part) && self.says(&["numb", "numbness"]);
        let left = body == "left arm" && (self.says(&["down"]) || self.bag.has(W::Numb));
        if jaw || left {
            return Some(WarningSign::Chest);
        }
        numb.then_some(WarningSign::Limb)
    }

    /// `felt my hamstring go`.
    fn feels_it_go(&self, at: usize) -> bool {
        let ends = at + 1 >= self.clause.to
            || matches!(self.w(at + 1), W::On | W::In | W::Out | W::At | W::There);
        let place = self.before(at).filter(|&place| self.is_place(place));
        let felt = (self.clause.from..at).any(|i| self.text(i) == "felt" && self.w(i + 1) == W::My);
        ends && felt && place.is_some()
    }

    /// Whether something in the clause is denied.
    fn denies_right(&self) -> bool {
        self.bag.has(W::Not) || self.says(NOT_RIGHT)
    }

    /// `something popped`, `heard a pop`: where is not said.
    fn is_untold(&self, at: usize) -> bool {
        self.bag.has(W::Something)
            || (self.clause.from..at).any(|i| self.hears_a_sound(i)) && self.text(at) == "pop"
    }

    /// `threw my back out`, `put my back out`.
    fn thrown_out(&self, at: usize) -> Option<String> {
        let place = (at + 1..self.clause.to).find(|&i| self.is_place(i))?;
        let out =
            self.w(at + 1) == W::My && place + 1 < self.clause.to && self.w(place + 1) == W::Out;
        out.then(|| self.with_side(place))
    }

    /// `my back went`: the place directly before the word, and no way that it went.
    fn place_just_before(&self, at: usize) -> Option<String> {
        let mut place = self.before(at)?;
        if self.w(place) == W::Just {
            place = self.before(place)?;
        }
        let led = self.before(place).is_some_and(|before| {
            self.token(before, |t| {
                t.word.w == W::My || t.word.roles.any(Roles::SIDE)
            })
        });
        let ends = at + 1 >= self.clause.to || matches!(self.w(at + 1), W::On | W::Again | W::Out);
        (led && ends && self.is_place(place)).then(|| self.with_side(place))
    }

    /// `a pain in the neck` is a nuisance.
    fn is_idiom(&self, at: usize) -> bool {
        let back = |steps| at.checked_sub(steps).map_or(W::None, |at| self.w(at));
        let a = back(1) == W::A || back(2) == W::A && !matches!(back(1), W::Sharp | W::None);
        a && self.w(at + 1) == W::In && self.w(at + 2) == W::The
    }

    /// `pulled 140` is a lift; `snap` and `tear` are felt or heard, or they are something else.
    fn is_no_tweak(&self, at: usize) -> bool {
        match self.text(at) {
            "pulled" => self.scan.digits(at + 1).is_some(),
            "snap" | "tear" | "tearing" | "snapping" | "rip" | "ripping" => {
                !(self.clause.from..at).any(|i| self.is_one(i, SENSES))
            }
            _ => false,
        }
    }
}
