//! Orders of coaches: plans, blocks and targets, shown, set, copied and taken away.
//!
//! Members see their own with the same words. Each is kept from the week on that it was set for;
//! weeks that are over keep theirs.

use std::collections::BTreeMap;

use chrono::{Datelike as _, NaiveDate};

use super::work::Work;
use crate::bot::state::prescription::Prescribed;
use crate::bot::state::prescription::{BlockData, PlanData, Prescription, TargetsData, Version};
use crate::bot::state::view::View;
use crate::bot::state::{Change, Member, Template, planned_load};
use crate::bot::text;
use crate::domain::coaching::plan::{Day, Item, Note, Plan, PlannedLoad};
use crate::domain::coaching::target::Targets;
use crate::domain::coaching::week::{Band, WeeklyVolume};
use crate::domain::lifter::belief::Belief;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::id::MuscleId;
use crate::domain::quantities::load::Load;
use crate::message::forms::command::{Action, How, Order, WeekSaid, Whom};
use crate::message::forms::plan::{Fault, Language};
use crate::message::forms::{block, plan, target};

/// The week that an order means.
pub fn week_of(order: &Order, view: &View) -> Week {
    let this = view.calendar.week_of(view.today());
    match order.week {
        WeekSaid::This => this,
        WeekSaid::Next => this.next(),
        WeekSaid::Of(day) => view.calendar.week_of(day),
        WeekSaid::From(day) => view
            .calendar
            .week_of(next(view, |date| date.weekday() == day)),
        WeekSaid::On(month, day) => view.calendar.week_of(next(view, |date| {
            (date.month(), date.day()) == (month, day)
        })),
    }
}

/// The next day that is so, today among them; today where there is none within a year.
fn next(view: &View, is: impl Fn(NaiveDate) -> bool) -> NaiveDate {
    let today = view.today();
    let mut days = today.iter_days().take(DAYS_AHEAD);
    days.find(|date| is(*date)).unwrap_or(today)
}

/// How far ahead a day is looked for.
const DAYS_AHEAD: usize = 366;

/// Whether a plan was taken away.
pub(crate) fn asks_nothing(plan: &PlanData) -> bool {
    plan.days.is_empty()
}

