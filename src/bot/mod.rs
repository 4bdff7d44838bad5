//! Use cases: an event and what is stored become changes to store and replies to send.
//!
//! Nothing here touches a database, a network or a clock: [`crate::service`] loads, commits and
//! sends around it. An event is first understood ([`intent`]), which tells what must be loaded;
//! [`decide`] then turns it into an [`Outcome`].

pub mod advice_data;
pub mod button;
pub mod event;
pub mod figure;
pub mod handlers;
pub mod intent;
pub mod needs;
pub mod needs_of;
pub mod reply;
pub mod state;
pub mod teammate;
pub mod text;

pub use handlers::advise::LATEST_BELL;
pub use handlers::work::Outcome;

use button::ButtonId;
use handlers::log_sets::Post;
use handlers::work::Work;
use intent::Intent;
use needs::{Loaded, Source};
use state::Pending;
use state::view::View;

use crate::domain::quantities::mass::Unit;
use crate::message::forms::command::Command;

/// Carries an event out.
///
/// `text` is the message's, where there is one; `subject` the earlier message that an edit or a
/// deletion is about.
pub fn decide(
    view: &View,
    source: &Source,
    intent: &Intent,
    loaded: &Loaded,
    text: &str,
    subject: Option<&str>,
) -> Outcome {
    let Some(unit) = unit_shown(view, intent) else {
        let mut work = Work::new(view, source, loaded);
        handle(&mut work, intent, text, subject);
        let asked = work.member.state.pending.last();
        let asked = asked.is_some_and(|one| one.at == view.now);
        if let Some(name) = intent.at_hand(view, text, asked) {
            work.note_name(name);
        }
        let lists =
            |command: &Command| matches!(command, Command::Attention(_) | Command::Clear { .. });
        // Who asks for the list, or clears, sees it anyway.
        work.tell_new_coach(matches!(intent, Intent::Ordered(command) if lists(command)));
        return work.finish();
    };
    let mut member = view.member.clone();
    member.profile.unit = Some(unit.symbol().to_owned());
    let view = View {
        member: &member,
        ..view.clone()
    };
    let mut work = Work::new(&view, source, loaded);
    handle(&mut work, intent, text, subject);
    work.tell(text::unit_shown(unit));
    work.finish()
}

/// The unit that a member who chose none trains in: the one that an unlikely load turned out to be in.
fn unit_shown(view: &View, intent: &Intent) -> Option<Unit> {
    let Intent::Answered(_, answer, _) = intent else {
        return None;
    };
    let Some(ButtonId::Instead(_, _, unit)) = ButtonId::parse(answer) else {
        return None;
    };
    (view.member.profile.unit.is_none() && unit != view.unit()).then_some(unit)
}

