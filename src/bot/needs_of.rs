//! What must be loaded to carry an intent out.

use chrono::{Datelike as _, NaiveDate};

use super::handlers::plans::week_of;
use super::intent::{Intent, WEEKS_BEFORE, whose};
use super::needs::{Depth, Needs, TeamNeeds, Whose};
use super::state::is_work;
use super::state::prescription::{Prescription, Version};
use super::state::view::View;
use crate::domain::advice::session::Session;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::status::TrainingStatus;
use crate::message::forms::command::{
    Action, AttentionCommand, CatalogueCommand, Command, DigestCommand, NoteCommand, Order, Which,
    Whom,
};
use crate::message::intent::own_name::Mapping;
use crate::message::intent::talk::{Talk, asked_for};
use crate::message::reading::{About, Need, Reading, Unclear};

impl Intent {
    /// What must be loaded to carry it out.
    pub fn needs(&self, view: &View) -> Needs {
        if let Self::Hurting(pain, _, intent) = self {
            let mut needs = intent.needs(view);
            needs_of_pain(pain, view, &mut needs);
            return needs;
        }
        if let Self::OfAnother(_, _, intent) = self {
            let mut needs = intent.needs(view);
            needs_of_report(view, &mut needs);
            needs.changes_others = true;
            return needs;
        }
        let mut needs = Needs {
            beliefs: at_hand(view),
            ..Needs::default()
        };
        if !matches!(
            self,
            Self::Nothing
                | Self::Named(_)
                | Self::Dismissed(_)
                | Self::Hidden
                | Self::NotTheirs
                | Self::Kept
        ) {
            let week = view.calendar.week_of(view.today());
            needs.prescribed = Some((Whose::Own, week.last_day()));
            needs.session = true;
        }
        match self {
            Self::Said(reading) | Self::Instead(_, reading) | Self::Below(_, reading) => {
                needs_of_reading(reading, view, &mut needs);
                needs_of_pain(reading, view, &mut needs);
            }
            Self::HurtAnswered(..)
            | Self::NoInjury(_)
            | Self::NoCaution
            | Self::AboutClearing(_) => {
                needs_of_report(view, &mut needs);
            }
            Self::HealthOf(..) | Self::GoodNews(_) | Self::Absence(Some(_), _) => {
                needs.changes_others = true
            }
            Self::WhoIsAway(_) | Self::PlanPosted(..) => needs.members = true,
            Self::PlansUndone => {
                let before = view.member.state.plans_before.as_ref();
                let day = before.map_or(view.today(), |before| before.week);
                let week = view.calendar.week_of(day);
                needs.members = true;
                needs.changes_others = true;
                needs.past = Some((week.first_day(), week.last_day()));
                needs.prescribed = Some((Whose::Team, week.last_day()));
            }
            Self::Doctor(_, _, author) => {
                needs.other = Some(author.to_lowercase());
                needs.changes_others = true;
            }
            // About an earlier message, so perhaps out of order by now.
            Self::Answered(_, _, reading) | Self::Reread(_, reading) => {
                needs.changes = true;
                needs.history |= reading.unclear.as_ref().is_some_and(asks_number);
            }
            Self::Meant(_) | Self::Withdrawn => needs.changes = true,
            Self::SessionOver | Self::Timer(_) | Self::Retimed(_) => {}
            Self::Felt(_) => needs.changes = true,
            Self::ToCome(exercise, _) => {
                needs.beliefs.push(*exercise);
                needs.openings.push(*exercise);
            }
            Self::Amended(_)
            | Self::AmendPicked(_)
            | Self::Corrected(..)
            | Self::Wipe
            | Self::PutBack => {
                needs.history = true;
                needs.members = !view.member.state.hurt.is_empty();
            }
            Self::KeepName(_) | Self::NameKept(_) => {}
            Self::MapName(mapping) => needs_of_mapping(mapping, view, &mut needs),
            Self::Talked(talk) => needs_of_talk(talk, view, &mut needs),
            Self::Ordered(command) => needs_of_command(command, view, &mut needs),
            Self::Checked(exercise, _) => needs.beliefs.push(*exercise),
            Self::TakenBack(exercise, _) => {
                needs.beliefs.push(*exercise);
                needs.changes = true;
            }
            Self::Ring(bell) => needs.beliefs.extend(view.catalogue().named(&bell.exercise)),
            Self::Digest(week, _) => needs_of_team(*week, Depth::Digest, &mut needs),
            Self::OwnWeek(week) => {
                needs_weeks_to(*week, &mut needs);
                needs.prescribed = Some((Whose::Own, week.last_day()));
                needs.coming = true;
                needs.session = false;
                needs.beliefs.clear();
            }
            Self::Nothing
            | Self::Named(_)
            | Self::Dismissed(_)
            | Self::Hidden
            | Self::NotTheirs
            | Self::Kept
            | Self::AsMember(..)
            | Self::Absence(None, _)
            | Self::OnlyTheirs { .. }
            | Self::Hurting(..)
            | Self::OfAnother(..) => {}
        }
        // A coach who is new here is told what is open.
        needs.members |= view.member.coach && !view.member.state.told_of_reports;
        needs.beliefs.sort_unstable();
        needs.beliefs.dedup();
        if !view.member.state.cleared.is_empty() {
            // How far the way back is, and from where, is in the sets since.
            needs.openings.extend(&needs.beliefs);
        }
        needs
    }
}

