//! Whose hurt is told, and when: only the writer's, now.

use super::super::lexicon::pain;
use super::super::token::{Kind, Mark};
use super::super::vocabulary::{Roles, W};
use super::told::Told;

/// A clause that names somebody else.
pub(super) struct Teller {
    /// The sentence that it stands in.
    sentence: usize,
    /// Its first token.
    from: usize,
    /// It says that somebody said so.
    speaks: bool,
}

impl Told<'_> {
    /// The clause, where it names somebody else.
    pub(super) fn as_teller(&self) -> Option<Teller> {
        (self.names_others() && !self.says_it_hurts_me()).then(|| Teller {
            sentence: self.clause.sentence,
            from: self.clause.from,
            speaks: self.speaks(),
        })
    }

    /// Somebody else's, asked about, long ago, feared or denied. `tellers` are those of the message.
    pub(super) fn is_of_others(&self, tellers: &[Teller]) -> bool {
        self.clause.end == Some(Mark::Question)
            || self.is_set_aside()
            || self.is_of_another_time()
            || self.has_subject()
            || self.others_tell(tellers)
    }

    /// Words of wishes, plans, memories and trade, but for those that are part of a sign.
    fn is_set_aside(&self) -> bool {
        let own = Roles::INTENT
            .with(Roles::WHO)
            .with(Roles::PAST)
            .with(Roles::TRADE);
        self.tokens()
            .any(|at| self.token(at, |t| t.word.roles.any(own)) && !self.is_of_sign(at))
    }

    /// `going numb` happens now, `going to hurt` is still to come; `lost control` is no lost bottle,
    /// `worst headache ever` no memory, `heart won't slow down` no refusal; what one feels like
    /// doing next is felt now.
    fn is_of_sign(&self, at: usize) -> bool {
        let next = self.text(at + 1);
        match self.text(at) {
            "going" => matches!(self.w(at + 1), W::Numb | W::Dark) || self.feels_like(at),
            "lost" => (at + 1..at + 4).any(|at| {
                matches!(
                    self.text(at),
                    "control" | "consciousness" | "feeling" | "vision" | "sight"
                )
            }),
            "ever" | "life" => self.says(&["worst"]),
            "wont" => matches!(next, "slow" | "settle" | "stop" | "calm" | "come"),
            "gonna" => self.feels_like(at),
            _ => false,
        }
    }

    /// `feel like i'm gonna faint`.
    pub(super) fn feels_like(&self, at: usize) -> bool {
        (self.clause.from..at).any(|i| self.w(i) == W::Feel && self.w(i + 1) == W::Like)
    }

    fn is_of_another_time(&self) -> bool {
        self.tokens().any(|at| {
            self.w(at) == W::Last && matches!(self.w(at + 1), W::Week)
                || self.w(at) == W::Ago
                || self.text(at) == "if"
                || self.token(at, |t| {
                    t.kind == Kind::Number && t.value > 1900.0 && t.value < 2100.0
                })
        })
    }

    /// `otis felt dizzy`: an unknown word at the start, right before what was felt.
    fn has_subject(&self) -> bool {
        let from = self.clause.from;
        let stranger = self.token(from, |t| {
            t.kind == Kind::Word && !t.word.roles.any(Roles::KNOWN) && t.word.w == W::None
        });
        let verb = from + 1;
        stranger
            && verb < self.clause.to
            && (matches!(
                self.w(verb),
                W::Feel | W::Tweaked | W::Hurt | W::Got | W::Had
            ) || self.is_one(verb, pain::OTHERS_VERBS))
    }

    /// Somebody else is named here, before, or behind as the one who says it.
    fn others_tell(&self, tellers: &[Teller]) -> bool {
        tellers.iter().any(|teller| {
            teller.sentence == self.clause.sentence
                && (teller.from <= self.clause.from || teller.speaks)
        })
    }

    fn names_others(&self) -> bool {
        self.tokens().any(|at| self.is_other(at))
    }

    /// A word for somebody else; `heard a pop` and `saw stars` were heard and seen by the writer.
    fn is_other(&self, at: usize) -> bool {
        self.token(at, |t| t.word.roles.any(Roles::OTHER))
            && !self.is_one(at + 1, pain::SEEN)
            && !(self.text(at) == "heard" && self.hears_a_sound(at))
    }

    /// `heard a pop`, `felt something tear`.
    pub(super) fn hears_a_sound(&self, at: usize) -> bool {
        self.is_one(at, pain::SENSES)
            && (at + 1..self.clause.to.min(at + 5)).any(|i| self.is_one(i, pain::SOUNDS))
    }

    /// `he said`, `according to her`, `she's fine`: what stands before was somebody else's.
    fn speaks(&self) -> bool {
        self.says(pain::SPEAKERS)
    }

    /// `told`, `said` and the like beside `my` still speak of the writer's own body; so does
    /// `tweaked my back picking up the dog`, where others come in only behind.
    fn says_it_hurts_me(&self) -> bool {
        if self.others_come_behind() {
            return true;
        }
        let mine = self.tokens().any(|at| matches!(self.w(at), W::My | W::I));
        let mut persons = self.tokens().filter(|&at| self.is_other(at));
        mine && persons.all(|at| self.w(at) == W::You)
    }

    fn others_come_behind(&self) -> bool {
        let pain = self
            .tokens()
            .find(|&at| self.token(at, |t| t.word.roles.any(Roles::PAIN)));
        let my_place = pain.and_then(|pain| {
            (pain + 1..self.clause.to.min(pain + 4)).find(|&at| self.w(at) == W::My)
        });
        my_place.is_some_and(|my| {
            !self.speaks() && (self.clause.from..=my).all(|at| !self.is_other(at))
        })
    }
}
