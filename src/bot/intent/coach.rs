//! What coaches say and ask of a member whom they name, and of the whole team.
//!
//! A question about a member is read as the member's own, with `I` in the place of the name: `what did Ben do
//! on monday?` is Ben's `what did I do on monday?`, and is answered from Ben's log. Sets that are told of a
//! member are never the coach's.

use super::talked::{may_do, talked};
use super::understood::Intent;
use crate::bot::state::view::{Called, View};
use crate::bot::teammate::{OfAnother, as_own, speaks_of_self};
use crate::domain::quantities::id::MuscleId;
use crate::message::Context;
use crate::message::forms::command::{
    self, Action, AttentionCommand, Command, DigestCommand, How, NoteCommand, Order, WeekSaid,
    Which, Whom,
};
use crate::message::forms::plan::edit::{addition, days_in, edit};
use crate::message::forms::plan::{Language, understand};
use crate::message::forms::target;
use crate::message::intent::amend::amend;
use crate::message::intent::talk::{Talk, day_asked, is_plain_word};
use crate::message::reading::{About, Kind, Reading};
use crate::message::words::variants::List;

/// A member whom a text names, and where.
struct Named<'v> {
    who: &'v Called,
    from: usize,
    to: usize,
    /// It stands with `'s`.
    owns: bool,
}

/// Weeks that a member's review shows where no number is said.
const WEEKS: u32 = 6;

/// What a coach's words are about somebody else, or the team; `None` where they are read as everybody's.
/// `own` is what it is as anybody's.
pub(super) fn of_others(view: &View, text: &str, own: &Intent) -> Option<Intent> {
    if view.others.is_empty() || text.contains('\n') && text.len() > LONGEST {
        return None;
    }
    let plain = without_lead(text);
    let Some(named) = named(view, plain) else {
        let asks = asks(text) || asks(plain);
        let said_to_all =
            !asks && view.session().is_empty() && is_said_to_all(plain) && answers(own);
        return match said_to_all {
            true => Some(Intent::Nothing),
            false => asks.then(|| of_team(plain)).flatten(),
        };
    };
    let words = as_theirs(plain, &named);
    let change = edits_plan(view, plain, &named);
    let asks_it = asks(plain);
    let change = change.or_else(|| {
        (!asks_it)
            .then(|| sets_targets(view, plain, &named))
            .flatten()
    });
    if change.is_some() {
        return change;
    }
    if speaks_of_self(&format!("{} {}", &plain[..named.from], &plain[named.to..])) {
        return None;
    }
    let addressed = named.from == 0 && plain[named.to..].starts_with(',');
    // `ana's week`; `ana's away` tells something.
    let label = named.owns && named.from == 0 && words.split(' ').count() <= LABEL;
    if asks(plain) || label && !has_any(&words, OFF) {
        return match addressed {
            true => Some(Intent::Nothing),
            false => {
                asked(view, &words, named.who).or_else(|| answers(own).then_some(Intent::Nothing))
            }
        };
    }
    let rest = told(plain, &named);
    let read = view.reader.read(&rest, &Context::alone(view.unit()));
    let changes = read.correction.is_some() || amend(&rest, view.reader).is_some();
    let files = has_set(&read) && (files(own) || logs(plain, &named));
    (files || changes || matches!(own, Intent::Amended(_) | Intent::Corrected(..))).then(|| {
        Intent::OnlyTheirs {
            name: named.who.name.clone(),
            change: !files,
            words: rest,
        }
    })
}