impl Work<'_> {
    /// Whether an order may go on: showing one's own is everybody's, the rest the coaches'; what is
    /// over cannot be set.
    fn may(&mut self, order: &Order) -> bool {
        if order.whom == Whom::Own {
            return true;
        }
        if !self.is_coach() {
            return false;
        }
        let over = week_of(order, self.view).last_day() < self.view.today();
        if over && order.action != Action::Show {
            self.tell(text::plan::WEEK_OVER);
            return false;
        }
        true
    }

    /// The one member of this name; says so where there is none or several.
    pub(crate) fn one_member(&mut self, name: &str) -> Option<Member> {
        let called = |member: &&Member| member.is_called(name);
        let called: Vec<&Member> = self.loaded.members.iter().filter(called).collect();
        if let Some(member) = Member::meant(&called, name) {
            return Some(member.clone());
        }
        let authors: Vec<_> = called.iter().map(|m| m.author.as_str()).collect();
        self.tell(match authors.as_slice() {
            [] => text::unknown_member(name),
            several => text::plan::which_member(name, several),
        });
        None
    }

    /// The one member of this name, or, where there is none, somebody expected under it.
    fn one_or_expected(&mut self, name: &str) -> Option<Member> {
        let mention = name.trim_start_matches("<@").trim_start_matches('!');
        let name = match name.starts_with("<@") {
            true => mention.trim_end_matches('>'),
            false => name,
        };
        if self.is_known(name) {
            return self.one_member(name);
        }
        // What may be a slip, or more than a name, makes no member.
        let close = self.close_to(name);
        let expected = Member::expected(name);
        let expected = expected.filter(|_| close.is_none() && !name.contains(' '));
        if expected.is_none() {
            let here = self.loaded.members.iter();
            let here = here.filter(|one| !one.is_expected() && !one.coach);
            let here: Vec<&str> = here.map(|one| one.name.as_str()).collect();
            self.tell(text::plan::nobody_called(name, close.as_deref(), &here));
        }
        expected
    }

    fn is_known(&self, name: &str) -> bool {
        self.loaded.members.iter().any(|m| m.is_called(name))
    }

    /// The member who is called almost the same.
    fn close_to(&self, name: &str) -> Option<String> {
        let close = |known: &&Member| {
            let apart = strsim::osa_distance(&known.name.to_lowercase(), name);
            !known.is_expected() && apart <= 1 && name.chars().count() > 2
        };
        let close = self.loaded.members.iter().find(close);
        close.map(|known| known.name.clone())
    }

    /// The names in a list of members: `ana, ben and cleo`, `ana ben`.
    fn listed(&self, names: &str) -> Vec<String> {
        if self.is_known(names) {
            return vec![names.to_owned()];
        }
        let parts = names.replace(" and ", ",").replace(['&', '/', '+'], ",");
        let parts = parts
            .split(',')
            .map(str::trim)
            .filter(|part| !part.is_empty());
        let in_words = |part: &str| -> Vec<String> {
            let words = part.split(' ').map(str::to_owned).collect::<Vec<_>>();
            let all = words.iter().all(|word| self.is_known(word));
            match all && !self.is_known(part) {
                true => words,
                false => vec![part.to_owned()],
            }
        };
        parts.flat_map(in_words).collect()
    }

    /// Everybody who is meant; says so where that is nobody. Something can be set for a member who
    /// has not posted yet.
    pub(crate) fn meant(&mut self, whom: &Whom, action: &Action) -> Option<Vec<Member>> {
        let sets = matches!(
            action,
            Action::Write(_) | Action::Change(..) | Action::Like(_)
        );
        match whom {
            Whom::Own => Some(vec![self.member.clone()]),
            Whom::Member(names) => {
                let names = self.listed(names);
                let one = |name: &String| match sets {
                    true => self.one_or_expected(name),
                    false => self.one_member(name),
                };
                names.iter().map(one).collect()
            }
            Whom::New(name) if sets && !self.is_known(name) => {
                let new = Member::expected(name);
                if new.is_none() {
                    self.tell(text::unknown_member(name));
                }
                new.map(|new| vec![new])
            }
            Whom::New(name) => self.one_member(name).map(|member| vec![member]),
            Whom::Team => {
                let members = self.loaded.members.iter();
                let members: Vec<_> = members.filter(|member| !member.coach).cloned().collect();
                if members.is_empty() {
                    self.tell(text::plan::NOBODY_YET);
                    return None;
                }
                Some(members)
            }
            Whom::Named | Whom::Template(_) => {
                self.tell(text::plan::NAME_THEM);
                None
            }
        }
    }

    /// What stands for a member in a week, as loaded.
    pub(crate) fn held_by(&self, member: &Member, week: Week) -> Prescription {
        Prescription::in_week(self.versions_of(member), week, self.view.catalogue())
    }

    /// The plan that stands for a member in a week; an empty one where none does.
    pub(crate) fn plan_held_by(&self, member: &Member, week: Week) -> Plan {
        let held = self.held_by(member, week);
        held.plan().cloned().unwrap_or_default()
    }

    fn prescribe(&mut self, member: &Member, week: Week, content: Prescribed) {
        if let Prescribed::Plan(_) = content {
            self.note_before(member, week);
        }
        let (from, content) = self.dated(member, week, content);
        let version = Version { from, content };
        self.changes.push(match member.id {
            Member::NOT_STORED => Change::PrescribeExpected(member.name.clone(), version),
            id => Change::Prescribe(id, version),
        });
    }

    /// Says of whom nothing was heard yet, among those for whom something was set.
    fn tell_expected(&mut self, members: &[Member]) {
        for member in members.iter().filter(|m| m.id == Member::NOT_STORED) {
            self.tell(text::plan::expected(&member.name));
        }
    }

    /// Takes a member's plan away.
    pub(crate) fn take_plan_away(&mut self, member: &Member, week: Week) {
        self.take_away(member, week, Prescribed::Plan(PlanData::default()));
    }

    /// Takes what was set away from a member; with it goes whoever never posted and has no plan.
    fn take_away(&mut self, member: &Member, week: Week, content: Prescribed) {
        let planned = self
            .held_by(member, week)
            .plan
            .is_some_and(|(plan, _)| !plan.is_empty());
        match member.is_expected() && (!planned || matches!(content, Prescribed::Plan(_))) {
            true => self.changes.push(Change::Unexpect(member.id)),
            false => self.prescribe(member, week, content),
        }
    }
}

