//! What was believed before the first sets of the last days, so that a change of a late set learns only
//! the log from there on again. It is a cache: without it the whole log is learned, to the same bit.
//!
//! A cut lies before the first set of a day. Kept with it is what was believed then of each exercise
//! that was trained since, with the member's condition; what was not trained since is believed as it
//! was. Everything before a cut was logged before everything behind it, in messages of its own, so that
//! the latest set of the whole log is the latest behind the cut, and no message is torn.

use std::collections::{BTreeMap, HashMap, VecDeque};

use chrono::{DateTime, NaiveDate, Utc};

use super::LogEntry;
use super::cuts::{AllBests, Checkpoint, CheckpointChange, Cut, Cuts, Late, code};
use super::view::View;
use crate::domain::lifter::belief::Belief;
use crate::domain::lifter::condition::Condition;
use crate::domain::lifter::model::Model;
use crate::domain::quantities::catalogue::Catalogue;

/// Cuts that are kept: today's, and that of the last day before. Corrections reach no further back as
/// a rule, and each costs what a belief takes for each exercise of the day.
const CUTS: usize = 2;

/// What a checkpoint of the member's condition goes by, among the names of exercises.
const CONDITION: &str = "";

/// What is believed somewhere in a log, from where it is learned on.
pub(crate) struct Start {
    pub(crate) model: Model,
    pub(crate) bests: AllBests,
    cuts: Vec<Cut>,
    /// The cut that this is at; `None`: the log's beginning.
    at: Option<Cut>,
}

impl Start {
    /// The beginning of every log.
    pub(crate) fn blank() -> Self {
        Self {
            model: Model::default(),
            bests: AllBests::new(),
            cuts: Vec::new(),
            at: None,
        }
    }

    /// The latest cut that nothing before `earliest` lies behind, by what is stored: `model` and `bests`
    /// are those of the whole log. `None` where it is not stored.
    pub(crate) fn before(
        earliest: DateTime<Utc>,
        late: &Late,
        (model, bests): (Model, AllBests),
        view: &View,
    ) -> Option<Self> {
        let cuts = view.member.state.cuts.usable(view.status());
        let place = cuts.iter().rposition(|cut| cut.at <= earliest)?;
        let cuts = cuts.get(..=place)?;
        let cut = *cuts.last()?;
        let mut start = Self {
            model,
            bests,
            cuts: cuts.to_vec(),
            at: Some(cut),
        };
        // The earliest behind the cut is what was believed there.
        let mut first: BTreeMap<&str, &Checkpoint> = BTreeMap::new();
        for one in late.checkpoints.iter().filter(|one| one.at >= cut.at) {
            let known = first.entry(&one.exercise).or_insert(one);
            if one.at < known.at {
                *known = one;
            }
        }
        let condition = first.remove(CONDITION).filter(|one| one.at == cut.at)?;
        start.model.condition = Condition::decode(condition.state.as_deref()?)?;
        for (name, one) in first {
            start.restore(name, one, view.catalogue())?;
        }
        Some(start)
    }

    fn restore(&mut self, name: &str, one: &Checkpoint, catalogue: &Catalogue) -> Option<()> {
        let id = catalogue.named(name)?;
        match &one.state {
            Some(state) => drop(self.model.beliefs.insert(id, Belief::decode(state)?)),
            None => drop(self.model.beliefs.remove(&id)),
        }
        match &one.bests {
            Some(bests) => drop(self.bests.insert(name.to_owned(), bests.clone())),
            None => drop(self.bests.remove(name)),
        }
        Some(())
    }

    /// The place in a log of the first set behind.
    pub(crate) fn place(&self, log: &[LogEntry]) -> usize {
        self.at
            .map_or(0, |cut| log.partition_point(|filed| filed.set.at < cut.at))
    }

    /// Whether it is the beginning of the log.
    pub(crate) const fn is_blank(&self) -> bool {
        self.at.is_none()
    }