/// A change of a member's plan in words: `swap ana's row for pulldowns`.
fn edits_plan(view: &View, text: &str, named: &Named) -> Option<Intent> {
    let asks_of = [
        "should", "did", "does", "is", "has", "what", "how", "why", "when", "who", "which",
    ];
    let first = text.split_whitespace().next()?.to_lowercase();
    if text.trim_end().ends_with('?') && asks_of.contains(&first.as_str()) || text.contains('\n') {
        return None;
    }
    let rest = format!(
        "{} {}",
        text[..named.from].trim_end(),
        text[named.to..].trim_start_matches([':', ' ', ','])
    );
    // `remove curls for ana`: nothing is left of the name but what led to it.
    let rest = rest
        .trim()
        .trim_end_matches(" for")
        .trim_end_matches(" for?")
        .to_owned();
    let added = addition(&rest, &language(view), view.reader);
    let action = match added {
        Some(line) => Action::Change(How::Add, line),
        None => edit(&rest, view.reader).map(|_| Action::Change(How::Edit, rest.clone()))?,
    };
    let week = match has_any(&rest, "next week") {
        true => WeekSaid::Next,
        false if has_any(&rest, "this week") => return None,
        false => WeekSaid::This,
    };
    Some(Intent::Ordered(Command::Plan(Order {
        whom: Whom::Member(named.who.author.to_lowercase()),
        week,
        action,
    })))
}

fn language<'v>(view: &'v View) -> Language<'v> {
    Language {
        catalogue: view.catalogue(),
        names: view.reader.names(),
        unit: view.unit(),
    }
}

/// A plan that a coach posts without a command, with whom its head names.
pub(super) fn posted_plan(view: &View, text: &str) -> Option<Intent> {
    if !view.member.coach || view.others.is_empty() {
        return None;
    }
    let (head, body) = days_in(text)?;
    let understood = understand(&body, &language(view));
    let plan = understood.plan().ok()?;
    let named = named(view, head).filter(|_| head.split_whitespace().count() <= HEAD);
    let sure = understood.faults.is_empty() && plan.days().len() > 1;
    let told = has_any(head, "did, done, was, had") || speaks_of_self(head);
    if told || named.is_none() && (!sure || !head.is_empty()) {
        return None;
    }
    let author = named.map(|named| named.who.author.clone());
    Some(Intent::PlanPosted(author, week_in(head), body))
}

/// The week that a plan's head names, as an order says it: ` next week`, ` from nov 9`.
fn week_in(head: &str) -> String {
    let words: Vec<&str> = head
        .split(|c: char| c.is_whitespace() || ",:()".contains(c))
        .filter(|word| !word.is_empty())
        .collect();
    let said = words.windows(2).find_map(|pair| {
        let dated = |month: &str, day: &str| {
            let day = day.starts_with(|c: char| c.is_ascii_digit());
            day && month.parse::<chrono::Month>().is_ok()
        };
        match pair {
            ["next", "week"] => Some(" next week".to_owned()),
            [one, other] if dated(one, other) || dated(other, one) => {
                Some(format!(" from {one} {other}"))
            }
            _ => None,
        }
    });
    said.unwrap_or_default()
}

/// Words of a plan's head.
const HEAD: usize = 10;

/// Whether words are said to the members: a greeting, or the day's session as it stands on the board.
fn is_said_to_all(text: &str) -> bool {
    let head = text
        .split_once(':')
        .map(|(head, _)| head.trim().to_lowercase());
    let board = head.is_some_and(|head| ["today", "tonight"].contains(&head.as_str()));
    let own = speaks_of_self(text);
    !own && (board || has_any(text, ALL) || has_any(text, "guys, folks, all"))
}

/// Longer texts in several lines are no short remark on a member.
const LONGEST: usize = 400;
/// Words of a label: `ana's week`.
const LABEL: usize = 4;

/// Whether an intent answers a question, from what is known of the one who asks.
fn answers(intent: &Intent) -> bool {
    match intent {
        Intent::Talked(_) => true,
        Intent::Said(reading) => {
            matches!(reading.kind(), Kind::Question | Kind::Unclear | Kind::Sets)
        }
        _ => false,
    }
}

/// Whether an intent files sets, or asks about one.
fn files(intent: &Intent) -> bool {
    match intent {
        Intent::Said(reading) | Intent::Answered(_, _, reading) | Intent::Instead(_, reading) => {
            has_set(reading)
        }
        Intent::Below(..) => true,
        Intent::Hurting(_, _, intent) => files(intent),
        _ => false,
    }
}

fn has_set(reading: &Reading) -> bool {
    let asked = reading.unclear.as_ref();
    !reading.sets.is_empty()
        || asked.is_some_and(|unclear| !unclear.needs.is_empty() && !unclear.drafts.is_empty())
}