// Plans.

impl Work<'_> {
    /// Carries out `/plan`.
    pub(crate) fn plan(&mut self, order: &Order) {
        if !self.may(order) {
            return;
        }
        let week = week_of(order, self.view);
        if let Whom::Template(name) = &order.whom {
            self.template(name, &order.action, week);
            return;
        }
        match &order.action {
            Action::Show => self.show_plan(&order.whom, &order.action, week),
            Action::Write(text) => self.write_plan(order, week, text, None),
            Action::Change(How::Edit, text) => self.edit_plans(order, week, text),
            Action::Change(How::Add, text) if !text.contains([':', '\n']) => {
                self.ask_for_day(order, week, text);
            }
            Action::Change(how, text) => self.write_plan(order, week, text, Some(*how)),
            Action::Like(other) => self.copy_plan(&order.whom, week, other),
            Action::Drop => {
                let Some(members) = self.meant(&order.whom, &order.action) else {
                    return;
                };
                for member in &members {
                    self.take_away(member, week, Prescribed::Plan(PlanData::default()));
                }
                self.tell(text::plan::taken_from(
                    "Plan",
                    &names(&members),
                    week.first_day(),
                ));
            }
        }
    }

    fn show_plan(&mut self, whom: &Whom, action: &Action, week: Week) {
        let Some(members) = self.meant(whom, action) else {
            return;
        };
        let held: Vec<Prescription> = members.iter().map(|m| self.held_by(m, week)).collect();
        if *whom == Whom::Team {
            let plans = members.iter().zip(&held);
            let plans: Vec<_> = plans
                .map(|(m, held)| (m.name.as_str(), held.plan()))
                .collect();
            self.tell(text::plan::team_plans(&plans));
            return;
        }
        let catalogue = self.view.catalogue();
        for (member, held) in members.iter().zip(&held) {
            let standing = held.plan.as_ref().filter(|(plan, _)| !plan.is_empty());
            let text = match (standing, whom) {
                (Some((plan, from)), Whom::Own) => {
                    let text = text::plan::own_plan(plan, *from, catalogue);
                    // Who has logged a set has read it on the card of the first.
                    match self.member.state.greeted {
                        true => text,
                        false => format!("{text}\n{}", text::CAUTION),
                    }
                }
                (Some((plan, from)), _) => {
                    text::plan::plan_of(&member.name, plan, *from, catalogue)
                }
                (None, Whom::Own) if self.member.coach => text::plan::NO_PLAN_OF_A_COACH.to_owned(),
                (None, Whom::Own) => text::plan::NO_PLAN.to_owned(),
                (None, _) => text::plan::none_of(&member.name),
            };
            self.tell(text);
        }
    }

    /// Reads a plan for everybody meant, or for those whom its parts name. What is clear stands, with
    /// `add` beside what stood already; what is not is asked about line by line.
    fn write_plan(&mut self, order: &Order, week: Week, text: &str, add: Option<How>) {
        let (whom, said) = (&order.whom, order.week);
        let mut plans: Vec<(Vec<Member>, Plan)> = Vec::new();
        let mut faults: Vec<Fault> = Vec::new();
        let mut notes: Vec<String> = Vec::new();
        for section in plan::sections(text) {
            let members = if section.members.is_empty() {
                self.meant(whom, &Action::Write(String::new()))
            } else {
                let named = section
                    .members
                    .iter()
                    .map(|name| self.one_or_expected(name));
                named.collect::<Option<Vec<_>>>()
            };
            let Some(members) = members else {
                return;
            };
            let language = self.language();
            let understood = plan::understand(&section.text, &language);
            match understood.plan() {
                Ok(plan) => plans.push((members, plan)),
                Err(more) if understood.faults.is_empty() => faults.extend(more),
                Err(_) => {}
            }
            let below = |fault: Fault| Fault {
                line: fault.line + section.line - 1,
                ..fault
            };
            notes.extend(understood.notes.into_iter().map(|(_, note)| note));
            faults.extend(understood.faults.into_iter().map(below));
        }
        if plans.is_empty() {
            self.tell(text::plan::faults(&faults, self.view.catalogue()));
            return;
        }
        for (members, plan) in &plans {
            match add {
                None => self.change_plans(order, members, plan, week),
                Some(how) => self.add_to_plans(order, members, plan, week, how),
            }
        }
        if !notes.is_empty() {
            self.tell(text::plan::unplaced(&notes));
        }
        if !faults.is_empty() {
            let name = match whom {
                Whom::Member(name) | Whom::New(name) => name.as_str(),
                Whom::Team => "team",
                Whom::Own | Whom::Named | Whom::Template(_) => "NAME",
            };
            let from = match said {
                WeekSaid::This => String::new(),
                WeekSaid::Next => " next week".to_owned(),
                _ => format!(" from {}", week.first_day()),
            };
            let order = format!("/plan {name}{from} add");
            self.tell(text::plan::asked(
                &faults,
                text,
                &order,
                self.view.catalogue(),
            ));
        }
    }

    /// Sets a plan. One that names a single day takes the place of that day where there are others; what
    /// another takes the place of is shown, so that it can be set again.
    fn change_plans(&mut self, order: &Order, members: &[Member], plan: &Plan, week: Week) {
        let mut same: Vec<(Plan, Vec<Member>)> = Vec::new();
        let mut stays: Vec<String> = Vec::new();
        let mut gone: Vec<(Member, Vec<Item>)> = Vec::new();
        let mut replaced: Vec<(String, Plan)> = Vec::new();
        for member in members {
            let held = self.plan_held_by(member, week);
            let new = plan
                .in_place_of_its_day(&held)
                .unwrap_or_else(|| plan.clone());
            if new != *plan {
                stays.push(member.name.clone());
                let kept = |item: &&Item| !plan.items().any(|own| own.is_of(item.exercise));
                let days = held
                    .days()
                    .iter()
                    .filter(|day| plan.named(day.name()).is_some());
                let items: Vec<Item> = days.flat_map(Day::items).filter(kept).cloned().collect();
                if !items.is_empty() {
                    gone.push((member.clone(), items));
                }
            } else if plan.drops_days_of(&held) {
                replaced.push((member.name.clone(), held));
            }
            match same.iter_mut().find(|(plan, _)| *plan == new) {
                Some((_, members)) => members.push(member.clone()),
                None => same.push((new, vec![member.clone()])),
            }
        }
        for (plan, members) in &same {
            self.set_plan(members, plan, week);
        }
        if !stays.is_empty() && gone.is_empty() {
            self.tell(text::plan::other_days_stay(plan));
        }
        for (member, items) in &gone {
            self.offer_to_keep(member, order, plan, items);
        }
        if let [(name, before), ..] = replaced.as_slice() {
            let more = replaced.len() - 1;
            self.tell(text::plan::took_the_place_of(
                name,
                before,
                more,
                self.view.catalogue(),
            ));
        }
    }

    pub(crate) fn language(&self) -> Language<'_> {
        Language {
            catalogue: self.view.catalogue(),
            names: self.view.reader.names(),
            unit: self.view.unit(),
        }
    }

    /// What the planned shares come to for a member with what is known of them now: exercise, share,
    /// load.
    fn shares(&self, member: &Member, plan: &Plan) -> Vec<(String, String, Option<Load>)> {
        let view = self.seen_as(member);
        let catalogue = self.view.catalogue();
        let beliefs = self.loaded.team_beliefs.get(&member.id);
        let belief = |id| {
            let name = &catalogue.exercise(id).name;
            let of_it = beliefs?.iter().find(|(known, _)| known == name);
            Belief::decode(&of_it?.1)
        };
        let mut out: Vec<(String, String, Option<Load>)> = Vec::new();
        for item in plan.items() {
            let Some(PlannedLoad::Share { low, high, of }) = item.load else {
                continue;
            };
            let share = belief(item.exercise).and_then(|belief| {
                planned_load::share(&view, &belief, item.exercise, (low, high), of)
            });
            let name = catalogue.exercise(item.exercise).name.clone();
            let said = item
                .load
                .map(|load| plan::load_words(load, item, catalogue));
            let row = (name, said.unwrap_or_default(), share);
            if !out.contains(&row) {
                out.push(row);
            }
        }
        out
    }

    /// Sets a plan and shows it back.
    pub(crate) fn set_plan(&mut self, members: &[Member], plan: &Plan, week: Week) {
        let catalogue = self.view.catalogue();
        let first = members.iter().any(|one| {
            let held = self.held_by(one, week);
            held.plan().is_none_or(Plan::is_empty)
        });
        for member in members {
            self.prescribe(
                member,
                week,
                Prescribed::Plan(PlanData::of(plan, catalogue)),
            );
        }
        let mut lines = match members {
            [one] => vec![text::plan::plan_of(
                &one.name,
                plan,
                self.dated(one, week, Prescribed::Plan(PlanData::default()))
                    .0,
                catalogue,
            )],
            several => vec![
                text::plan::set_for("Plan", &names(several), week.first_day()),
                text::plan::text_of(plan, catalogue),
            ],
        };
        lines.extend(text::plan::uncounted(plan, catalogue));
        if let [one] = members {
            lines.extend(text::plan::shares(&self.shares(one, plan)));
            let targets = self.held_by(one, week).targets;
            lines.extend(text::plan::outside(
                &self.sums(one, plan, &targets),
                catalogue,
            ));
        }
        if first {
            lines.push(text::CAUTION.to_owned());
        }
        self.tell(lines.join("\n"));
        self.tell_expected(members);
    }

    /// What a plan comes to for every muscle, with the member's band.
    fn sums(&self, member: &Member, plan: &Plan, targets: &Targets) -> Vec<(MuscleId, f64, Band)> {
        let view = View {
            member,
            ..self.view.clone()
        };
        let (catalogue, status) = (self.view.catalogue(), view.status());
        // A published band is no aim: what a plan does not ask for is no fault of it.
        let set = |(id, _): &(MuscleId, f64)| targets.own(*id).is_some();
        let with_band =
            |(id, sum): (MuscleId, f64)| (id, sum, targets.band(id, catalogue.muscle(id), status));
        let sums = plan.weekly_sets(catalogue).into_iter();
        sums.filter(set).map(with_band).collect()
    }

    fn copy_plan(&mut self, whom: &Whom, week: Week, other: &str) {
        let member = self.loaded.members.iter().any(|m| m.is_called(other));
        let kept = self.view.team.settings.templates.iter();
        let kept = kept.filter(|_| !member).find(|kept| kept.name == other);
        let named = |kept: &Template| {
            let plan = plan::read(&kept.text, &self.language()).ok()?;
            let name = plan.name().cloned().or_else(|| Note::new(&kept.name));
            Some(plan.called(name))
        };
        if let Some(plan) = kept.and_then(named) {
            if let Some(members) = self.meant(whom, &Action::Like(other.to_owned())) {
                self.set_plan(&members, &plan, week);
            }
            return;
        }
        let Some(from) = self.one_member(other) else {
            return;
        };
        let Some(members) = self.meant(whom, &Action::Like(other.to_owned())) else {
            return;
        };
        match self.held_by(&from, week).plan().cloned() {
            Some(plan) => self.set_plan(&members, &plan, week),
            None => self.tell(text::plan::has_none(&from.name, "plan")),
        }
    }
}

