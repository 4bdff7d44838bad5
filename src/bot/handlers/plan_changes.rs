//! Plans of coaches changed in part: an exercise added, changed, swapped or taken out, and all of it taken back.

use super::work::Work;
use crate::bot::button::ButtonId;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::state::prescription::PlanData;
use crate::bot::state::{MOST_OFFERED, Member, Offered, PlansBefore};
use crate::bot::text;
use crate::domain::coaching::plan::{DayName, Item, Plan};
use crate::domain::quantities::calendar::Week;
use crate::message::forms::command::{How, Order, WeekSaid};
use crate::message::forms::plan;

impl Work<'_> {
    /// Says something with buttons that each give a command.
    fn offer_commands(&mut self, text: String, choices: Vec<(String, String)>) {
        let buttons = choices.iter().enumerate();
        let buttons =
            buttons.map(|(place, (label, _))| ButtonId::Pick(place).labelled(label.clone()));
        let reply = Reply {
            text,
            buttons: buttons.collect(),
            private: true,
            ..self.blank()
        };
        let offered = &mut self.member.state.offered;
        offered.push(Offered {
            reply: reply.id.clone(),
            commands: choices.into_iter().map(|(_, command)| command).collect(),
        });
        let over = offered.len().saturating_sub(MOST_OFFERED);
        offered.drain(..over);
        self.out.push(Outgoing::Reply(reply));
    }

    /// What an order on a member's plan begins with: `/plan ana next week`.
    fn order_for(&self, member: &Member, order: &Order) -> String {
        let from = match order.week {
            WeekSaid::This => String::new(),
            WeekSaid::Next => " next week".to_owned(),
            _ => format!(
                " from {}",
                super::plans::week_of(order, self.view).first_day()
            ),
        };
        format!("/plan {}{from}", member.author)
    }

    /// Names what a day that was written anew took out, with a button that keeps it.
    pub(crate) fn offer_to_keep(
        &mut self,
        member: &Member,
        order: &Order,
        plan: &Plan,
        items: &[Item],
    ) {
        let catalogue = self.view.catalogue();
        let Some(day) = plan.days().first().map(|day| plan::name_word(day.name())) else {
            return;
        };
        let items: Vec<String> = items
            .iter()
            .map(|item| plan::print_item(item, catalogue))
            .collect();
        let command = format!(
            "{} also {day}: {}",
            self.order_for(member, order),
            items.join("; ")
        );
        self.offer_commands(
            text::plan::taken_out(&member.name, &day, &items),
            vec![(text::plan::KEEP_TOO.to_owned(), command)],
        );
    }

    /// Puts what a text says beside what each of these has in that week, or in its place; asks where an exercise stands
    /// already.
    pub(crate) fn add_to_plans(
        &mut self,
        order: &Order,
        members: &[Member],
        more: &Plan,
        week: Week,
        how: How,
    ) {
        for member in members {
            let held = self.plan_held_by(member, week);
            let plan = match how {
                How::Instead => held.instead(more),
                _ => held.with(more),
            };
            let plan = match plan {
                Ok(plan) => plan,
                Err(error) => {
                    self.tell(text::plan::too_much(&member.name, error));
                    continue;
                }
            };
            let twice = |of: &Plan, day: DayName, item: &Item| {
                let items = of.named(day).map(|day| day.items());
                let items = items.into_iter().flatten();
                items.filter(|own| own.exercise == item.exercise).count()
            };
            let catalogue = self.view.catalogue();
            let doubled: Vec<(String, String)> = held
                .shared(more)
                .filter(|(day, own, item)| {
                    *own != *item
                        && twice(&plan, *day, item)
                            > twice(&held, *day, item).max(twice(more, *day, item))
                })
                .map(|(_, own, item)| {
                    (
                        plan::print_item(own, catalogue),
                        plan::print_item(item, catalogue),
                    )
                })
                .collect();
            if how == How::Add && !doubled.is_empty() {
                let (begin, text) = (self.order_for(member, order), plan::print(more, catalogue));
                let choice = |word: &str| format!("{begin} {word}\n{text}");
                self.offer_commands(
                    text::plan::instead_or_beside(&member.name, &doubled),
                    vec![
                        (text::plan::INSTEAD.to_owned(), choice("instead")),
                        (text::plan::BESIDE.to_owned(), choice("also")),
                    ],
                );
                continue;
            }
            self.set_plan(std::slice::from_ref(member), &plan, week);
        }
    }

    /// Asks for which day an exercise is.
    pub(crate) fn ask_for_day(&mut self, order: &Order, week: Week, words: &str) {
        let Some(members) = self.meant(&order.whom, &order.action) else {
            return;
        };
        for member in &members {
            let held = self.plan_held_by(member, week);
            let begin = self.order_for(member, order);
            let choices = held.days().iter().take(7).map(|day| {
                let day = plan::name_word(day.name());
                let command = format!("{begin} add {day}: {words}");
                (text::capital(&day), command)
            });
            let choices: Vec<(String, String)> = choices.collect();
            match choices.is_empty() {
                true => self.tell(text::plan::none_of(&member.name)),
                false => self.offer_commands(text::plan::which_day(&member.name, words), choices),
            }
        }
    }

    /// Changes an exercise of a plan as a sentence says.
    pub(crate) fn edit_plans(&mut self, order: &Order, week: Week, words: &str) {
        let Some(edit) = plan::edit::edit(words, self.view.reader) else {
            self.tell(text::plan::no_edit(words));
            return;
        };
        let Some(members) = self.meant(&order.whom, &order.action) else {
            return;
        };
        let catalogue = self.view.catalogue();
        for member in &members {
            let held = self.plan_held_by(member, week);
            let language = self.language();
            let mut changed: Vec<(String, Option<String>)> = Vec::new();
            let plan: Result<Plan, String> = held.edited(|day, item| {
                let of_day = edit.day.is_none_or(|only| day == DayName::Weekday(only));
                if item.exercise != edit.exercise || !of_day {
                    return Ok(Some(item.clone()));
                }
                let new = edit.of(item, &language)?;
                let print = |item: &Item| plan::print_item(item, catalogue);
                let row = (
                    format!("{}: {}", plan::name_word(day), print(item)),
                    new.as_ref().map(print),
                );
                if !changed.contains(&row) {
                    changed.push(row);
                }
                Ok(new)
            });
            match plan {
                Err(words) => self.tell(text::plan::no_details(&words)),
                Ok(_) if changed.is_empty() => {
                    let name = self.view.name_of(edit.exercise);
                    self.tell(text::plan::has_no_such(&member.name, name));
                }
                Ok(plan) => {
                    self.tell(text::plan::changed(&member.name, &changed));
                    self.set_plan(std::slice::from_ref(member), &plan, week);
                }
            }
        }
    }

    /// Keeps what a member's plan is before this event changes it.
    pub(crate) fn note_before(&mut self, member: &Member, week: Week) {
        let (now, day) = (self.view.now, week.first_day());
        let held = PlanData::of(&self.plan_held_by(member, week), self.view.catalogue());
        let before = self.member.state.plans_before.take();
        let before = before.filter(|before| before.at == now && before.week == day);
        let mut before = before.unwrap_or(PlansBefore {
            at: now,
            week: day,
            plans: Vec::new(),
        });
        if !before
            .plans
            .iter()
            .any(|(author, _)| *author == member.author)
        {
            before.plans.push((member.author.clone(), held));
        }
        self.member.state.plans_before = Some(before);
    }

    /// Takes the last change of plans back.
    pub(crate) fn undo_plans(&mut self) {
        let Some(before) = self.member.state.plans_before.take() else {
            return;
        };
        let week = self.view.calendar.week_of(before.week);
        let mut same: Vec<(PlanData, Vec<Member>)> = Vec::new();
        for (author, plan) in before.plans {
            let members = self.loaded.members.iter();
            let Some(member) = members
                .clone()
                .find(|member| member.author == author)
                .cloned()
            else {
                continue;
            };
            match same.iter_mut().find(|(own, _)| *own == plan) {
                Some((_, members)) => members.push(member),
                None => same.push((plan, vec![member])),
            }
        }
        for (plan, members) in same {
            let names: Vec<&str> = members.iter().map(|member| member.name.as_str()).collect();
            self.tell(text::plan::taken_back(&names));
            let plan = plan.plan(self.view.catalogue());
            match plan.is_empty() {
                true => {
                    for member in &members {
                        self.take_plan_away(member, week);
                    }
                }
                false => self.set_plan(&members, &plan, week),
            }
        }
    }

    /// A plan that a coach posts as it is: asks whether, and for whom, it is to be set.
    pub(crate) fn plan_posted(&mut self, author: Option<&str>, week: &str, body: &str) {
        let members = self.loaded.members.iter();
        let mut members: Vec<&Member> = members
            .filter(|one| !one.coach && !one.is_expected())
            .collect();
        if let Some(author) = author {
            members.retain(|one| one.author == author);
        }
        let choice = |whom: &str, label: String| (label, format!("/plan {whom}{week}\n{body}"));
        let mut choices: Vec<(String, String)> = members
            .iter()
            .take(MOST_NAMED)
            .map(|one| choice(&one.author, text::plan::set_for_whom(Some(&one.name))))
            .collect();
        if author.is_none() && members.len() > 1 {
            choices.push(choice("team", text::plan::set_for_whom(None)));
        }
        let name = members.first().filter(|_| author.is_some());
        let text = text::plan::whose_plan(name.map(|one| one.name.as_str()));
        if !choices.is_empty() {
            self.offer_commands(text, choices);
        }
    }
}

/// Members that a plan without a name is offered for.
const MOST_NAMED: usize = 8;