/// Whether the words want something logged for the one named: `log for ana`, `ana's squats: …`.
fn logs(text: &str, named: &Named) -> bool {
    let before = text[..named.from].to_lowercase();
    let after = text[named.to..].to_lowercase();
    let asked = |part: &str| part.split_whitespace().any(|word| LOGS.has(word));
    named.owns || asked(&before) || asked(&after) || after.starts_with(':')
}

static LOGS: List = List::of("log, logged, for, forgot, add, record, post");

/// What is told of a member, without the name and what leads to it.
fn told(text: &str, named: &Named) -> String {
    let trims: &[char] = &[' ', ':', ',', '-'];
    let mut before = text[..named.from].trim_end_matches(trims);
    while let Some(shorter) = LEADS_TO.all().iter().find_map(|word| {
        let at = before.len().checked_sub(word.len())?;
        let said = before.get(at..)?.eq_ignore_ascii_case(word);
        let ends = at == 0 || before[..at].ends_with([' ', ',']);
        (said && ends).then_some(at)
    }) {
        before = before[..shorter].trim_end_matches(trims);
    }
    let mut after = text[named.to..].trim_start_matches(trims);
    while let Some(word) = LEADS_ON.all().iter().find(|word| {
        let begins = after
            .get(..word.len())
            .is_some_and(|head| head.eq_ignore_ascii_case(word));
        begins && after[word.len()..].starts_with(trims)
    }) {
        after = after[word.len()..].trim_start_matches(trims);
    }
    format!("{before} {after}").trim().to_owned()
}

static LEADS_TO: List = List::of("for, log, add, record, post, sets, please");
static LEADS_ON: List = List::of("forgot, to, log, post, also, did, has, done, just, says");

/// The words of a question about the member as the member would ask it.
fn as_theirs(text: &str, named: &Named) -> String {
    let owner = if named.owns { "my" } else { "i" };
    let put = format!("{}{owner}{}", &text[..named.from], &text[named.to..]);
    let own = as_own(&put);
    let mut words: Vec<&str> = own.split(' ').collect();
    for at in 0..words.len() {
        let next = words.get(at + 1);
        let by_i = next.is_some_and(|next| next.trim_end_matches(['?', '.', '!', ',']) == "i");
        let last = words[at].to_lowercase().replace('’', "'");
        words[at] = match last.as_str() {
            "does" if by_i => "do",
            "is" | "are" if by_i => "am",
            "has" if by_i => "have",
            "how's" | "hows" if by_i => "how am",
            "where's" if by_i => "where am",
            "what's" if by_i => "what am",
            _ => words[at],
        };
    }
    words.join(" ")
}