/// Who is told, and what the cards that stand are shown anew with.
fn needs_of_pain(reading: &Reading, view: &View, needs: &mut Needs) {
    if reading.hurt.is_some() || reading.caution.is_some() {
        needs_of_report(view, needs);
    }
}

fn needs_of_report(view: &View, needs: &mut Needs) {
    needs.members = true;
    let week = view.calendar.week_of(view.today());
    needs
        .prescribed
        .get_or_insert((Whose::Own, week.last_day()));
    needs.session = true;
    needs.beliefs.extend(at_hand(view));
    let cards = view.member.state.cards.keys();
    needs
        .beliefs
        .extend(cards.filter_map(|name| view.catalogue().named(name)));
    needs.beliefs.sort_unstable();
    needs.beliefs.dedup();
}

/// The exercise that the session is at, and those that may be done in turn with it.
fn at_hand(view: &View) -> Vec<ExerciseId> {
    let latest = view.session().iter().rev().take(IN_TURN);
    let mut exercises: Vec<ExerciseId> = latest.map(|filed| filed.set.exercise).collect();
    exercises.extend(announced(view));
    exercises.sort_unstable();
    exercises.dedup();
    exercises
}

/// The exercise that was announced since the last set.
fn announced(view: &View) -> Option<ExerciseId> {
    view.follow_on(view.recent, view.now).named
}

/// Exercises that are done in turn are among the last so many sets.
const IN_TURN: usize = 8;

fn needs_of_reading(reading: &Reading, view: &View, needs: &mut Needs) {
    needs
        .beliefs
        .extend(reading.sets.iter().map(|set| set.exercise));
    if view.status() == TrainingStatus::Beginner {
        // Their loads go up by what earlier sessions were like.
        let exercises = reading.sets.iter().map(|set| set.exercise);
        needs.openings.extend(exercises.chain(at_hand(view)));
    }
    let late = view
        .recent
        .last()
        .is_some_and(|filed| filed.set.at > view.now);
    let backdated = reading.sets.iter().any(|set| set.day.is_some());
    needs.members = reading.correction.is_some() && !view.member.state.hurt.is_empty();
    needs.changes = reading.correction.is_some() || reading.ended_by.is_some() || backdated || late;
    if let Some(question) = &reading.question {
        needs.beliefs.extend(question.exercise);
        needs
            .openings
            .extend(question.exercise.or_else(|| announced(view)));
        match question.about {
            About::Volume => needs_this_week(view, needs),
            About::Week => needs_last_weeks(view, needs),
            _ => {}
        }
    }
    needs.history |= reading.unclear.as_ref().is_some_and(asks_number);
}

/// Whether the buttons offer the loads and repetitions of the last times.
fn asks_number(unclear: &Unclear) -> bool {
    let mut needs = unclear.needs.iter();
    needs.any(|need| !matches!(need, Need::Effort))
}

