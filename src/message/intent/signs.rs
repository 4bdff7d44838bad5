//! What a message may be, told by one pass over its words: most chat is left after it.

use super::ask;
use crate::message::grammar::clause::Bag;
use crate::message::words::token::{Kind, Mark, Tokens};
use crate::message::words::vocabulary::{Roles, W};

/// Signs of what a message may hold. A sign that is missing rules the thing out; one that is there
/// decides nothing.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Signs {
    bag: Bag,
    roles: Roles,
    digits: bool,
    clock: bool,
    asks: bool,
    product: bool,
    /// How many numbers it has.
    numbers: usize,
    starred: bool,
    count: usize,
}

impl Signs {
    /// The signs of a message.
    pub(crate) fn of(tokens: &Tokens) -> Self {
        let mut signs = Self {
            bag: Bag::default(),
            roles: Roles::default(),
            digits: false,
            clock: false,
            asks: false,
            product: false,
            numbers: 0,
            starred: false,
            count: tokens.list.len(),
        };
        for token in &tokens.list {
            match token.kind {
                Kind::Word => {
                    signs.bag.put(token.word.w);
                    signs.roles = signs.roles.with(token.word.roles);
                }
                Kind::Number => {
                    signs.digits = true;
                    signs.numbers += 1;
                }
                Kind::Clock => signs.clock = true,
                Kind::Mark(Mark::Question) => signs.asks = true,
                Kind::Mark(Mark::Times | Mark::At) => signs.product = true,
                Kind::Mark(Mark::Star) => signs.starred = true,
                _ => {}
            }
        }
        signs
    }

    /// Numbers that may be sets.
    pub(crate) fn sets(&self) -> bool {
        self.digits
            || self
                .bag
                .any(&[W::Reps, W::Sets, W::Rounds, W::By, W::RepNoun])
                && self.bag.any(&[W::Numeral, W::Couple])
            || self.count <= 8 && self.bag.has(W::Numeral)
            || self.bag.has(W::Ordinal) && self.bag.any(&[W::Failed, W::Failure, W::Couldnt])
    }

    /// A name may have a slip in it: words that only sets have stand around it.
    pub(crate) fn slips(&self) -> bool {
        let words = [
            W::Reps,
            W::Kg,
            W::Lb,
            W::K,
            W::For,
            W::Rir,
            W::Rpe,
            W::Left,
            W::F,
            W::Failure,
            W::Failed,
            W::S,
            W::Bw,
            W::Sets,
            W::R,
            W::Warmup,
            W::Assist,
        ];
        // A mended name would not make a set of such a message anyway.
        let chat = Roles::WHO.with(Roles::TRADE);
        self.digits
            && !self.roles.any(chat)
            && (self.product || self.count <= 6 || self.numbers > 2 || self.bag.any(&words))
    }

    /// A correction.
    pub(crate) fn correction(&self) -> bool {
        let words = [
            W::Undo,
            W::Scratch,
            W::Remove,
            W::Not,
            W::Instead,
            W::Make,
            W::Change,
            W::Meant,
            W::Correction,
            W::Was,
            W::Should,
            W::Actually,
            W::Wrong,
            W::No,
            W::Sorry,
        ];
        !self.asks && (self.starred || self.product && self.count <= 3 || self.bag.any(&words))
            || self.bag.all(&[W::Take, W::Back])
            || self.bag.any(&[W::That, W::Last]) && self.count <= 4
    }

    /// What ended a set.
    pub(crate) fn ending(&self) -> bool {
        self.roles.any(Roles::NAME)
            || self.bag.any(&[
                W::Breath,
                W::Lung,
                W::Limb,
                W::Hand,
                W::Bar,
                W::Gassed,
                W::Blow,
            ])
            || self.bag.any(&[W::Breathless, W::Cardio, W::Stay])
    }

    /// A question to the bot.
    pub(crate) fn question(&self) -> bool {
        ask::may_ask(&self.bag, self.asks)
    }

    /// A word on readiness.
    pub(crate) fn readiness(&self) -> bool {
        let words = [
            W::Ready,
            W::Blow,
            W::Breathless,
            W::Breath,
            W::Lung,
            W::Heart,
            W::Gassed,
            W::Head,
            W::Keen,
            W::Unkeen,
            W::Feel,
            W::There,
            W::Recovering,
            W::Giving,
            W::Fire,
            W::Gave,
            W::Yet,
        ];
        self.bag.any(&words)
            || self.roles.any(Roles::SPENT)
            || self.bag.all(&[W::Good, W::Go])
            || self.bag.all(&[W::All, W::Sets])
            || self.bag.all(&[W::I, W::Good])
            || self.bag.has(W::Back) && self.bag.any(&[W::Is, W::Are])
            || self.bag.all(&[W::Up, W::It])
            || self.bag.has(W::Still) && self.roles.any(Roles::NAME)
            || self.roles.any(Roles::WELL) && self.roles.any(Roles::NAME)
            || self.bag.any(&[W::Need, W::Not]) && self.roles.any(Roles::NAME)
    }

    /// Whether nothing of it all can be; `after_set` says that there is a set to speak of.
    pub(crate) fn nothing(&self, after_set: bool) -> bool {
        !(after_set && self.ending()
            || self.sets()
            // `plank 1:30`
            || self.clock && self.count <= 12 && self.roles.any(Roles::NAME)
            || self.correction()
            || self.question()
            || self.readiness())
    }
}