/// What the member's own question asks, as the command or the answer that there is for it.
fn asked(view: &View, words: &str, who: &Called) -> Option<Intent> {
    let author = who.author.to_lowercase();
    let as_member = |talk| {
        Some(Intent::AsMember(
            who.author.clone(),
            Box::new(Intent::Talked(talk)),
        ))
    };
    let ordered = |command| Some(Intent::Ordered(command));
    let which = match words.to_lowercase().contains("last week") {
        true => Which::Last,
        false => Which::This,
    };
    let week = Command::Week(Some(author.clone()), which);
    let review = Command::Review {
        member: Some(author.clone()),
        weeks: WEEKS,
    };
    let table = MEMBER.iter().find(|(list, _)| has_any(words, list));
    let about = table.map(|(_, about)| *about);
    let shown = |about| {
        if about == Shown::Away {
            return Some(Intent::WhoIsAway(Some(who.author.clone())));
        }
        ordered(match about {
            Shown::Attention => Command::Attention(AttentionCommand::Show(Which::This)),
            Shown::Plan => Command::Plan(show(&author)),
            Shown::Block => Command::Block(show(&author)),
            Shown::Target => Command::Target(show(&author)),
            Shown::Notes => Command::Note(NoteCommand::Show(author.clone())),
            Shown::Week => week.clone(),
            Shown::Review | Shown::Team | Shown::Digest | Shown::Away => review.clone(),
        })
    };
    // `did Cleo train?` asks for no advice, and `is Cleo still hurt?` for none of Cleo.
    let is_past = has_any(words, "did, have, when, has");
    // `how many sets has Ana for quads?`, `what is her target for chest?`: a line, and no week.
    let muscles = muscles_in(view, words);
    let counts = has_any(words, "sets, set, many, much, target, aim, volume");
    if counts && !muscles.is_empty() && view.reader.only_named(words).is_none() {
        return as_member(Talk::Volume(muscles));
    }
    // `did Dov train?`: what he did last, or that day.
    let trained = has_any(words, "train, lift, trained, lifted, log, post, show up");
    if words.starts_with("did ") && trained && view.reader.only_named(words).is_none() {
        return as_member(Talk::History(None, day_asked(words)));
    }
    let away = about == Some(Shown::Away) && view.reader.only_named(words).is_none();
    if away
        || about == Some(Shown::Attention)
        || words.starts_with("did ") && about == Some(Shown::Week)
    {
        return about.and_then(shown);
    }
    if let Some(exercise) = may_do(view, words).filter(|_| !is_past) {
        return as_member(Talk::May(exercise));
    }
    let is_well = about == Some(Shown::Review) && has_any(words, WELL);
    if is_well && view.reader.only_named(words).is_none() {
        return ordered(review);
    }
    let coming = !is_past && has_any(words, "should, next, load, loads");
    let reading = view.reader.read(words, &Context::alone(view.unit()));
    let due = coming || has_any(words, "today, tonight, due");
    match talked(view, words, &reading).filter(|talk| due || *talk != Talk::Due) {
        Some(Talk::Next(Some(exercise))) if !coming => {
            return as_member(Talk::History(Some(exercise), None));
        }
        Some(Talk::Technique(Some(exercise))) => {
            return as_member(Talk::History(Some(exercise), None));
        }
        Some(Talk::Plan) => return ordered(Command::Plan(show(&author))),
        Some(Talk::Volume(muscles)) if muscles.len() != 1 => return ordered(week),
        Some(Talk::Progress(_)) => return ordered(review),
        Some(Talk::Accuracy) => return ordered(Command::Accuracy(Some(author))),
        Some(
            talk @ (Talk::History(..)
            | Talk::Best(_)
            | Talk::Volume(_)
            | Talk::Due
            | Talk::Next(_)
            | Talk::WarmUp(_)
            | Talk::Why(_)),
        ) => return as_member(talk),
        _ => {}
    }
    let question = reading.question.as_ref();
    match question.map(|question| (question.about, question.exercise)) {
        Some((About::Volume | About::Week, _)) => return ordered(week),
        Some((About::Load, Some(exercise))) => {
            return as_member(match coming {
                true => Talk::Next(Some(exercise)),
                false => Talk::History(Some(exercise), None),
            });
        }
        _ => {}
    }
    let lift = view.reader.only_named(words);
    about
        .and_then(shown)
        .or_else(|| as_member(Talk::History(Some(lift?), None)))
}

/// The muscles that a text names by themselves.
fn muscles_in(view: &View, text: &str) -> Vec<MuscleId> {
    let words = text.split(|c: char| !c.is_alphanumeric());
    let named = words.flat_map(|word| {
        let mut named = view.catalogue().muscles_named(word);
        // A word of several muscles, like `legs`, asks for the week.
        named.next().filter(|_| named.next().is_none())
    });
    let mut muscles: Vec<MuscleId> = named.collect();
    muscles.dedup();
    muscles
}

/// Weekly sets of a muscle that a coach tells of a member: `ana needs more quads, 14 a week`.
fn sets_targets(view: &View, text: &str, named: &Named) -> Option<Intent> {
    let rest = format!("{} {}", &text[..named.from], &text[named.to..]).to_lowercase();
    let weekly = has_any(
        &rest,
        "a week, per week, each week, weekly, target, targets, aim",
    );
    let number = rest.find(|c: char| c.is_ascii_digit())?;
    let muscles = muscles_in(view, &rest);
    let told = has_any(&rest, "did, has, had, got, done, was");
    if !weekly || told || muscles.is_empty() || view.reader.only_named(&rest).is_some() {
        return None;
    }
    let count = rest
        .get(number..)?
        .split([' ', ',', ';'])
        .next()?
        .trim_end_matches('.');
    let catalogue = view.catalogue();
    let pieces = muscles
        .iter()
        .map(|id| format!("{} {count}", catalogue.muscle(*id).name));
    let text = pieces.collect::<Vec<_>>().join(", ");
    target::read(&text, catalogue).ok()?;
    Some(Intent::Ordered(Command::Target(Order {
        whom: Whom::Member(named.who.author.to_lowercase()),
        week: WeekSaid::This,
        action: Action::Write(text),
    })))
}

