//! What a message asks, by the ideas in it. The first rule that fits holds.

use std::collections::BTreeSet;

use super::days::DayAsked;
use super::lexicon::{Idea as I, Term};
use super::{Heard, Talk};

impl Heard {
    pub(super) fn has(&self, idea: I) -> bool {
        self.ideas.contains(&idea)
    }

    pub(super) fn any(&self, ideas: &[I]) -> bool {
        ideas.iter().any(|idea| self.has(*idea))
    }

    /// Whether nothing of weight stands there but these.
    fn only(&self, ideas: &[I]) -> bool {
        let allowed: BTreeSet<I> = ideas.iter().copied().chain([I::Filling]).collect();
        self.ideas.is_subset(&allowed) && !self.names() && self.day.is_none() && !self.number
    }

    /// Whether an exercise or a muscle is named.
    const fn names(&self) -> bool {
        self.exercise.is_some() || !self.muscles.is_empty()
    }

    pub(super) fn word(&self, word: &str) -> bool {
        self.words.iter().any(|own| own == word)
    }

    /// Whether the words are those of a question, with or without its mark.
    pub(super) fn questions(&self) -> bool {
        self.asks
            || self.any(&[I::What, I::How, I::Why, I::When])
            || self.word("show")
            || self.word("tell")
    }
}

/// What is asked.
pub(super) fn asked(heard: &Heard) -> Option<Talk> {
    about_the_bot(heard)
        .or_else(|| meaning(heard))
        .or_else(|| about_own_sets(heard))
        .or_else(|| how_to(heard))
        .or_else(|| about_training(heard))
}

/// `how accurate are you?`, `are your predictions any good`, `how often are you wrong?`.
pub(super) fn accuracy(heard: &Heard) -> Option<Talk> {
    if !heard.has(I::Accurate) || heard.names() || heard.number || heard.day.is_some() {
        return None;
    }
    let beside = [
        I::Accurate,
        I::Bot,
        I::Do,
        I::How,
        I::What,
        I::That,
        I::Best,
        I::Many,
        I::I,
        I::Load,
        I::Last,
        I::Change,
        I::Off,
        I::Reps,
        I::Sets,
        I::Help,
        I::Greeting,
        I::Word,
    ];
    // `how right are you` is one word to the ear.
    let addressed = heard.words.windows(2).any(|pair| pair == ["are", "you"]);
    let of_the_bot = addressed
        || heard.has(I::Bot)
        || ["your", "youre", "u"].iter().any(|word| heard.word(word));
    let bare = heard.words.len() <= 2 && heard.asks;
    let asks = heard.asks || heard.any(&[I::How, I::What]);
    // `can you predict my max`, `i guess`: no such question.
    let quality = heard.has(I::How) || heard.asks && !heard.has(I::May) && !heard.has(I::Best);
    (heard.only(&beside) && asks && quality && (of_the_bot || bare)).then_some(Talk::Accuracy)
}

fn about_the_bot(heard: &Heard) -> Option<Talk> {
    if heard.weighty == 0 {
        return None;
    }
    let greets = heard.has(I::Greeting) || heard.words.len() == 2 && heard.has(I::Bot);
    // `hi all` and `hi again` are said to the others.
    if greets && heard.only(&[I::Greeting, I::Bot]) && !heard.has(I::Filling) {
        // `good morning` alone is said to the others.
        return (!heard.word("morning") && !heard.word("evening") && !heard.word("afternoon"))
            .then_some(Talk::Greeting);
    }
    if heard.has(I::Who) {
        return Some(Talk::Help);
    }
    let to_bot = [
        I::Help,
        I::I,
        I::Greeting,
        I::Bot,
        I::May,
        I::Do,
        I::That,
        I::What,
        I::How,
        I::Only,
    ];
    if heard.has(I::Help) && heard.only(&to_bot) {
        return Some(Talk::Help);
    }
    let works = [
        I::How,
        I::That,
        I::Works,
        I::Start,
        I::I,
        I::Do,
        I::Bot,
        I::May,
        I::Greeting,
        I::Help,
        I::What,
        I::Off,
    ];
    let is_start = heard.has(I::Start) && heard.any(&[I::How, I::What]);
    let is_work = heard.has(I::Works) && heard.has(I::How);
    let uses = heard.has(I::How) && heard.word("use") && heard.any(&[I::That, I::Bot]);
    let what_this = heard.has(I::What)
        && heard.any(&[I::That, I::Bot])
        && heard.only(&[I::What, I::That, I::Bot, I::Greeting, I::Works]);
    let can_it = heard.has(I::What)
        && heard.has(I::May)
        && (heard.word("you") || heard.has(I::Bot))
        && heard.only(&[I::What, I::May, I::Do, I::Bot, I::Help, I::I, I::Post]);
    let can_i_ask = heard.has(I::What) && heard.has(I::May) && heard.word("ask");
    if (is_start || is_work || uses) && heard.only(&works) || what_this || can_it || can_i_ask {
        return Some(Talk::Help);
    }
    None
}

