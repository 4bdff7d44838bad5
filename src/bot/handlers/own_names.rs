//! Names of exercises of a member's own: kept for that member alone, counted for no muscle until
//! somebody says what they stand for. Then the sets logged so far go along, and everything is learned
//! again.
//!
//! A name is an entry of the team's settings that says whose it is ([`OwnExercise::by`]): sets of it are
//! stored like any others, and whoever else is in the team does not get it as a name.

use super::work::{Work, learn_all, merged};
use crate::bot::button::ButtonId;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::state::view::View;
use crate::bot::state::{Change, LogEntry, Member, OwnExercise, TeamSettings, parts};
use crate::bot::text;
use crate::bot::text::own_names as said;
use crate::domain::quantities::id::ExerciseId;
use crate::message::intent::own_name::Mapping;

/// Most names of one member's own.
const MOST_NAMES: usize = 40;

/// Exercises that one reply offers for a name.
const OFFERED: usize = 3;

impl Work<'_> {
    /// Keeps a name: what follows from that is decided anew, with the name.
    pub(crate) fn keep_name(&mut self, name: &str) {
        let view = self.view;
        let author = &view.member.author;
        let mut settings = view.team.settings.clone();
        let own = settings.exercises.iter().filter(|one| one.is_of(author));
        if own.count() >= MOST_NAMES {
            self.tell(said::TOO_MANY);
            return;
        }
        let is_taken = |name: &str| {
            view.catalogue().named(name).is_some()
                || settings.exercises.iter().any(|one| one.name == name)
        };
        let shown = text::shown_name(&view.member.name).to_lowercase();
        let others = (2..100).map(|n| format!("{name} ({shown} {n})"));
        let mut canonical = [name.to_owned(), format!("{name} ({shown})")]
            .into_iter()
            .chain(others);
        let Some(canonical) = canonical.find(|name| !is_taken(name)) else {
            self.tell(said::TOO_MANY);
            return;
        };
        settings.exercises.push(OwnExercise {
            name: canonical,
            by: Some(author.clone()),
            called: name.to_owned(),
            ..OwnExercise::default()
        });
        self.anew = Some(settings);
    }

    /// Says that a name is kept, with exercises that it may stand for; sets that follow are of it.
    pub(crate) fn name_kept(&mut self, name: &str, goes_on: bool) {
        let view = self.view;
        let own = view.team.settings.exercises.iter();
        let own = own.filter(|one| one.is_of(&view.member.author));
        let Some(own) = own.into_iter().find(|one| one.called == name) else {
            return;
        };
        if let Some(exercise) = view.catalogue().named(&own.name).filter(|_| goes_on) {
            self.note_name(self.view.name_of(exercise).to_owned());
        }
        if let Some(is) = &own.is {
            self.tell(said::stands_for(name, is));
            return;
        }
        let likely = self.likely(name);
        let button = |&exercise: &ExerciseId| {
            let is = view.name_of(exercise);
            ButtonId::Maps(own.name.clone(), is.to_owned()).labelled(is)
        };
        let reply = Reply {
            text: said::kept(name, !likely.is_empty()),
            private: true,
            buttons: likely.iter().map(button).collect(),
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// Exercises that a name may stand for: what was done last, then those with a name like it.
    fn likely(&self, name: &str) -> Vec<ExerciseId> {
        let catalogue = self.view.catalogue();
        let mut likely: Vec<ExerciseId> = self.at_hand().into_iter().collect();
        likely.extend(self.view.reader.names().nearest(name, catalogue));
        let mut seen = Vec::new();
        likely.retain(|exercise| {
            let is_new = !seen.contains(exercise);
            seen.push(*exercise);
            is_new && catalogue.exercise(*exercise).is_mapped()
        });
        likely.truncate(OFFERED);
        likely
    }

    /// Lets a member's own name stand for an exercise; the sets logged so far go along.
    pub(crate) fn map_name(&mut self, mapping: &Mapping) {
        let owner = match mapping.of.as_deref() {
            None => {
                let owners = self.owners(&mapping.name);
                self.tell(said::whose(&mapping.name, &owners));
                return;
            }
            Some(of) if of == self.member.author.to_lowercase() => self.member.clone(),
            Some(of) => match self.named(of) {
                Some(owner) => owner,
                None => return,
            },
        };
        let is_self = owner.id == self.member.id;
        if !is_self && !self.is_coach() {
            return;
        }
        let mut settings = self.view.team.settings.clone();
        let own = settings.exercises.iter_mut();
        let mut own = own.filter(|one| one.is_of(&owner.author));
        let is_meant =
            |one: &&mut OwnExercise| one.called == mapping.name || one.name == mapping.name;
        let Some(own) = own.find(is_meant) else {
            self.tell(said::no_such_name(&mapping.name));
            return;
        };
        let is = self.view.name_of(mapping.exercise).to_owned();
        let before = own.is.replace(is.clone());
        let (canonical, called) = (own.name.clone(), own.called.clone());
        let from = self.view.catalogue().named(&canonical);
        let count = match from.filter(|_| before.is_none()) {
            Some(from) => match self.go_along(&owner, from, mapping.exercise) {
                Ok(count) => count,
                Err(()) => {
                    self.tell(text::amend::needs_load(&is));
                    return;
                }
            },
            None => 0,
        };
        self.changes.push(Change::Settings(settings));
        let whose = (!is_self).then(|| text::shown_name(&owner.name));
        self.tell(said::mapped(&called, &is, whose.as_deref(), count));
        if !is_self {
            let reply = Reply {
                to: Some(owner.author.clone()),
                private: true,
                text: said::mapped_by_coach(&called, &is, count),
                answers: None,
                ..self.blank()
            };
            self.out.push(Outgoing::Reply(reply));
        }
    }

    /// Who has a name of this kind, by shown names.
    fn owners(&self, name: &str) -> Vec<String> {
        let own = self.view.team.settings.exercises.iter();
        let own = own.filter(|one| one.called == name);
        let owner = |one: &OwnExercise| {
            let mut members = self.loaded.members.iter();
            let owner = members.find(|member| Some(&member.author) == one.by.as_ref())?;
            Some(text::shown_name(&owner.name))
        };
        own.filter_map(owner).collect()
    }

    /// Makes the owner's sets of one exercise sets of another and learns the whole log again; how many
    /// there were. `Err` where their load means nothing there.
    fn go_along(&mut self, owner: &Member, from: ExerciseId, to: ExerciseId) -> Result<usize, ()> {
        let log = &self.loaded.history;
        let sets = log.iter().filter(|filed| filed.set.exercise == from);
        let moved: Option<Vec<LogEntry>> = sets.map(|filed| self.of_exercise(filed, to)).collect();
        let mut moved = moved.ok_or(())?;
        let gone: Vec<_> = moved.iter().filter_map(|filed| filed.set.id).collect();
        let mut new = merged(log, &moved, &gone);
        let marked = parts::mark(&mut new, &parts::touched(&moved));
        let again: Vec<_> = marked.iter().filter_map(|at| new[*at].set.id).collect();
        let count = moved.len();
        let mut member = owner.clone();
        let state = &mut member.state;
        let (old, is) = (self.view.name_of(from), self.view.name_of(to));
        state.cards.remove(old);
        if let Some(named) = state.named.as_mut().filter(|named| named.exercise == old) {
            named.exercise = is.to_owned();
        }
        let view = View {
            member: &member,
            ..self.view.clone()
        };
        let learned = learn_all(&new, log, &view);
        let is_revised = |filed: &&LogEntry| {
            let id = filed.set.id;
            id.is_some_and(|id| gone.contains(&id) || again.contains(&id))
        };
        moved = learned.log.iter().filter(is_revised).cloned().collect();
        let mut changes = vec![
            Change::Revise(moved.clone()),
            Change::Judge(learned.judged),
            Change::Beliefs(learned.beliefs),
            Change::Checkpoints(learned.checkpoints),
        ];
        member.condition = learned.condition;
        member.state.bests = learned.bests;
        member.state.cuts = learned.cuts;
        if owner.id == self.member.id {
            self.model = learned.model;
            self.recent = merged(&self.recent, &moved, &gone);
            let since = self.view.recent.first().map(|filed| filed.set.at);
            self.recent
                .retain(|filed| since.is_some_and(|since| filed.set.at >= since));
            self.changes.extend(changes);
            self.member = member;
        } else {
            changes.push(Change::Member(Box::new(member.clone())));
            self.others.push((member, changes));
        }
        Ok(count)
    }

    /// Lists names: a member's own, for a coach everybody's.
    pub(crate) fn show_names(&mut self) {
        let view = self.view;
        let shown = |one: &&OwnExercise| {
            one.by.is_some() && (view.member.coach || one.is_of(&view.member.author))
        };
        let own = view.team.settings.exercises.iter().filter(shown);
        let lines = own.map(|one| {
            let mut members = self.loaded.members.iter();
            let owner = members.find(|member| Some(&member.author) == one.by.as_ref());
            let whose = owner
                .filter(|owner| owner.id != self.member.id)
                .map(|owner| text::shown_name(&owner.name));
            (one.called.clone(), whose, one.is.clone())
        });
        let lines: Vec<_> = lines.collect();
        self.tell(said::list(&lines));
    }

    /// How many names of the team's members nobody has mapped yet.
    pub(crate) fn unmapped_names(&self) -> usize {
        let own = self.view.team.settings.exercises.iter();
        own.filter(|one| one.by.is_some() && one.is.is_none())
            .count()
    }

    /// The team's settings without the member's names; `None` where there are none.
    pub(crate) fn without_names(&self) -> Option<TeamSettings> {
        let author = &self.view.member.author;
        let mut settings = self.view.team.settings.clone();
        settings.exercises.retain(|one| !one.is_of(author));
        (settings != self.view.team.settings).then_some(settings)
    }
}