fn names(members: &[Member]) -> Vec<&str> {
    members.iter().map(|member| member.name.as_str()).collect()
}

// Blocks.

impl Work<'_> {
    /// Carries out `/block`.
    pub(crate) fn block(&mut self, order: &Order) {
        if !self.may(order) {
            return;
        }
        let week = week_of(order, self.view);
        let Some(members) = self.meant(&order.whom, &order.action) else {
            return;
        };
        match &order.action {
            Action::Show => self.show_blocks(&order.whom, &members, week),
            Action::Write(text) => match block::read(text) {
                Ok(block) => self.set_block(&members, &BlockData::of(&block), week),
                Err(faults) => self.tell(text::plan::faults(&faults, self.view.catalogue())),
            },
            Action::Change(..) => {}
            Action::Like(other) => self.copy_block(&members, week, other),
            Action::Drop => {
                for member in &members {
                    self.take_away(member, week, Prescribed::Block(BlockData::default()));
                }
                self.tell(text::plan::taken_from(
                    "Block",
                    &names(&members),
                    week.first_day(),
                ));
            }
        }
    }

    fn show_blocks(&mut self, whom: &Whom, members: &[Member], week: Week) {
        let lines: Vec<String> = members
            .iter()
            .map(|member| {
                let name = (*whom != Whom::Own).then_some(member.name.as_str());
                self.held_by(member, week).block.map_or_else(
                    || text::plan::no_block(name, week),
                    |running| text::plan::block_of(name, &running),
                )
            })
            .collect();
        self.tell(lines.join("\n"));
    }

    fn set_block(&mut self, members: &[Member], data: &BlockData, week: Week) {
        for member in members {
            self.prescribe(member, week, Prescribed::Block(data.clone()));
        }
        let set = text::plan::set_for("Block", &names(members), week.first_day());
        let text = data.block().map(|block| block::print(&block));
        self.tell(format!("{set}\n```\n{}\n```", text.unwrap_or_default()));
        self.tell_expected(members);
    }

    /// Another member's block goes on for these as it does for that one: the weeks from this one
    /// on.
    fn copy_block(&mut self, members: &[Member], week: Week, other: &str) {
        let Some(from) = self.one_member(other) else {
            return;
        };
        let Some(running) = self.held_by(&from, week).block else {
            self.tell(text::plan::has_none(&from.name, "block"));
            return;
        };
        let mut data = BlockData::of(&running.block);
        data.weeks.drain(..running.place);
        self.set_block(members, &data, week);
    }
}