/// What answers a question.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Shown {
    Attention,
    Away,
    Plan,
    Block,
    Target,
    Notes,
    Week,
    Review,
    Team,
    Digest,
}

/// Words for being well.
const WELL: &str = "ok, okay, alright, all right, fine";

/// Words for being away.
const OFF: &str =
    "away, off, out, absent, i back, on holiday, on holidays, on vacation, sick, ill, unwell";

/// What answers a question about a member, by its words: the first that fits.
const MEMBER: &[(&str, Shown)] = &[
    (OFF, Shown::Away),
    (WELL, Shown::Review),
    (
        "hurt, hurts, injured, injury, pain, cleared",
        Shown::Attention,
    ),
    ("plan, program, programme", Shown::Plan),
    ("block", Shown::Block),
    ("target, targets, aim, aims", Shown::Target),
    ("note, notes", Shown::Notes),
    (
        "train, trained, training, lift, lifted, week, session, sessions, sets, volume, skip, \
         skipped, miss, missed, log, logged, legs",
        Shown::Week,
    ),
    (
        "doing, going, progress, progressing, progressed, improving, improved, better, stalling, \
         stalled, stuck, rest, resting, rests, ramp, ramps, ramping, review, month, lately, \
         where, gone up, next week, behind, struggling",
        Shown::Review,
    ),
];

/// The same about the team.
const TEAM: &[(&str, Shown)] = &[
    (OFF, Shown::Away),
    (
        "improved, improving, best, strongest, progress, gained",
        Shown::Digest,
    ),
    (
        "hurt, hurts, injured, injury, injuries, pain, behind, need, needs, attention, stall, \
         stalls, stalling, stalled, stuck, ramp, ramps, ramping, rest, rests, resting, train, \
         trained, training, missed, miss, missing, silent, quiet, struggling, absent, posted, \
         posting, logged",
        Shown::Attention,
    ),
    (
        "doing, do, did, week, status, report, skipped, skip, skips, legs, sets, overview, team, \
         least, most, everybody, everyone",
        Shown::Team,
    ),
];

/// Words for the members together.
const ALL: &str =
    "who, who's, whos, anyone, anybody, somebody, everyone, everybody, team, group, crew, squad";

/// A question about the team.
fn of_team(text: &str) -> Option<Intent> {
    let bare = text.trim_end_matches(['?', '.', '!']).trim().to_lowercase();
    let words = bare.split_whitespace().count();
    let report = words <= 2 && has_any(&bare, "report, overview, status");
    if !has_any(&bare, ALL) && !report
        || speaks_of_self(&bare) && !bare.contains("needs me") && !bare.contains("need me")
    {
        return None;
    }
    // `who are you`, `who can read this`
    if has_any(&bare, "you, read, see, coach, coaches, anyone else") && !has_any(&bare, "trained") {
        return None;
    }
    let which = match bare.contains("last week") {
        true => Which::Last,
        false => Which::This,
    };
    let (_, about) = TEAM.iter().find(|(list, _)| has_any(&bare, list))?;
    if *about == Shown::Away {
        return Some(Intent::WhoIsAway(None));
    }
    Some(Intent::Ordered(match about {
        Shown::Attention => Command::Attention(AttentionCommand::Show(which)),
        Shown::Digest => Command::Digest(DigestCommand::Show),
        _ => Command::Team(which),
    }))
}

fn show(author: &str) -> Order {
    Order {
        whom: Whom::Member(author.to_owned()),
        week: WeekSaid::This,
        action: Action::Show,
    }
}

