//! Commands of coaches: the team's exercises and settings. Reports of pain are lifted in
//! [`super::lift`].

use super::digest;
use super::work::Work;
use crate::bot::needs_of::mapping;
use crate::bot::state::view::with_own;
use crate::bot::state::{Change, Member, OwnExercise};
use crate::bot::text;
use crate::message::forms::command::{CatalogueCommand, Setting};

impl Work<'_> {
    /// Whether the author may give coaches' commands; says so where not.
    pub(crate) fn is_coach(&mut self) -> bool {
        let coach = self.member.coach;
        if !coach {
            self.tell(text::COACH_ONLY);
        }
        coach
    }

    /// The member whom a coach's command names, which may be the coach; says so where nobody or
    /// several go by that name.
    pub(crate) fn named(&mut self, name: &str) -> Option<Member> {
        let found = match &self.loaded.other {
            Some(other) if other.id == self.member.id => Some(self.member.clone()),
            other => other.clone(),
        };
        if found.is_none() {
            let authors: Vec<&str> = self.loaded.namesakes.iter().map(String::as_str).collect();
            self.tell(match authors.as_slice() {
                [] => text::unknown_member(name),
                several => text::plan::which_member(name, several),
            });
        }
        found
    }

    /// Finds exercises, or adds one to the team's own.
    pub(crate) fn catalogue(&mut self, command: &CatalogueCommand) {
        match command {
            CatalogueCommand::Find(word) => {
                self.tell(text::found(self.view.catalogue(), word));
            }
            CatalogueCommand::Names => self.show_names(),
            CatalogueCommand::Map { name, of, to } => {
                match mapping(self.view, name, of.as_deref(), to) {
                    Some(mapping) => self.map_name(&mapping),
                    None => self.tell(text::unknown_exercise(to)),
                }
            }
            CatalogueCommand::Add {
                name,
                target,
                helpers,
                like,
                aliases,
            } => {
                if self.is_coach() {
                    self.add_exercise(name, target, helpers, like, aliases);
                }
            }
        }
    }

    fn add_exercise(
        &mut self,
        name: &str,
        target: &str,
        helpers: &[String],
        like: &str,
        aliases: &[String],
    ) {
        let reader = self.view.reader;
        let Some(like) = reader.names().named(like) else {
            self.tell(text::unknown_exercise(like));
            return;
        };
        let mut muscles = Vec::new();
        for word in std::iter::once(target).chain(helpers.iter().map(String::as_str)) {
            let Some(muscle) = reader.catalogue().muscle_named(word) else {
                self.tell(text::unknown_muscle(word, self.view.catalogue()));
                return;
            };
            muscles.push(self.view.catalogue().muscle(muscle).name.clone());
        }
        let target = muscles.remove(0);
        muscles.retain(|muscle| *muscle != target);
        let own = OwnExercise {
            name: name.to_owned(),
            aliases: aliases.to_vec(),
            target,
            helpers: muscles,
            like: self.view.name_of(like).to_owned(),
            ..OwnExercise::default()
        };
        let mut settings = self.view.team.settings.clone();
        let is_members = |own: &OwnExercise| own.by.is_some() && own.name == name;
        if settings.exercises.iter().any(is_members) {
            self.tell(text::own_names::is_a_members(name));
            return;
        }
        let added = with_own(self.view.catalogue(), std::slice::from_ref(&own));
        settings.exercises.push(own);
        match added {
            Ok(_) => {
                self.changes.push(Change::Settings(settings));
                self.tell(text::coach::added(name));
            }
            Err(fault) => self.tell(text::coach::not_added(&fault)),
        }
    }

    /// Shows or changes the team's settings.
    pub(crate) fn settings(&mut self, setting: Option<&Setting>) {
        if !self.is_coach() {
            return;
        }
        let mut settings = self.view.team.settings.clone();
        match setting {
            None => {}
            Some(Setting::Zone(zone)) => match zone_named(zone) {
                Some(zone) => settings.zone = zone.name().to_owned(),
                None => {
                    self.tell(text::UNKNOWN_ZONE);
                    return;
                }
            },
            Some(Setting::WeekStart(day)) => settings.week_start = day.to_string().to_lowercase(),
            Some(Setting::Unit(unit)) => settings.unit = unit.symbol().to_owned(),
            Some(Setting::Quiet(hours)) => settings.quiet = *hours,
            Some(Setting::DigestAt(day, minute)) => {
                settings.digest.day = day.to_string().to_lowercase();
                settings.digest.minute = *minute;
                settings.digest.off = false;
            }
            Some(Setting::DigestHere) => {
                settings.digest.channel = Some(self.source.channel.clone());
                settings.digest.off = false;
            }
            Some(Setting::DigestOn(on)) => settings.digest.off = !on,
        }
        let (_, next) = digest::plan(&settings, &self.loaded.digest, self.view.now);
        let next = next.with_timezone(&settings.calendar().zone);
        self.tell(text::coach::settings(&settings, next));
        if settings != self.view.team.settings {
            self.changes.push(Change::Settings(settings));
        }
    }
}

/// A time zone by its name, or by its city alone: `Berlin`.
fn zone_named(said: &str) -> Option<chrono_tz::Tz> {
    let city = said.trim().replace(' ', "_").to_lowercase();
    let of_city = |zone: &&chrono_tz::Tz| {
        let name = zone.name().to_lowercase();
        name == city || name.rsplit('/').next() == Some(city.as_str())
    };
    said.parse()
        .ok()
        .or_else(|| chrono_tz::TZ_VARIANTS.iter().find(of_city).copied())
}