// Targets.

impl Work<'_> {
    /// Carries out `/target`.
    pub(crate) fn target(&mut self, order: &Order) {
        if !self.may(order) {
            return;
        }
        let week = week_of(order, self.view);
        let Some(members) = self.meant(&order.whom, &order.action) else {
            return;
        };
        let changes = match &order.action {
            Action::Show | Action::Change(..) => Vec::new(),
            Action::Write(text) => match target::read(text, self.view.catalogue()) {
                Ok(changes) => changes,
                Err(faults) => {
                    self.tell(text::plan::faults(&faults, self.view.catalogue()));
                    return;
                }
            },
            Action::Like(other) => {
                let Some(from) = self.one_member(other) else {
                    return;
                };
                let theirs = self.held_by(&from, week).targets;
                let set = theirs
                    .all()
                    .map(|(id, band)| target::Change::Set(id, band.low, band.high));
                std::iter::once(target::Change::AllUsual)
                    .chain(set)
                    .collect()
            }
            Action::Drop => vec![target::Change::AllUsual],
        };
        if let Some(muscle) = self.nothing_to_add_to(&members, &changes, week) {
            let name = &self.view.catalogue().muscle(muscle).name;
            self.tell(text::plan::no_target_yet(name));
            return;
        }
        match order.action {
            Action::Drop => {
                for member in &members {
                    self.take_away(member, week, Prescribed::Targets(TargetsData::default()));
                }
            }
            _ => self.set_targets(&members, &changes, week),
        }
        if order.action == Action::Show {
            for member in &members {
                self.show_targets(&order.whom, member, week);
            }
        } else {
            self.tell_targets(&members, &changes, week);
        }
        if matches!(order.action, Action::Write(_) | Action::Like(_)) {
            self.tell_expected(&members);
        }
    }

    /// The muscle of which sets are to be added to a number that nobody has set.
    fn nothing_to_add_to(
        &self,
        members: &[Member],
        changes: &[target::Change],
        week: Week,
    ) -> Option<MuscleId> {
        changes.iter().find_map(|change| match change {
            target::Change::More(muscle, _) => {
                let own = |member: &Member| self.held_by(member, week).targets.own(*muscle);
                members
                    .iter()
                    .any(|member| own(member).is_none())
                    .then_some(*muscle)
            }
            _ => None,
        })
    }

    /// Says what was set, and where a plan gives other sums.
    fn tell_targets(&mut self, members: &[Member], changes: &[target::Change], week: Week) {
        let catalogue = self.view.catalogue();
        let usual = changes == [target::Change::AllUsual];
        let what = if usual {
            "The usual weekly sets"
        } else {
            "Weekly sets"
        };
        let mut lines = vec![text::plan::set_for(what, &names(members), week.first_day())];
        let Some(first) = members.first() else {
            return;
        };
        let targets = self.changed_targets(first, changes, week);
        let mut bands: Vec<(MuscleId, Option<Band>)> = Vec::new();
        for change in changes {
            let muscle = match change {
                target::Change::Set(muscle, ..)
                | target::Change::Usual(muscle)
                | target::Change::More(muscle, _) => *muscle,
                target::Change::AllUsual => continue,
            };
            bands.retain(|(known, _)| *known != muscle);
            bands.push((muscle, targets.own(muscle)));
        }
        lines.extend(text::plan::bands(&bands, catalogue));
        let planned = members.iter().filter_map(|member| {
            let plan = self.held_by(member, week).plan().cloned()?;
            let targets = self.changed_targets(member, changes, week);
            let sums = self.sums(member, &plan, &targets);
            let sums: Vec<_> = sums
                .into_iter()
                .filter(|(id, ..)| bands.iter().any(|(known, _)| known == id))
                .collect();
            Some((member.name.as_str(), text::plan::outside(&sums, catalogue)?))
        });
        let planned: Vec<(&str, String)> = planned.collect();
        lines.extend(text::plan::outside_of(&planned));
        self.tell(lines.join("\n"));
    }

    fn set_targets(&mut self, members: &[Member], changes: &[target::Change], week: Week) {
        if changes.is_empty() {
            return;
        }
        for member in members {
            let targets = self.changed_targets(member, changes, week);
            let data = TargetsData::of(&targets, self.view.catalogue());
            self.prescribe(member, week, Prescribed::Targets(data));
        }
    }

    fn changed_targets(&self, member: &Member, changes: &[target::Change], week: Week) -> Targets {
        let mut targets = self.held_by(member, week).targets;
        for change in changes {
            // Bands were checked when they were read.
            let _ = change.apply(&mut targets);
        }
        targets
    }

    fn show_targets(&mut self, whom: &Whom, member: &Member, week: Week) {
        let view = View {
            member,
            ..self.view.clone()
        };
        let mut tally = WeeklyVolume::empty(self.view.catalogue(), view.status());
        self.held_by(member, week).put_aims(
            &mut tally,
            &self.sessions_of(member, week),
            &BTreeMap::new(),
            (week, week.first_day()),
            self.view.catalogue(),
        );
        let running = self
            .held_by(member, week)
            .block
            .map(|running| running.week());
        let title = match whom {
            Whom::Own => "Your aim".to_owned(),
            _ => format!("Aim of {}", text::shown_name(&member.name)),
        };
        self.tell(text::plan::targets(
            &title,
            &tally,
            running,
            self.view.catalogue(),
        ));
    }
}