fn handle(work: &mut Work, intent: &Intent, text: &str, subject: Option<&str>) {
    match intent {
        Intent::Nothing | Intent::Named(_) => {}
        Intent::Said(reading) => said(work, text, reading),
        Intent::Below(text, reading) => said(work, text, reading),
        Intent::Instead(place, reading) => {
            let pending = work.member.state.pending.remove(*place);
            work.leave_out(&pending);
            said(work, text, reading);
        }
        Intent::Answered(place, answer, reading) => {
            let mut all = intent::answered_too(work.view, *place, answer);
            all.push((*place, reading.clone()));
            // The earliest first: they are logged in order.
            all.sort_unstable_by_key(|(place, _)| *place);
            let open = &mut work.member.state.pending;
            let mut taken: Vec<(Pending, message::Reading)> = (all.into_iter().rev())
                .map(|(place, reading)| (open.remove(place), reading))
                .collect();
            taken.reverse();
            for (pending, _) in &mut taken {
                pending.answers.push(answer.clone());
            }
            answered(work, &taken, false);
            if let Some(ButtonId::Own(name)) = ButtonId::parse(answer) {
                work.name_kept(&name, false);
            }
        }
        Intent::Meant(place) => {
            let pending = work.member.state.pending.remove(*place);
            if let Some(reading) = intent::reopened(work.view, &pending) {
                answered(work, &[(pending, reading)], true);
            }
        }
        Intent::Dismissed(place) => {
            let pending = work.member.state.pending.remove(*place);
            // What was no set is not at hand.
            let named = &mut work.member.state.named;
            *named = named.take().filter(|named| named.at != pending.at);
            work.leave_out(&pending);
        }
        Intent::Talked(talk) => work.answer_talk(talk),
        Intent::Felt(feel) => work.felt(*feel),
        Intent::Timer(seconds) => work.ring_in(*seconds),
        Intent::Retimed(retimed) => work.retime(*retimed),
        Intent::SessionOver => work.session_over(),
        Intent::Amended(amend) => work.amend(amend, text),
        Intent::ToCome(exercise, load) => work.load_to_come(*exercise, *load),
        Intent::Corrected(sets, change) => work.correct_sets(sets, change),
        Intent::PutBack => work.put_back(),
        Intent::Wipe => work.ask_to_wipe(),
        Intent::AmendPicked(place) => work.amend_picked(*place),
        Intent::Ordered(command) => work.obey(command),
        Intent::Checked(exercise, failing) => work.press_check(*exercise, *failing),
        Intent::TakenBack(exercise, day) => work.undo_on_card(*exercise, *day),
        Intent::Reread(posted, reading) => {
            work.reread(subject.unwrap_or_default(), posted, text, reading);
        }
        Intent::Withdrawn => work.withdraw(subject.unwrap_or_default()),
        Intent::Hidden => work.say(text::HIDDEN),
        Intent::NotTheirs => work.tell(text::NOT_YOURS),
        Intent::Ring(bell) => work.ring(bell),
        Intent::Digest(week, late) => work.put_before_all(*week, *late),
        Intent::OwnWeek(week) => work.put_own_week(*week),
        Intent::KeepName(name) => work.keep_name(name),
        Intent::NameKept(name) => work.name_kept(name, true),
        Intent::MapName(mapping) => work.map_name(mapping),
        Intent::Kept => work.keep(),
        Intent::Hurting(pain, words, intent) => {
            let hurts = work.hear(pain, words, &[]);
            handle(work, intent, text, subject);
            if hurts {
                work.stop_cards();
            }
        }
        Intent::OfAnother(other, words, intent) => match work.member_meant(&other.names) {
            Some(member) => {
                work.tell_of(member, &other.hurt, words);
                handle(work, &intent.without_pain(), text, subject);
            }
            None => handle(work, intent, text, subject),
        },
        Intent::OnlyTheirs {
            name,
            change,
            words,
        } => work.only_theirs(name, *change, words),
        Intent::HealthOf(author, caution, words) => work.health_of(author, *caution, words),
        Intent::Absence(author, said) => work.absence(author.as_deref(), *said),
        Intent::PlansUndone => work.undo_plans(),
        Intent::PlanPosted(author, week, text) => {
            work.plan_posted(author.as_deref(), week, text);
        }
        Intent::GoodNews(author) => work.good_news(author),
        Intent::WhoIsAway(author) => work.who_is_away(author.as_deref()),
        // It is answered as the member's own.
        Intent::AsMember(..) => {}
        Intent::HurtAnswered(yes, reply) => work.hurt_answered(*yes, reply),
        Intent::AboutClearing(cleared) => work.about_clearing(*cleared, text),
        Intent::NoCaution => work.take_back_caution(),
        Intent::NoInjury(number) => work.take_back_report(*number),
        Intent::Doctor(cleared, numbers, author) => {
            work.doctors_word(*cleared, numbers, author);
        }
    }
}

/// A message that says what it says.
fn said(work: &mut Work, text: &str, reading: &message::Reading) {
    let (view, source) = (work.view, work.source);
    let post = Post {
        message: source.answers.as_deref().unwrap_or_default(),
        channel: &source.channel,
        at: view.now,
        text,
        answers: &[],
    };
    work.answer(&post, reading);
}

/// What was posted when this question was asked.
fn post_of(pending: &Pending) -> Post<'_> {
    Post {
        message: &pending.message,
        channel: &pending.channel,
        at: pending.at,
        text: &pending.text,
        answers: &pending.answers,
    }
}

/// Open questions that got their answer: files, or asks for what is still missing.
fn answered(work: &mut Work, all: &[(Pending, message::Reading)], meant: bool) {
    let mut whole: Vec<(Post, &message::Reading)> = Vec::new();
    for (pending, reading) in all {
        work.close_question(pending, "");
        match &reading.unclear {
            Some(unclear) => work.ask_about(&post_of(pending), unclear),
            None => whole.push((post_of(pending), reading)),
        }
    }
    let whole: Vec<(&Post, &message::Reading)> = (whole.iter())
        .map(|(post, reading)| (post, *reading))
        .collect();
    work.file_all_and_answer(&whole, meant);
}

use crate::message::reading as message;