    /// What notes the checkpoints of `log`, all that lies behind.
    pub(crate) fn noting(&self, log: &[LogEntry], view: &View) -> Notes {
        let cut = |place: usize| {
            let first = &log.get(place)?.set;
            let (at, day) = (first.at, first.day);
            Some((place, Cut { at, day }))
        };
        let places = places_of_cuts(log);
        let late = places.len().saturating_sub(CUTS);
        let places = places.into_iter().skip(late).filter_map(cut);
        // The one that is begun at is noted anew, with what now lies behind it.
        Notes {
            cuts: self.cuts.clone(),
            again: self.at,
            places: places.collect(),
            learned_as: code(view.status()),
            new: self
                .at
                .map(|cut| of_condition(cut, &self.model))
                .into_iter()
                .collect(),
        }
    }
}

/// The checkpoints of a log that is being learned.
pub(crate) struct Notes {
    cuts: Vec<Cut>,
    again: Option<Cut>,
    /// Cuts to come, by the place of the first set behind.
    places: VecDeque<(usize, Cut)>,
    learned_as: u8,
    new: Vec<Checkpoint>,
}

impl Notes {
    /// Notes the checkpoints of these cuts of a whole log.
    pub(crate) fn at(cuts: &Cuts, log: &[LogEntry]) -> Self {
        let place = |cut: &Cut| (log.partition_point(|filed| filed.set.at < cut.at), *cut);
        Self {
            cuts: Vec::new(),
            again: None,
            places: cuts.at.iter().map(place).collect(),
            learned_as: cuts.learned_as.unwrap_or_default(),
            new: Vec::new(),
        }
    }

    /// Notes what is believed before the set at this place of the log is learned.
    pub(crate) fn before(
        &mut self,
        (place, filed): (usize, &LogEntry),
        model: &Model,
        bests: &AllBests,
        view: &View,
    ) {
        self.cut(place, model);
        let Some(cut) = self.cuts.last() else { return };
        let Some(one) = of_exercise(*cut, filed, model, bests, view) else {
            return;
        };
        let is_same = |other: &Checkpoint| other.at == one.at && other.exercise == one.exercise;
        if !self.new.iter().any(is_same) {
            self.new.push(one);
        }
    }

    /// Makes the cuts that lie before the set at this place.
    fn cut(&mut self, place: usize, model: &Model) {
        while let Some((_, cut)) = self.places.pop_front_if(|(at, _)| *at <= place) {
            self.cuts.push(cut);
            self.new.push(of_condition(cut, model));
        }
    }

    /// The cuts, and what becomes of the stored checkpoints, once `model` has learned all of it.
    pub(crate) fn done(mut self, model: &Model) -> (Cuts, CheckpointChange) {
        self.cut(usize::MAX, model);
        let surplus = self.cuts.len().saturating_sub(CUTS);
        self.cuts.drain(..surplus);
        let first = self.cuts.first().map(|cut| cut.at);
        self.new.retain(|one| first.is_some_and(|at| one.at >= at));
        let again = self.again.map_or(DateTime::<Utc>::MIN_UTC, |cut| cut.at);
        let change = CheckpointChange {
            keep: Some((first.unwrap_or(DateTime::<Utc>::MAX_UTC), again)),
            new: self.new,
        };
        let cuts = Cuts {
            learned_as: Some(self.learned_as),
            at: self.cuts,
        };
        (cuts, change)
    }
}