fn needs_of_command(command: &Command, view: &View, needs: &mut Needs) {
    match command {
        Command::Next { exercise, why } => {
            let named = exercise
                .iter()
                .flat_map(|name| view.reader.names().named(name));
            let named: Vec<ExerciseId> = named.collect();
            needs.beliefs.extend(&named);
            needs.openings.extend(named);
            // The lift is shown from its first day on.
            needs.history |= why;
        }
        Command::Week(member, which) => {
            let week = week_named(view, *which);
            needs_weeks_to(week, needs);
            if *which != Which::This {
                needs.prescribed = Some((Whose::Own, week.last_day()));
                needs.coming = true;
            }
            if !view.member.coach {
                return;
            }
            needs.other.clone_from(member);
            if let (Some(name), Some((whose, _))) = (member, &mut needs.prescribed) {
                *whose = Whose::Named(name.clone());
                needs.coming = true;
            }
        }
        Command::Volume(_) => needs_this_week(view, needs),
        Command::Today(_) => {
            needs_last_weeks(view, needs);
            needs.whole_session = true;
        }
        Command::History(text) => {
            let asked = text
                .as_deref()
                .and_then(|text| asked_for(text, view.reader));
            let (exercise, day) = asked.unwrap_or_default();
            needs_of_talk(&Talk::History(exercise, day), view, needs);
        }
        Command::Summary(_) => needs.history = true,
        Command::Best(text) => {
            let asked = text
                .as_deref()
                .and_then(|text| asked_for(text, view.reader));
            let (exercise, _) = asked.unwrap_or_default();
            needs_of_talk(&Talk::Best(exercise), view, needs);
        }
        Command::Fit { .. } => {
            needs_of_talk(&Talk::Fit(0), view, needs);
        }
        Command::Undo => {
            needs.changes = true;
            // A report that is taken back is told to coaches.
            needs.members = !view.member.state.hurt.is_empty();
        }
        Command::Bodyweight(Some(_)) | Command::Experience(Some(_)) => {
            needs.history = true;
        }
        Command::Plan(order) | Command::Block(order) => needs_of_order(order, false, view, needs),
        Command::Target(order) => needs_of_order(order, true, view, needs),
        Command::WarmUp(Some(name)) => {
            needs.beliefs.extend(view.reader.names().named(name));
            needs.openings.extend(view.reader.names().named(name));
        }
        Command::Team(which) if view.member.coach => {
            needs_of_team(week_named(view, *which), Depth::Sums, needs);
        }
        Command::Attention(AttentionCommand::Show(which)) if view.member.coach => {
            needs_of_team(week_named(view, *which), Depth::Concerns, needs);
        }
        Command::Attention(AttentionCommand::Dismiss(member)) if view.member.coach => {
            needs.team = Some(TeamNeeds {
                week: view.calendar.week_of(view.today()),
                depth: Depth::Concerns,
                of_other: true,
            });
            needs.session = false;
            needs.other = Some(member.clone());
            needs.changes_others = true;
        }
        Command::Review { member, weeks } => {
            let week = view.calendar.week_of(view.today());
            let back = chrono::Duration::weeks(i64::from(*weeks) - 1);
            needs_past(week.first_day() - back, week.last_day(), needs);
            needs.history = true;
            let other = member.clone().filter(|_| view.member.coach);
            if let (Some(name), Some((whose, _))) = (&other, &mut needs.prescribed) {
                *whose = Whose::Named(name.clone());
            }
            needs.other = other;
        }
        Command::Digest(DigestCommand::Show) if view.member.coach => {
            let week = view.calendar.week_of(view.today());
            needs_of_team(week, Depth::Digest, needs);
        }
        Command::Accuracy(Some(member)) => needs.other = Some(member.clone()),
        Command::Accuracy(None) if view.member.coach => needs.members = true,
        Command::Clear { member, .. } => {
            needs.other = Some(member.clone());
            needs.members = view.member.coach;
            needs.changes_others = view.member.coach;
        }
        Command::Note(NoteCommand::Show(member)) => needs.other = Some(member.clone()),
        Command::Note(NoteCommand::Keep { member, .. } | NoteCommand::Delete(member, _)) => {
            needs.other = Some(member.clone());
            needs.changes_others = view.member.coach;
        }
        Command::Catalogue(CatalogueCommand::Map { name, of, to }) => {
            if let Some(mapping) = mapping(view, name, of.as_deref(), to) {
                needs_of_mapping(&mapping, view, needs);
            }
        }
        Command::Catalogue(CatalogueCommand::Names) => needs.members = true,
        Command::Settings(_) => needs.digest = view.member.coach,
        Command::Export => {
            needs.history = true;
            needs.kept = true;
        }
        Command::Forget(_) => {
            // Notes on others name who wrote them.
            needs.members = true;
            needs.changes_others = true;
            needs.answers = true;
        }
        _ => {}
    }
}