/// Whether any of these words, or phrases, stands in a text.
fn has_any(text: &str, list: &str) -> bool {
    let text = text.to_lowercase().replace('’', "'");
    let words: Vec<&str> = text
        .split(|c: char| !c.is_alphanumeric() && c != '\'')
        .filter(|word| !word.is_empty())
        .collect();
    list.split(", ").any(|phrase| {
        let phrase: Vec<&str> = phrase.split(' ').collect();
        words
            .windows(phrase.len())
            .any(|run| run == phrase.as_slice())
    })
}

/// Whether a text asks: by its mark, or by the word that it begins with.
fn asks(text: &str) -> bool {
    let first = text.split([' ', ',']).next().unwrap_or_default();
    let first = first.to_lowercase().replace('’', "'");
    let words = text.split_whitespace().count();
    text.trim_end().ends_with('?')
        || ASKING.has(&first)
        || words <= 3 && has_any(text, "status, report, overview")
}

static ASKING: List = List::of(
    "who, who's, whos, how, how's, hows, what, what's, whats, when, where, where's, which, did, \
     does, is, has, any, anyone, anybody, show, list",
);

/// A text without the words that ask for something: `show me`, `can you tell me`.
fn without_lead(text: &str) -> &str {
    let mut text = text.trim();
    while let Some(lead) = LEADS.all().iter().find(|lead| {
        let head = text.get(..lead.len());
        head.is_some_and(|head| head.eq_ignore_ascii_case(lead))
            && text[lead.len()..].starts_with([' ', ','])
    }) {
        let rest = text[lead.len()..].trim_start_matches([' ', ',']);
        if rest.is_empty() {
            break;
        }
        text = rest;
    }
    text
}

static LEADS: List =
    List::of("hey, hi, ok, please, so, can you, could you, show me, tell me, give me, remind me");

/// The one member whom a text names; `None` where it names several.
fn named<'v>(view: &View<'v>, text: &str) -> Option<Named<'v>> {
    let spans = words(text);
    let mut found: Option<Named<'v>> = None;
    let mut at = 0;
    while at < spans.len() {
        let here = view.others.iter().find_map(|who| {
            let count = called_at(view, who, text, &spans[at..])?;
            Some((who, count))
        });
        let Some((who, count)) = here else {
            at += 1;
            continue;
        };
        if found
            .as_ref()
            .is_some_and(|known| known.who.author != who.author)
        {
            return None;
        }
        let (from, to) = (spans[at].0, spans[at + count - 1].1);
        let marks = |c: &char| "<@!".contains(*c);
        let begins = text[..from].chars().rev().take_while(marks).count();
        let rest = &text[to..];
        let ends = usize::from(begins > 1 && rest.starts_with('>'));
        let owner = ["'s", "’s"]
            .into_iter()
            .find(|mark| rest[ends..].starts_with(mark));
        found.get_or_insert(Named {
            who,
            from: from - begins,
            to: to + ends + owner.map_or(0, str::len),
            owns: owner.is_some(),
        });
        at += count;
    }
    found
}

/// How many of these words name the member: the whole name, its first word where no other has that, or
/// what the channel calls them.
fn called_at(view: &View, who: &Called, text: &str, spans: &[(usize, usize)]) -> Option<usize> {
    let word = |at: usize| {
        let span = spans.get(at);
        span.map(|&(from, to)| text[from..to].to_lowercase())
    };
    let name = who.name.to_lowercase();
    let name: Vec<&str> = name.split_whitespace().collect();
    let whole = (0..name.len()).all(|at| word(at).as_deref() == name.get(at).copied());
    if whole && name.len() > 1 {
        return Some(name.len());
    }
    let (first, said) = (name.first().copied(), word(0)?);
    let alone = first == Some(said.as_str()) && {
        let same = |other: &&Called| other.name.to_lowercase().split_whitespace().next() == first;
        view.others.iter().filter(same).count() == 1
    };
    if !alone && said != who.author.to_lowercase() {
        return None;
    }
    // `max`, `will`, `rob`: a word of its own, unless it is written as a name.
    let &(from, to) = spans.first()?;
    let plain = is_plain_word(&said) || view.reader.knows(&said);
    let as_name = text[from..].starts_with(char::is_uppercase) && from > 0
        || text[to..].starts_with("'s")
        || text[to..].starts_with(':');
    (!plain || as_name).then_some(1)
}

