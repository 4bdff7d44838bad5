//! What a use case sees of one member at one moment, with the questions that many of them ask.

use chrono::{DateTime, Duration, NaiveDate, Utc};

use super::{Bell, Card, LogEntry, Member, OwnExercise, RackData, Team};
use crate::domain::lifter::model::Lifter;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::calendar::TeamCalendar;
use crate::domain::quantities::catalogue::{Basis, Catalogue, CatalogueError, Equipment, Exercise};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::lift_class::LiftClass;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::rack::{Discs, Rack, RackError, Steps};
use crate::domain::quantities::status::TrainingStatus;
use crate::message::Reader;

/// A pause longer than this ends a session, and with it what follow-on forms refer to.
pub const SESSION_GAP: Duration = Duration::hours(3);

/// How far back the sets of a [`View`] reach: longer than any session.
pub const RECENT: Duration = Duration::hours(18);

/// Somebody of the team, as they are called.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Called {
    /// The channel's name for the author.
    pub author: String,
    /// The name shown.
    pub name: String,
}

impl Called {
    /// Whether they have posted, and are not only expected.
    pub fn is_here(&self) -> bool {
        !Member::is_expected_author(&self.author)
    }
}

/// One member at one moment.
#[derive(Clone, Debug)]
pub struct View<'a> {
    /// The member's team.
    pub team: &'a Team,
    /// The member.
    pub member: &'a Member,
    /// Reads messages by the team's catalogue.
    pub reader: &'a Reader,
    /// The team's weeks and days.
    pub calendar: TeamCalendar,
    /// The member's sets of the last [`RECENT`] hours before `now`, in order.
    pub recent: &'a [LogEntry],
    /// The member's bell, if one waits.
    pub bell: Option<&'a Bell>,
    /// When the event happened.
    pub now: DateTime<Utc>,
    /// What the others of the team are called, where the member is a coach: their words may be about them.
    pub others: &'a [Called],
}

impl<'a> View<'a> {
    /// The team's exercises.
    pub fn catalogue(&self) -> &'a Catalogue {
        self.reader.catalogue()
    }

    /// An exercise's canonical name.
    pub fn name_of(&self, exercise: ExerciseId) -> &'a str {
        &self.catalogue().exercise(exercise).name
    }

    /// The name of the muscle that an exercise is for.
    pub fn target_of(&self, exercise: ExerciseId) -> &'a str {
        let catalogue = self.catalogue();
        let target = catalogue.exercise(exercise).target;
        target.map_or("the target muscle", |muscle| &catalogue.muscle(muscle).name)
    }

    /// The member's own unit.
    pub fn unit(&self) -> Unit {
        let own = self.member.profile.unit.as_deref();
        own.and_then(Unit::from_symbol)
            .or_else(|| Unit::from_symbol(&self.team.settings.unit))
            .unwrap_or(Unit::Kg)
    }

    /// The member's stated body mass.
    pub fn body_mass(&self) -> Option<Mass> {
        self.member
            .profile
            .body_mass
            .map(Mass::from_tenth_micrograms)
    }

    /// The member as the model sees a lifter.
    pub fn lifter(&self) -> Lifter<'a> {
        Lifter {
            catalogue: self.catalogue(),
            body_mass: self.body_mass(),
            status: self.status(),
        }
    }

    /// Training status by the months stated; what was stated grows with the calendar.
    pub fn status(&self) -> TrainingStatus {
        self.member.profile.status(self.today())
    }

    /// What the member can load.
    pub fn rack(&self) -> Rack {
        let own = self.member.profile.rack.as_ref();
        own.and_then(|data| rack_of(data).ok())
            .unwrap_or_else(|| Rack::usual(self.unit()))
    }

    /// The local day of `now`.
    pub fn today(&self) -> NaiveDate {
        self.calendar.day_of(self.now)
    }

    /// The sets of the session that is on at `now`: back to the first pause over [`SESSION_GAP`].
    pub fn session(&self) -> &'a [LogEntry] {
        session_before(self.recent, self.now)
    }

    /// The last set of the session, for follow-on forms.
    pub fn last(&self) -> Option<&'a LogEntry> {
        self.session().last()
    }

    /// The running card of an exercise, if it still stands for today in this channel.
    pub fn card(&self, exercise: &str, channel: &str) -> Option<&'a Card> {
        let card = self.member.state.cards.get(exercise)?;
        (card.day == self.today() && card.channel == channel).then_some(card)
    }
}