/// `what is rir`, `rir?`, `explain direct`, `what counts as a set`.
fn meaning(heard: &Heard) -> Option<Talk> {
    let term = heard.term?;
    if heard.names() || heard.day.is_some() {
        return None;
    }
    let own = heard.has(I::I);
    let bare = heard.asks && heard.words.len() <= 3 && heard.weighty == 1 && !own;
    // `count?` is about a set, and `plan?` about the member's own.
    let is_other_too = term.is_asked_otherwise();
    if bare && !is_other_too {
        return Some(Talk::Meaning(term));
    }
    let explains = heard.has(I::Mean);
    let what_is = heard.has(I::What)
        && !own
        && !heard.any(&[I::Last, I::Did, I::Best, I::Plan, I::Due, I::Unit, I::Load])
        && (heard.word("is") || heard.word("whats") || heard.word("are") || heard.word("does"));
    let what_counts = term == Term::Counted
        && heard.any(&[I::What, I::When, I::How])
        && !own
        && !heard.any(&[I::Did, I::Many, I::Last])
        && !heard.has(I::That);
    (explains && (!own || heard.word("i")) || what_is || what_counts).then_some(Talk::Meaning(term))
}

/// What was done and what was best.
fn about_own_sets(heard: &Heard) -> Option<Talk> {
    let own_sets = [
        I::Sets,
        I::That,
        I::Last,
        I::Count,
        I::I,
        I::Did,
        I::Why,
        I::Off,
        I::Do,
        I::Reps,
        I::How,
    ];
    let one_set = heard.has(I::Count)
        && heard.any(&[I::That, I::Last, I::Sets, I::Why])
        && heard.any(&[I::Did, I::Do, I::Why, I::That, I::Last])
        && !heard.has(I::Many);
    let does = heard.word("does") || heard.word("is") || heard.word("was") || heard.has(I::Did);
    if one_set && (does || heard.has(I::Why)) && heard.only(&own_sets) && !heard.has(I::What) {
        return Some(heard.counted());
    }
    if let Some(why) = why(heard) {
        return Some(why);
    }
    // To record is to post, but a lift's record is its best.
    let record = heard.word("record") && heard.asks && heard.exercise.is_some();
    if record && heard.words.len() <= 5 && !heard.any(&[I::How, I::May, I::What]) {
        return Some(Talk::Best(heard.exercise));
    }
    if heard.has(I::Best) || heard.term == Some(Term::OneRepMax) {
        let asks = heard.questions() || heard.has(I::I) || heard.words.len() <= 3;
        let of_something = heard.has(I::I) || heard.exercise.is_some() || heard.words.len() <= 3;
        let advice = heard.any(&[I::Rest, I::Form, I::Plan, I::Due]);
        let way = heard.word("way") || heard.word("for") && heard.muscles.len() + 1 > 1;
        let counted = heard.weighty > 0 && (heard.asks || heard.has(I::I) || heard.has(I::What));
        if asks && of_something && counted && !advice && !way {
            return Some(match heard.exercise.is_none() && heard.has(I::That) {
                true => Talk::BestHere,
                false => Talk::Best(heard.exercise),
            });
        }
    }
    let can_lift = heard.exercise.is_some()
        && heard.has(I::May)
        && heard.has(I::I)
        && heard.has(I::How)
        && heard.has(I::Many)
        && !heard.has(I::Rest);
    if can_lift && !heard.has(I::Due) {
        return Some(Talk::Best(heard.exercise));
    }
    if let Some(progress) = progress(heard) {
        return Some(progress);
    }
    history(heard)
}