/// Where the words of a text stand.
fn words(text: &str) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    let mut from = None;
    for (at, c) in text.char_indices() {
        match (c.is_alphanumeric() || c == '_', from) {
            (true, None) => from = Some(at),
            (false, Some(start)) => {
                out.push((start, at));
                from = None;
            }
            _ => {}
        }
    }
    out.extend(from.map(|start| (start, text.len())));
    out
}

/// A command that a member gives of themselves, where a coach names a member in it: `/history ana squat`.
pub(super) fn own_command(view: &View, text: &str) -> Option<Intent> {
    let line = text.trim();
    let (word, rest) = line.split_once(char::is_whitespace)?;
    let named = named(view, rest).filter(|named| named.from == 0)?;
    let of_own = [
        "/history", "/best", "/next", "/today", "/warmup", "/volume", "/fit",
    ];
    if !of_own.contains(&word.to_lowercase().as_str()) {
        return None;
    }
    let command = command::read(&format!("{word} {}", rest[named.to..].trim()))?;
    let author = named.who.author.clone();
    Some(Intent::AsMember(author, Box::new(Intent::Ordered(command))))
}

/// The member, by author, of whom a coach's words tell, and the words as the member's own.
pub(super) fn of_one(view: &View, text: &str) -> Option<(String, String)> {
    let named = named(view, text)?;
    let words = as_theirs(text, &named);
    Some((named.who.author.clone(), words))
}

/// Pain, or what belongs to a professional, that a coach tells of a member in words that tell of nobody else.
pub(super) fn health(view: &View, text: &str, intent: &Intent) -> Option<Intent> {
    let line = text.trim_start_matches('/');
    let named = named(view, line)?;
    let around = format!("{} {}", &line[..named.from], &line[named.to..]);
    if asks(line) || speaks_of_self(&around.replace(" me ", " ")) {
        return None;
    }
    let theirs = as_theirs(line, &named);
    let read = |words: &str| view.reader.read(words, &Context::alone(view.unit()));
    let (own, whole) = (read(&theirs), read(&around));
    let hurt = [&own.hurt, &own.may_hurt, &whole.hurt, &whole.may_hurt];
    let author = named.who.author.to_lowercase();
    if let Some(hurt) = hurt.into_iter().flatten().next() {
        let other = OfAnother {
            names: vec![author],
            hurt: hurt.clone(),
        };
        return Some(Intent::OfAnother(
            Box::new(other),
            text.to_owned(),
            Box::new(intent.without_pain()),
        ));
    }
    let caution = own.caution.or(whole.caution);
    let is_chat = matches!(intent, Intent::Nothing | Intent::Hurting(..));
    let speaks = caution.is_some()
        || view.reader.speaks_of_health(&theirs)
        || has_any(&theirs, "infection, flu, ill, fever, covid, virus");
    (is_chat && speaks)
        .then(|| Intent::HealthOf(named.who.author.clone(), caution, text.to_owned()))
}

/// The member, by author, of whom a coach says that they are well again, which is no new report; what is open a coach lifts by
/// `/clear`.
pub(super) fn good_news(view: &View, text: &str) -> Option<String> {
    let good = view.member.coach
        && has_any(text, RECOVERED)
        && !has_any(text, NOT_RECOVERED)
        && !text.trim_end().ends_with('?')
        && !text.starts_with('/');
    let named = named(view, text).filter(|_| good)?;
    Some(named.who.author.clone())
}

/// Words that a member is well again, and words beside them that say otherwise.
const RECOVERED: &str = "is ok, is okay, is fine, all good, is better, feels better, no pain, pain free, healed, \
     recovered, back to normal, cleared by";
const NOT_RECOVERED: &str = "not, isn't, isnt, still, but, if, until, when, hurts";

/// Whether a coach's words on pain are advice to everybody, and tell of nobody.
pub(super) fn is_advice(view: &View, text: &str) -> bool {
    !view.others.is_empty()
        && !speaks_of_self(text)
        && (text.contains('=') || has_any(text, ADVICE))
}

const ADVICE: &str =
    "remember, reminder, everyone, everybody, anyone, guys, folks, team, crew, you, your, if";