/// What `/catalogue map` says, where there is such an exercise.
pub(super) fn mapping(view: &View, name: &str, of: Option<&str>, to: &str) -> Option<Mapping> {
    let mapping = Mapping {
        name: name.to_owned(),
        of: of.map(str::to_owned),
        exercise: view.reader.names().named(to)?,
    };
    Some(whose(view, mapping))
}

fn needs_of_mapping(mapping: &Mapping, view: &View, needs: &mut Needs) {
    needs.history = true;
    needs.members = true;
    let own = view.member.author.to_lowercase();
    if let Some(of) = mapping.of.as_ref().filter(|of| **of != own) {
        needs.other = Some(of.clone());
        needs.changes_others = view.member.coach;
    }
}

fn needs_of_talk(talk: &Talk, view: &View, needs: &mut Needs) {
    match talk {
        Talk::History(exercise, day) => {
            needs.history = true;
            needs.beliefs.extend(exercise);
            let week = day.and_then(|day| day.week(view.today()));
            if let Some(day) = week.filter(|_| exercise.is_none()) {
                let week = view.calendar.week_of(day);
                needs_weeks_to(week, needs);
                needs.prescribed = Some((Whose::Own, week.last_day()));
                needs.coming = true;
            }
        }
        Talk::Best(exercise) | Talk::Progress(exercise) => {
            needs.history = true;
            needs.beliefs.extend(exercise);
        }
        Talk::Why(exercise) | Talk::Next(exercise) | Talk::WarmUp(exercise) => {
            needs.beliefs.extend(exercise);
            needs.openings.extend(exercise);
        }
        Talk::Fit(_) => {
            // Without a plan, what is usual is chosen from.
            needs_last_weeks(view, needs);
            needs.history = true;
            needs.whole_session = true;
        }
        Talk::Volume(_) => needs_this_week(view, needs),
        Talk::May(exercise) => {
            needs.history = true;
            needs.beliefs.push(*exercise);
        }
        Talk::BestHere => needs.history = true,
        Talk::Coaches => needs.members = true,
        Talk::Accuracy => needs.members = view.member.coach,
        Talk::Due => needs_last_weeks(view, needs),
        Talk::Greeting
        | Talk::Help
        | Talk::HowTo(_)
        | Talk::HowToPost
        | Talk::HowToCorrect
        | Talk::Meaning(_)
        | Talk::Counted(..)
        | Talk::Plan
        | Talk::Technique(_)
        | Talk::Trains(_)
        | Talk::Bells(_)
        | Talk::Swap
        | Talk::Instead
        | Talk::Convert(..)
        | Talk::Plates(..)
        | Talk::Privacy
        | Talk::At(_)
        | Talk::Rested
        | Talk::Here
        | Talk::NotUnderstood => {}
    }
}

/// A list of the whole team: of its own member it needs nothing else.
fn needs_of_team(week: Week, depth: Depth, needs: &mut Needs) {
    needs.team = Some(TeamNeeds {
        week,
        depth,
        of_other: false,
    });
    needs.prescribed = None;
    needs.session = false;
    needs.beliefs.clear();
}

/// The log of these days, and what was asked for on them.
fn needs_past(from: NaiveDate, to: NaiveDate, needs: &mut Needs) {
    needs.days = Some((from, to));
    needs.past = needs.days;
}