/// `why?`, `why that load`, `why so long`, `why 80 on bench`.
fn why(heard: &Heard) -> Option<Talk> {
    if !heard.has(I::Why) || heard.has(I::Did) && heard.has(I::Off) {
        return None;
    }
    let of_advice = [
        I::Why,
        I::Load,
        I::Rest,
        I::Measure,
        I::That,
        I::Reps,
        I::Sets,
        I::Unit,
        I::Many,
        I::What,
        I::Do,
        I::Due,
        I::Time,
        I::How,
        I::I,
        I::Off,
        I::May,
        I::Word,
        I::Mean,
    ];
    let fits = heard
        .ideas
        .iter()
        .all(|idea| of_advice.contains(idea) || *idea == I::Filling);
    // `why not` is a yes.
    let yes = heard.words.len() == 2 && heard.word("not");
    (fits && heard.muscles.is_empty() && heard.day.is_none() && !yes)
        .then_some(Talk::Why(heard.exercise))
}

fn progress(heard: &Heard) -> Option<Talk> {
    if !heard.has(I::Progress) || heard.has(I::Last) && heard.has(I::Did) {
        return None;
    }
    let own = heard.has(I::I) || heard.exercise.is_some() || heard.asks && heard.words.len() == 1;
    let asks = heard.questions() || heard.asks || heard.words.len() <= 3;
    let states = heard
        .words
        .first()
        .is_some_and(|word| word == "im" || word == "i")
        && !heard.asks;
    (own && asks && !states).then_some(Talk::Progress(heard.exercise))
}

/// `what did I do yesterday`, `last time on bench?`, `when did I last squat`, `show my history`.
fn history(heard: &Heard) -> Option<Talk> {
    let told = Some(Talk::History(heard.exercise, heard.day));
    let past_day = heard.day.is_some();
    let states = heard
        .words
        .first()
        .is_some_and(|word| word == "i" || word == "my")
        && !heard.asks
        && heard.has(I::Did);
    if states || !heard.muscles.is_empty() && !heard.has(I::Last) {
        return None;
    }
    if heard.has(I::Log) && !heard.any(&[I::How, I::Why, I::Change, I::Erase]) {
        return told;
    }
    let counts = heard.has(I::How) && heard.has(I::Many) && heard.has(I::Sets);
    let own = heard.has(I::I) || heard.exercise.is_some();
    let did = heard.has(I::Did) && own && heard.questions();
    if did && (past_day || heard.has(I::Last) || heard.has(I::Session)) && !counts {
        return told;
    }
    let went = heard.has(I::How)
        && (heard.word("go") || heard.word("went") || heard.word("was"))
        && own
        && (past_day || heard.has(I::Last));
    let last_of = heard.has(I::Last)
        && heard.questions()
        && (heard.exercise.is_some()
            || heard.has(I::I) && heard.has(I::Session)
            || heard.only(&[I::What, I::Last, I::Session, I::I, I::Sets, I::Did]) && heard.asks)
        && !heard.any(&[I::Rest, I::Count, I::Change]);
    let of_day = past_day
        && !is_today(heard)
        && heard.questions()
        && (heard.exercise.is_some() || heard.any(&[I::Session]) && heard.has(I::I));
    let showing = (heard.word("show") || heard.word("see"))
        && (past_day && !is_today(heard) || heard.has(I::Last))
        && !heard.any(&[I::Plan]);
    (went || last_of || of_day || showing).then_some(Talk::History(heard.exercise, heard.day))
}

fn is_today(heard: &Heard) -> bool {
    matches!(heard.day, Some(DayAsked::Ago(0)))
}

