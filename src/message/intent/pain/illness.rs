//! Illness of the writer's own: a fever, or an illness that one has or comes back from.
//!
//! Beside the learned decision, as a caution is: it stops nothing, and says whom to ask. That one does not train with a
//! fever, and begins lightly after an illness, is general sports-medical teaching (from memory).

use super::overdose::{Words, found};
use crate::domain::quantities::warning::Caution;
use crate::message::words::Marked;
use crate::message::words::token::Tokens;
use crate::message::words::variants::has;

/// Illnesses, and what is taken for them.
const ILLNESSES: &str = "flu influenza covid covid19 corona rona pneumonia bronchitis tonsillitis tonsilitis sinusitis gastro \
    gastroenteritis norovirus pleurisy shingles mumps measles chickenpox malaria sepsis virus infection antibiotics lurgy \
    sniffles unwell feverish";
/// Words that stand for one behind these: `stomach bug`, `caught a cold`.
const OF_TWO: [(&str, &str); 5] = [
    ("bug", "stomach tummy sickness nasty winter"),
    (
        "cold",
        "a my this bad head heavy slight stinking nasty chest summer man-flu",
    ),
    ("poisoning", "food"),
    ("weather", "the"),
    ("throat", "strep"),
];
/// What is cold by itself, or about an illness and none: `a cold gym`, `flu jab`.
const OF_ELSE: &str = "jab jabs shot shots vaccine vaccination booster season test tests tested round around rules times \
    restrictions lockdown weight scan checker pitch tree dream";
/// Behind a cold that is none of a thing: `a cold spoon`.
const BEHIND_COLD: &str = "today now and but so since this last for at still all coming going atm tonight yesterday i im i'm is \
    or which that thats again though week can should ok lol from";
/// Before an illness of the writer's own, with whatever of these: nobody else is named, and nothing else told.
const LEADS: &str = "i i've ive i'm im id i'd am was were had have having got get getting caught catch catching back from after \
    before over with w recovering recovered feeling felt feel feels down under been being since on off still just only \
    coming come bit of slight slightly bad badly a an the this my first session day days week weeks month months fortnight \
    return returning return post for because cos due to and so but now today yesterday tonight morning running fighting \
    shaking beating through out quick in bed ill sick not no going go went train training lift lifting workout gym is it \
    ok okay safe fine should can could shall do may if really very quite properly pretty rather too kind head chest \
    stomach tummy sickness winter nasty heavy stinking glandular scarlet dengue man dose doc doctor gp put me by might \
    maybe think probably both about some again all lately also sorry ok hi hey guys hello at one couple few missed out \
    1st near high temp up down fell mild think said says";
/// Before `ill`, `sick` and `poorly`, that they are the writer's state.
const STATE: &str =
    "was were been im i'm am being got fell feel feeling felt bit quite very really off properly";
/// The same where a time is told behind: `so ill last week`, and not `so ill lift`.
const SINCE: &str = "for since last all with yesterday again";
/// Fevers that are illnesses of their own, and such as are none.
const NAMED_FEVERS: &str = "glandular dengue scarlet rheumatic yellow";
const NO_FEVERS: &str = "hay cabin disco dance night spring";
/// Before a temperature, that it is the writer's.
const RUNNING: &str = "running got have had with slight high bit my a";
/// Beside one that is the room's or the weather's.
const ROOM: &str =
    "room gym outside out here water bar hall garage weather forecast degrees inside";
/// Body temperatures of a fever, in degrees Celsius and Fahrenheit.
const CELSIUS: std::ops::Range<f64> = 37.5..43.0;
const FAHRENHEIT: std::ops::Range<f64> = 99.5..110.0;
/// From here on it is no matter of rest.
const BURNING: std::ops::Range<f64> = 39.0..44.0;
/// Denied, or over.
const NO: &str = "no not without never isnt wasnt isn't wasn't hasnt dont anti avoid";
const OVER: &str = "gone over passed cleared finished";
/// Long ago.
const LONG_AGO: &str = "year years kid child childhood school uni when easter christmas";
/// Of a machine.
const MACHINES: &str = "laptop computer phone pc app site website";
/// What is told of an evening of fever that is past.
const PAST: &str = "last ago before after had was yesterday";

/// What a message tells of its writer's illness.
pub(super) fn illness(tokens: &Tokens, marked: &Marked) -> Option<Caution> {
    let words = Words::of(tokens);
    let told = (0..words.0.len()).filter_map(|at| {
        let caution = words.illness_at(at)?;
        let scope = found(marked, words.0[at].token).scope;
        let own = !scope.other && !scope.supposed && words.is_led(at);
        (own && words.is_of_now(at)).then_some(caution)
    });
    // `doc signed me off, ok to lift now`: off work, or off the list; the doctor knows.
    let signed = || {
        let off = |at: usize| words.text(at + 1) == "off" || words.text(at + 2) == "off";
        let mut places = 0..words.0.len();
        asks_leave(&words) && places.any(|at| words.text(at) == "signed" && off(at))
    };
    told.min_by_key(|caution| *caution != Caution::Fever)
        .or_else(|| signed().then_some(Caution::Doctor))
}