/// `merges` says that what is written is put into what stands.
fn needs_of_order(order: &Order, merges: bool, view: &View, needs: &mut Needs) {
    needs.session = false;
    let week = week_of(order, view);
    let day = week.last_day();
    needs.past = Some((week.first_day(), day));
    needs.prescribed = Some((Whose::Own, day));
    if order.whom == Whom::Own || !view.member.coach {
        return;
    }
    needs.members = true;
    needs.changes_others = order.action != Action::Show;
    // A plan that is set for one is held against that member's targets.
    let for_one = matches!(order.whom, Whom::Member(_));
    let adds = matches!(order.action, Action::Change(..));
    let looks_at_whom = merges || adds || for_one || order.action == Action::Show;
    if let Whom::Member(name) = &order.whom {
        needs.beliefs_of = Some(name.clone());
    }
    let whose = match (&order.action, &order.whom) {
        // A plan in mid-week leaves the days before to the one that stood.
        (_, Whom::Team | Whom::Named) | (Action::Like(_), _) => Whose::Team,
        (_, Whom::Member(name)) if looks_at_whom => Whose::Named(name.clone()),
        _ => Whose::Own,
    };
    needs.prescribed = Some((whose, day));
}

/// The exercise of each work set of today, in order.
fn done_today(view: &View) -> Vec<ExerciseId> {
    let today = view.today();
    let of_today = view
        .recent
        .iter()
        .filter(|filed| filed.set.day == today && is_work(filed));
    of_today.map(|filed| filed.set.exercise).collect()
}

/// All exercises of today's planned session.
pub fn planned_today(view: &View, versions: &[Version]) -> Vec<ExerciseId> {
    let today = view.today();
    let week = view.calendar.week_of(today);
    let held = Prescription::in_week(versions, week, view.catalogue());
    let done = done_today(view);
    if let Some(all) = any_day(&held, &done) {
        return all;
    }
    let day = held.session(today.weekday(), &done, 0);
    day.into_iter()
        .flat_map(|day| day.items())
        .map(|item| item.exercise)
        .collect()
}

/// All exercises of a plan in numbered days of which none is begun: which is due is not known yet.
fn any_day(held: &Prescription, done: &[ExerciseId]) -> Option<Vec<ExerciseId>> {
    let plan = held
        .plan()
        .filter(|plan| plan.is_numbered() && done.is_empty())?;
    let mut all: Vec<ExerciseId> = plan.items().map(|item| item.exercise).collect();
    all.sort_unstable();
    all.dedup();
    Some(all)
}

/// The exercises of today's planned session that an event about these may come to name as next.
pub fn next_planned(view: &View, versions: &[Version], about: &[ExerciseId]) -> Vec<ExerciseId> {
    let today = view.today();
    let week = view.calendar.week_of(today);
    let held = Prescription::in_week(versions, week, view.catalogue());
    let done = done_today(view);
    let with_new: Vec<ExerciseId> = done.iter().chain(about).copied().collect();
    if let Some(all) = any_day(&held, &with_new) {
        return all;
    }
    let Some(day) = held.session(today.weekday(), &with_new, 0) else {
        return Vec::new();
    };
    let session = Session::new(day, held.week(), &done);
    let mut next: Vec<ExerciseId> = Vec::new();
    let mut name = |session: &Session, current: Option<ExerciseId>| {
        next.extend(session.next(current).map(|one| one.item.exercise));
    };
    name(&session, None);
    for &exercise in about {
        // A set of it may be about to be filed: then the other of its pair is next, or, once it is
        // over, the first that is not.
        let mut going_on = session.clone();
        going_on.tick(exercise);
        name(&going_on, Some(exercise));
        let mut over = session.clone();
        over.end(exercise);
        name(&over, Some(exercise));
    }
    next.sort_unstable();
    next.dedup();
    next
}

/// The days of this week.
fn needs_this_week(view: &View, needs: &mut Needs) {
    let week = view.calendar.week_of(view.today());
    needs_past(week.first_day(), week.last_day(), needs);
}

/// The days of this week and of those that it is shown beside.
fn needs_last_weeks(view: &View, needs: &mut Needs) {
    needs_weeks_to(view.calendar.week_of(view.today()), needs);
}

/// The days of a week and of those that it is shown beside.
fn needs_weeks_to(week: Week, needs: &mut Needs) {
    let from = week.first_day() - chrono::Duration::weeks(WEEKS_BEFORE);
    needs_past(from, week.last_day(), needs);
}

/// The week that a command asks about.
pub(super) fn week_named(view: &View, which: Which) -> Week {
    let this = view.calendar.week_of(view.today());
    match which {
        Which::This => this,
        Which::Last => {
            let before = this.first_day() - chrono::Duration::days(1);
            view.calendar.week_of(before)
        }
        Which::Of(day) => view.calendar.week_of(day),
    }
}