/// Notes what is believed before a new set, the latest of the log, is learned; whether it is the first
/// of its message. What becomes of the stored checkpoints.
pub(crate) fn note_new(
    cuts: &mut Cuts,
    (filed, is_first): (&LogEntry, bool),
    model: &Model,
    bests: &AllBests,
    view: &View,
) -> CheckpointChange {
    let mut change = CheckpointChange::default();
    let status = Some(code(view.status()));
    let last_ms = model.condition.at_ms();
    let last = last_ms.and_then(DateTime::from_timestamp_millis);
    if last.is_none() {
        cuts.learned_as = status;
    }
    if cuts.learned_as != status {
        if !cuts.is_empty() {
            *cuts = Cuts::default();
            change.keep = Some((DateTime::<Utc>::MAX_UTC, DateTime::<Utc>::MAX_UTC));
        }
        return change;
    }
    // Where the sets behind a cut were taken back, the new one may lie before it.
    if let Some(place) = cuts.at.iter().position(|cut| cut.at > filed.set.at) {
        let gone = cuts.at.split_off(place);
        let first = cuts
            .at
            .first()
            .map_or(DateTime::<Utc>::MAX_UTC, |cut| cut.at);
        let from = gone.first().map_or(DateTime::<Utc>::MAX_UTC, |cut| cut.at);
        change.keep = Some((first, from));
    }
    let is_new_day =
        last.is_some_and(|last| last < filed.set.at && view.calendar.day_of(last) < filed.set.day);
    let is_behind = cuts.at.last().is_none_or(|cut| cut.at < filed.set.at);
    if is_first && is_new_day && is_behind {
        let cut = Cut {
            at: filed.set.at,
            day: filed.set.day,
        };
        cuts.at.push(cut);
        if cuts.at.len() > CUTS {
            cuts.at.remove(0);
            change.keep = cuts
                .at
                .first()
                .map(|first| (first.at, DateTime::<Utc>::MAX_UTC));
        }
        change.new.push(of_condition(cut, model));
    }
    let cut = cuts.at.last();
    change
        .new
        .extend(cut.and_then(|cut| of_exercise(*cut, filed, model, bests, view)));
    change
}

fn of_condition(cut: Cut, model: &Model) -> Checkpoint {
    Checkpoint {
        at: cut.at,
        exercise: CONDITION.to_owned(),
        state: Some(model.condition.encode()),
        bests: None,
    }
}

/// What is believed of a set's exercise, where none of its sets behind the cut was learned yet.
fn of_exercise(
    cut: Cut,
    filed: &LogEntry,
    model: &Model,
    bests: &AllBests,
    view: &View,
) -> Option<Checkpoint> {
    let belief = model.beliefs.get(&filed.set.exercise);
    let name = view.name_of(filed.set.exercise);
    let since = belief.is_some_and(|belief| belief.at_ms() >= cut.at.timestamp_millis());
    (!since).then(|| Checkpoint {
        at: cut.at,
        exercise: name.to_owned(),
        state: belief.map(Belief::encode),
        bests: bests.get(name).cloned(),
    })
}

/// Where in a log a cut may lie, with everything else behind it that a change of what lies behind may
/// look at.
fn places_of_cuts(log: &[LogEntry]) -> Vec<usize> {
    let number = |filed: &LogEntry| filed.set.id.map_or(i64::MAX, |id| id.0);
    let mut last_of: HashMap<&str, usize> = HashMap::new();
    for (place, filed) in log.iter().enumerate() {
        last_of.insert(&filed.message, place);
    }
    // The lowest id and day from each place on.
    let mut lowest = vec![(i64::MAX, NaiveDate::MAX); log.len() + 1];
    for (place, filed) in log.iter().enumerate().rev() {
        let (id, day) = lowest[place + 1];
        lowest[place] = (id.min(number(filed)), day.min(filed.set.day));
    }
    let mut places = Vec::new();
    let (mut id, mut day, mut reaches) = (i64::MIN, NaiveDate::MIN, 0);
    for (place, filed) in log.iter().enumerate() {
        let before = place.checked_sub(1).and_then(|before| log.get(before));
        if before.is_some_and(|before| before.set.at < filed.set.at)
            && id < lowest[place].0
            && day < lowest[place].1
            && reaches < place
        {
            places.push(place);
        }
        id = id.max(number(filed));
        day = day.max(filed.set.day);
        reaches = reaches.max(
            last_of
                .get(filed.message.as_str())
                .copied()
                .unwrap_or(place),
        );
    }
    places
}