/// Whether leave to train is asked: `ok to lift now`, `can i train`.
fn asks_leave(words: &Words<'_>) -> bool {
    let next = |at: usize| words.text(at + 1);
    (0..words.0.len()).any(|at| match words.text(at) {
        "ok" | "okay" | "safe" | "fine" => next(at) == "to",
        "can" | "should" | "may" | "could" | "am" => next(at) == "i",
        _ => false,
    })
}

/// Whether a message names a temperature that no illness explains: heat, or a fever that cannot wait.
pub(super) fn is_burning(tokens: &Tokens) -> bool {
    let mut words = Words::of(tokens).0.into_iter();
    words.any(|word| {
        word.text == "after"
            || word
                .number
                .is_some_and(|degrees| BURNING.contains(&degrees))
    })
}

impl Words<'_> {
    fn illness_at(&self, at: usize) -> Option<Caution> {
        let (word, next) = (self.text(at), self.text(at + 1));
        let before = |back: usize| at.checked_sub(back).map_or("", |at| self.text(at));
        let illness = Some(Caution::Illness);
        if has(OF_ELSE, next) || next == "going" && has(OF_ELSE, self.text(at + 2)) {
            return None;
        }
        if word.starts_with("fever") {
            if has(NAMED_FEVERS, before(1)) {
                return illness;
            }
            let past = self.sentence_of(at).any(|word| has(PAST, word));
            let now = self.sentence_of(at).any(|word| word == "still");
            return match has(NO_FEVERS, before(1)) || has("for on", next) || before(1) == "the" {
                true => None,
                false if past && !now => illness,
                false => Some(Caution::Fever),
            };
        }
        if matches!(word, "temperature" | "temp") {
            let near = self.0.iter().skip(at.saturating_sub(3)).take(7);
            let mut degrees = near.filter_map(|word| word.number);
            let hot =
                degrees.any(|degrees| CELSIUS.contains(&degrees) || FAHRENHEIT.contains(&degrees));
            let running = has(RUNNING, before(1)) && !matches!(next, "is" | "of" | "in");
            let room = self.sentence_of(at).any(|word| has(ROOM, word));
            return ((hot || running) && !room).then_some(Caution::Fever);
        }
        let of_two = OF_TWO.iter().find(|(last, _)| *last == word);
        if let Some((last, leads)) = of_two {
            let led = has(leads, before(1)) && (*last != "weather" || before(2) == "under");
            let alone = *last != "cold"
                || self
                    .0
                    .get(at + 1)
                    .is_none_or(|word| word.clause != self.0[at].clause)
                || has(BEHIND_COLD, next);
            return (led && alone).then_some(Caution::Illness);
        }
        let since = has(SINCE, next);
        match word {
            // `i'll` without its mark.
            "ill" | "poorly" if next != "be" && (has(STATE, before(1)) || since) => illness,
            "ill" | "poorly" if next.is_empty() && has("so still too", before(1)) => illness,
            "sick" if matches!(before(1), "off" | "fell") => illness,
            "sick" if !before(1).starts_with("fe") && has("for all last", next) => illness,
            _ if has(ILLNESSES, word) => illness,
            _ => None,
        }
    }

    /// Whether nothing stands before a word in its clause but what leads to an illness of one's own.
    fn is_led(&self, at: usize) -> bool {
        let clause = self.0[at].clause;
        let before = self.0[..at].iter().rev();
        let mut before = before.take_while(|word| word.clause == clause);
        before.all(|word| has(LEADS, word.text) || word.value().is_some())
    }

    /// The words of the sentence of one.
    fn sentence_of(&self, at: usize) -> impl Iterator<Item = &str> {
        let sentence = self.0[at].sentence;
        let same = self.0.iter().filter(move |word| word.sentence == sentence);
        same.map(|word| word.text)
    }

    /// Neither denied, nor over, nor long ago.
    fn is_of_now(&self, at: usize) -> bool {
        let clause = self.0[at].clause;
        let of_clause = |at: &usize| self.0.get(*at).is_some_and(|word| word.clause == clause);
        let says = |mut places: std::ops::Range<usize>, list: &str| {
            places.any(|at| of_clause(&at) && has(list, self.text(at)))
        };
        let of_else = |list: &str| self.sentence_of(at).any(|word| has(list, word));
        !(says(at.saturating_sub(2)..at, NO)
            || says(at + 1..at + 4, OVER)
            || of_else(LONG_AGO)
            || of_else(MACHINES))
    }
}