/// How something is done here.
fn how_to(heard: &Heard) -> Option<Talk> {
    let asks = heard.questions() || heard.has(I::May) || heard.has(I::Help);
    if heard.has(I::Erase) && heard.any(&[I::I, I::How, I::May]) {
        return Some(Talk::HowTo("forget"));
    }
    if heard.has(I::Data) && asks {
        return Some(Talk::HowTo("export"));
    }
    if heard.has(I::Bell) && (asks || heard.any(&[I::Off, I::Do])) && !heard.names() {
        return Some(Talk::HowTo("rest"));
    }
    if !asks {
        return None;
    }
    if heard.has(I::WarmUp) && !heard.any(&[I::Count, I::Did]) {
        return Some(Talk::WarmUp(heard.exercise));
    }
    if heard.has(I::Discs) && heard.any(&[I::What, I::How]) {
        return Some(match heard.number || heard.exercise.is_some() {
            true => Talk::WarmUp(heard.exercise),
            false => Talk::HowTo("rack"),
        });
    }
    if heard.has(I::Unit)
        && !heard.number
        && heard.any(&[I::May, I::How, I::Change])
        && heard.exercise.is_none()
    {
        return Some(Talk::HowTo("units"));
    }
    if heard.has(I::Gear) && heard.any(&[I::How, I::May, I::Help, I::Post]) {
        return Some(Talk::HowTo("rack"));
    }
    if heard.has(I::BodyMass) && heard.any(&[I::How, I::May, I::Post, I::Change]) {
        return Some(Talk::HowTo("bodyweight"));
    }
    if heard.has(I::Experience) && heard.any(&[I::How, I::Post]) {
        return Some(Talk::HowTo("experience"));
    }
    let to_do_here = heard.any(&[I::How, I::May]);
    if heard.has(I::Change) && to_do_here && heard.any(&[I::I, I::Sets, I::That, I::Last, I::Reps])
    {
        return Some(Talk::HowToCorrect);
    }
    let posts = heard.has(I::Post)
        && (heard.has(I::How) || heard.has(I::What) && heard.any(&[I::I, I::May]));
    if posts && !heard.any(&[I::Last, I::Did, I::Mean]) {
        return Some(Talk::HowToPost);
    }
    None
}

/// What there is to do.
fn about_training(heard: &Heard) -> Option<Talk> {
    // `bench?`
    if heard.asks && heard.exercise.is_some() && heard.weighty == 1 {
        return Some(Talk::Next(heard.exercise));
    }
    if let Some(minutes) = heard.minutes
        && heard.any(&[I::Only, I::I, I::What, I::May, I::Do, I::Session])
        && heard.exercise.is_none()
        && !heard.any(&[I::Rest, I::Did, I::Last, I::Off])
    {
        return Some(Talk::Fit(minutes));
    }
    // `45 min today`
    if let Some(minutes) = heard.minutes
        && is_today(heard)
        && heard.weighty == 2
        && !heard.names()
    {
        return Some(Talk::Fit(minutes));
    }
    let asks = heard.questions();
    if heard.has(I::Form) && asks && heard.any(&[I::How, I::What, I::I]) {
        return Some(Talk::Technique(heard.exercise));
    }
    if heard.has(I::How)
        && heard.has(I::Do)
        && heard.exercise.is_some()
        && !heard.any(&[
            I::Many,
            I::Load,
            I::Measure,
            I::Reps,
            I::Sets,
            I::Rest,
            I::Last,
        ])
        && (heard.word("do") && (heard.has(I::I) || heard.word("you")))
    {
        return Some(Talk::Technique(heard.exercise));
    }
    let own_plan = heard.has(I::Plan) && heard.has(I::I) && heard.words.len() <= 3;
    if !(asks || own_plan) {
        return None;
    }
    let counts = heard.any(&[I::Sets, I::Many, I::Due]) || heard.term == Some(Term::Volume);
    if !heard.muscles.is_empty() && heard.exercise.is_none() && counts && !heard.has(I::Did) {
        return Some(Talk::Volume(heard.muscles.clone()));
    }
    if !heard.muscles.is_empty() && heard.has(I::How) && heard.has(I::Many) {
        return Some(Talk::Volume(heard.muscles.clone()));
    }
    if heard.has(I::Plan) && !heard.any(&[I::Change, I::Why, I::Mean]) && heard.exercise.is_none() {
        return Some(match is_today(heard) {
            true => Talk::Due,
            false => Talk::Plan,
        });
    }
    let trains = heard.any(&[I::Train, I::Session, I::Exercise, I::Muscle]);
    let which = heard.has(I::What) && !heard.has(I::Did) && !heard.has(I::Last);
    let ought = heard.any(&[I::May, I::Due]);
    let due = which
        && (trains && (ought || is_today(heard))
            || is_today(heard) && heard.any(&[I::I, I::Do, I::May, I::Due])
            || is_today(heard) && heard.weighty <= 2
            || heard.has(I::Muscle) && heard.any(&[I::Due, I::I]));
    let bare_today = heard.asks && is_today(heard) && heard.weighty == 1;
    ((due || bare_today) && heard.exercise.is_none() && heard.muscles.is_empty())
        .then_some(Talk::Due)
}