/// The tail of `sets` (in order) without a pause over [`SESSION_GAP`], none of it after `now`.
pub fn session_before(sets: &[LogEntry], now: DateTime<Utc>) -> &[LogEntry] {
    let end = sets.partition_point(|filed| filed.set.at <= now);
    let mut start = end;
    let mut next = now;
    while start > 0 && next - sets[start - 1].set.at <= SESSION_GAP {
        start -= 1;
        next = sets[start].set.at;
    }
    &sets[start..end]
}

/// The sets of one exercise among these, in order.
pub fn run_of(sets: &[LogEntry], exercise: ExerciseId) -> Vec<LoggedSet> {
    sets.iter()
        .map(|filed| &filed.set)
        .filter(|set| set.exercise == exercise)
        .cloned()
        .collect()
}

/// A catalogue with a team's own exercises at its end, and with the names of its members' own. An
/// exercise whose target or model is no longer in the catalogue is left out: `config/` never drops a
/// name, so this is a row from elsewhere.
///
/// # Errors
/// [`CatalogueError`] when a name is taken.
pub fn with_own(base: &Catalogue, own: &[OwnExercise]) -> Result<Catalogue, CatalogueError> {
    let mut catalogue = base.clone();
    for one in own {
        let exercise = match (&one.by, &one.is) {
            (None, _) => own_exercise(&catalogue, one),
            (Some(_), None) => Some(unmapped(&one.name)),
            (Some(_), Some(_)) => None,
        };
        if let Some(exercise) = exercise {
            catalogue.add(exercise)?;
        }
    }
    for one in own {
        // A set that was under way while the name was mapped is stored under it.
        if let Some(id) = one.is.as_deref().and_then(|is| catalogue.named(is)) {
            catalogue.also_named(&one.name, id);
        }
    }
    Ok(catalogue)
}

/// What this member's own names stand for in such a catalogue.
pub fn names_of(
    author: &str,
    own: &[OwnExercise],
    catalogue: &Catalogue,
) -> Vec<(String, ExerciseId)> {
    let of_member = own.iter().filter(|one| one.is_of(author));
    of_member
        .filter_map(|one| Some((one.called.clone(), catalogue.named(&one.name)?)))
        .collect()
}

/// What a name is taken for while nobody knows what it stands for: a load of its own kind, in the
/// steps of a machine with plates, of a lift of middling size. Common practice, no source.
fn unmapped(name: &str) -> Exercise {
    Exercise {
        name: name.to_owned(),
        aliases: Vec::new(),
        target: None,
        helpers: Vec::new(),
        equipment: Equipment::PlateMachine,
        basis: Basis::Total,
        class: LiftClass::Press,
        body_share: 0.0,
        loads: Vec::new(),
        timed: false,
    }
}

fn own_exercise(catalogue: &Catalogue, own: &OwnExercise) -> Option<Exercise> {
    let like = catalogue.exercise(catalogue.named(&own.like)?).clone();
    let helpers = own
        .helpers
        .iter()
        .filter_map(|name| catalogue.muscle_named(name));
    Some(Exercise {
        name: own.name.clone(),
        aliases: own.aliases.clone(),
        target: Some(catalogue.muscle_named(&own.target)?),
        helpers: helpers.collect(),
        ..like
    })
}

/// The usual gym of a unit, with what these numbers change in it.
///
/// # Errors
/// [`RackError`] when they describe no rack.
pub fn rack_of(data: &RackData) -> Result<Rack, RackError> {
    let unit = Unit::from_symbol(&data.unit).unwrap_or(Unit::Kg);
    let usual = Rack::usual(unit);
    let mass = |amount: f64| Mass::new(amount, unit).unwrap_or(Mass::ZERO);
    let steps = |given: Option<(f64, f64, f64)>, usual: Steps| match given {
        Some((first, step, last)) => Steps::new(mass(first), mass(step), mass(last)),
        None => Ok(usual),
    };
    let discs = data.discs.as_ref().map_or_else(
        || usual.discs().to_vec(),
        |discs| {
            discs
                .iter()
                .map(|&(disc, pairs)| Discs {
                    mass: mass(disc),
                    pairs,
                })
                .collect()
        },
    );
    Rack::new(
        unit,
        data.bar.map_or(usual.bar(), mass),
        discs,
        steps(data.dumbbells, usual.dumbbells())?,
        steps(data.stack, usual.stack())?,
    )
}
