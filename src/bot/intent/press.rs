//! A pressed button of one of the member's own replies.

use chrono::NaiveDate;

use super::answers::{ANSWER_WITHIN, question_press};
use super::understood::Intent;
use crate::bot::button::{ButtonId, CardButton, OnCard};
use crate::bot::state::view::View;
use crate::bot::state::{LogEntry, OwnExercise};
use crate::domain::quantities::id::ExerciseId;
use crate::message::forms::command::{self, Command};
use crate::message::intent::absence::Absence;
use crate::message::intent::own_name::Mapping;

/// Reads a pressed button of the member's own replies.
pub fn press(view: &View, reply: &str, button: &str) -> Intent {
    let state = &view.member.state;
    if let Some(place) = state
        .pending
        .iter()
        .position(|pending| pending.reply == reply)
    {
        return question_press(view, place, button);
    }
    let card = state.cards.iter().find(|(_, card)| card.reply == reply);
    let (card, card_day) = (card.map(|(name, _)| name), card.map(|(_, card)| card.day));
    let rung = state
        .rung
        .iter()
        .find(|rung| rung.reply == reply)
        .map(|rung| &rung.exercise);
    match ButtonId::parse(button) {
        Some(ButtonId::Hurts(yes)) => {
            let mut asked = state.hurt_asked.iter();
            return match asked.any(|asked| asked.reply == reply) {
                true => Intent::HurtAnswered(yes, reply.to_owned()),
                false => Intent::NotTheirs,
            };
        }
        Some(ButtonId::Pick(place)) => {
            let mut offers = state.offered.iter();
            if let Some(offered) = offers.find(|offered| offered.reply == reply) {
                let command = offered.commands.get(place);
                let command = command.and_then(|command| command::read(command));
                return command.map_or(Intent::NotTheirs, Intent::Ordered);
            }
            let asked = state.amending.as_ref();
            let own = asked
                .is_some_and(|asked| asked.reply == reply && view.now - asked.at <= ANSWER_WITHIN);
            return match own {
                true => Intent::AmendPicked(place),
                false => Intent::NotTheirs,
            };
        }
        Some(ButtonId::NoInjury(number)) => {
            let own = state
                .hurt
                .iter()
                .any(|report| report.reply == reply && report.number == number);
            return match own {
                true => Intent::NoInjury(number),
                false => Intent::NotTheirs,
            };
        }
        Some(ButtonId::Maps(name, exercise)) => return maps(view, &name, &exercise),
        Some(ButtonId::Clear(which, member)) => {
            let exercise = Some(which);
            return match view.member.coach {
                true => Intent::Ordered(Command::Clear { member, exercise }),
                false => Intent::NotTheirs,
            };
        }
        Some(ButtonId::NotAway(day, author)) => {
            let own = author == view.member.author;
            return match own || view.member.coach {
                true => Intent::Absence((!own).then_some(author), Absence::Not(day)),
                false => Intent::NotTheirs,
            };
        }
        Some(ButtonId::NotLight(author)) => {
            let own = author == view.member.author;
            return match own || view.member.coach {
                true => Intent::Absence((!own).then_some(author), Absence::NotLight),
                false => Intent::NotTheirs,
            };
        }
        Some(ButtonId::Doctor(cleared, numbers, author)) => {
            return match view.member.coach {
                true => Intent::Doctor(cleared, numbers, author),
                false => Intent::NotTheirs,
            };
        }
        _ => {}
    }
    let forget = state.forget.as_ref().filter(|asked| asked.reply == reply);
    match (forget, ButtonId::parse(button)) {
        (Some(_), Some(ButtonId::ForgetAll)) => return Intent::Ordered(Command::Forget(true)),
        (Some(_), _) => return Intent::Kept,
        (None, _) => {}
    }
    let exercise = card.or(rung).and_then(|name| view.catalogue().named(name));
    match (exercise, ButtonId::parse(button)) {
        (Some(exercise), Some(ButtonId::OfCard(button, on_card))) => {
            of_card(view, (exercise, card_day), button, on_card.as_ref())
        }
        _ => Intent::NotTheirs,
    }
}

/// A button that says what a member's own name, by its canonical name, stands for.
pub(super) fn maps(view: &View, name: &str, exercise: &str) -> Intent {
    let mut own = view.team.settings.exercises.iter();
    let own = own.find(|one| one.by.is_some() && one.name == name);
    let may = |own: &&OwnExercise| view.member.coach || own.is_of(&view.member.author);
    let exercise = view.catalogue().named(exercise);
    match (own.filter(may), exercise) {
        (Some(own), Some(exercise)) => Intent::MapName(Mapping {
            name: own.name.clone(),
            of: own.by.as_ref().map(|by| by.to_lowercase()),
            exercise,
        }),
        _ => Intent::NotTheirs,
    }
}

/// A button under one of the member's cards. It belongs to the card that it went out with; one of
/// an earlier version to the card that stands there.
pub(super) fn of_card(
    view: &View,
    (stands, day): (ExerciseId, Option<NaiveDate>),
    button: CardButton,
    on_card: Option<&OnCard>,
) -> Intent {
    let exercise = match on_card {
        None => Some(stands),
        Some(card) => view.catalogue().named(&card.exercise),
    };
    let Some(exercise) = exercise else {
        return Intent::NotTheirs;
    };
    let is_of_exercise = |filed: &LogEntry| filed.set.exercise == exercise;
    let is_over = on_card.is_some_and(|card| card.day < view.today())
        && !view.session().iter().any(is_of_exercise);
    match button {
        CardButton::Ready | CardButton::Failing(_) if is_over => Intent::NotTheirs,
        CardButton::Ready => Intent::Checked(exercise, None),
        CardButton::Failing(check) => Intent::Checked(exercise, Some(check)),
        CardButton::Undo => {
            let day = on_card.map(|card| card.day).or(day);
            Intent::TakenBack(exercise, day.unwrap_or_else(|| view.today()))
        }
    }
}
