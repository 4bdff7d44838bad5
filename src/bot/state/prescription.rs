//! What coaches set for a member: plan, block and targets, as stored and as a week has them.
//!
//! Stored are names and numbers, since places in a catalogue change when the list does. What the
//! catalogue no longer has is left out when read.

use std::collections::BTreeMap;

use chrono::{Datelike as _, NaiveDate, Weekday};
use serde::{Deserialize, Serialize};

use crate::domain::coaching::adherence::{
    PlannedItem, PlannedSession, planned_volume, still_to_come,
};
use crate::domain::coaching::block::{Block, BlockEffort, BlockWeek};
use crate::domain::coaching::plan::{
    Amount, Day, DayName, Item, Note, Percent, Plan, PlannedLoad, RepRange, Seconds, Sets, Slot,
};
use crate::domain::coaching::target::Targets;
use crate::domain::coaching::week::{AimFrom, Band, Rest, WeeklyVolume};
use crate::domain::quantities::aim::Aim;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::{Basis, Catalogue};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::limits::MOST_RESERVE;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::forms::plan::{day_name, name_word};
use crate::message::intent::absence::{Span, is_in};

/// What holds for a member in one week.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prescription {
    /// The plan, and the day from which it stands; an empty plan was taken away.
    pub plan: Option<(Plan, NaiveDate)>,
    /// The block that the week is in, if one runs.
    pub block: Option<Running>,
    /// The coach's bands.
    pub targets: Targets,
}

/// A block that runs.
#[derive(Clone, Debug, PartialEq)]
pub struct Running {
    /// The block.
    pub block: Block,
    /// Its first day.
    pub from: NaiveDate,
    /// The place of the week in it, from 0.
    pub place: usize,
}

impl Running {
    /// The week that runs.
    pub fn week(&self) -> BlockWeek {
        self.block.week(self.place).unwrap_or_default()
    }
}

impl Prescription {
    /// What these versions come to in `week`, of each kind the latest that begins by its last day;
    /// they are in order of the day.
    pub fn in_week(versions: &[Version], week: Week, catalogue: &Catalogue) -> Self {
        let mut held = Self::default();
        for version in versions.iter().filter(|one| one.from <= week.last_day()) {
            match &version.content {
                Prescribed::Plan(data) => {
                    let weeks = weeks_after(version.from, week);
                    // A progression is told from the week asked about on.
                    let from = match data.later.is_empty() || weeks == 0 {
                        true => version.from,
                        false => week.first_day(),
                    };
                    held.plan = Some((data.plan(catalogue).after_weeks(weeks), from));
                }
                Prescribed::Block(data) => held.block = running(data, version.from, week),
                Prescribed::Targets(data) => held.targets = data.targets(catalogue),
            }
        }
        held
    }

    /// The plan, where one stands that is not empty.
    pub fn plan(&self) -> Option<&Plan> {
        let plan = self.plan.as_ref().map(|(plan, _)| plan);
        plan.filter(|plan| !plan.is_empty())
    }

    /// The block's week; without a block, a week as planned.
    pub fn week(&self) -> BlockWeek {
        self.block.as_ref().map(Running::week).unwrap_or_default()
    }

    /// What the week's plan asks for: each day by the plan that stood on it, with sets and effort as
    /// the block's week has them. `versions` are all that bear on the week, by kind, then day; a day
    /// that was over when its plan was set, or on which the member is away, is planned, but not asked for.
    pub fn sessions(
        versions: &[Version],
        away: &[Span],
        week: Week,
        catalogue: &Catalogue,
    ) -> Vec<PlannedSession> {
        let block_week = Self::in_week(versions, week, catalogue).week();
        let plans = || versions.iter().filter_map(Version::as_plan);
        let session = |day: &Day, on: Option<NaiveDate>, due: bool| {
            let items = day
                .items()
                .map(|item| planned_item(item, block_week, catalogue));
            let items: Vec<PlannedItem> = items.filter(|item| item.most_sets > 0).collect();
            let number = match day.name() {
                DayName::Number(number) => Some(number),
                DayName::Weekday(_) => None,
            };
            (!items.is_empty()).then_some(PlannedSession {
                day: on,
                number,
                items,
                due,
            })
        };
        let of_day = |day: NaiveDate| {
            let standing = plans().rfind(|(from, _)| *from <= day);
            let first = plans().find(|(from, _)| week.contains(*from));
            let (from, data) = standing.or(first)?;
            let due = from <= day && data.set.is_none_or(|set| set <= day) && !is_in(away, day);
            let plan = data.plan(catalogue).after_weeks(weeks_after(from, week));
            session(plan.day(day.weekday())?, Some(day), due)
        };
        let mut sessions: Vec<PlannedSession> = week.days().filter_map(of_day).collect();
        // Days by number are for any day of the week.
        let latest = plans().rfind(|(from, _)| *from <= week.last_day());
        let latest = latest.map(|(from, data)| {
            let plan = data.plan(catalogue);
            plan.after_weeks(weeks_after(from, week))
        });
        let numbered = latest.iter().flat_map(Plan::days);
        let numbered = numbered.filter(|day| day.weekday().is_none());
        let here = week.days().any(|day| !is_in(away, day));
        sessions.extend(numbered.filter_map(|day| session(day, None, here)));
        sessions
    }

    /// Puts the aims of the week in place of the usual bands: the coach's, else what the week's plan
    /// asks for; the rest stay a background. `done` are the work sets so far, by `today`.
    pub fn put_aims(
        &self,
        tally: &mut WeeklyVolume,
        sessions: &[PlannedSession],
        done: &BTreeMap<ExerciseId, u32>,
        (week, today): (Week, NaiveDate),
        catalogue: &Catalogue,
    ) {
        let over = week.last_day() < today;
        let asked: Vec<PlannedSession> = sessions.iter().filter(|one| one.due).cloned().collect();
        let planned = planned_volume(&asked, catalogue);
        let to_come = still_to_come(&asked, done, (week, today), catalogue);
        let (lighter, easier) = (self.week().is_lighter(), self.week().is_easier());
        for line in &mut tally.muscles {
            let place = line.muscle.index();
            let (least, most) = planned.get(place).copied().unwrap_or_default();
            line.rest = match (over, asked.is_empty()) {
                (true, _) => Rest::Over,
                (false, true) => Rest::Unknown,
                (false, false) => Rest::Planned(to_come.get(place).copied().unwrap_or(0.0)),
            };
            line.planned = (!asked.is_empty()).then_some(least);
            if let Some(own) = self.targets.own(line.muscle) {
                line.aim = AimFrom::Coach;
                line.band = self.week().band(own);
                if easier {
                    // Easy sets need not count.
                    line.band.low = 0;
                }
            } else if most > 0.0 {
                line.aim = AimFrom::Plan;
                line.band = Band {
                    low: if lighter { 0 } else { whole(least.floor()) },
                    high: whole(most.ceil()),
                };
            }
        }
    }

    /// Puts the coach's bands in place of the published ones, and nothing else.
    pub fn put_bands(&self, tally: &mut WeeklyVolume) {
        for line in &mut tally.muscles {
            let band = self.targets.own(line.muscle).unwrap_or(line.band);
            line.band = self.week().band(band);
        }
    }

    /// The session of a day on which these exercises were done, after so many of this week; see [`Plan::session`].
    pub fn session(
        &self,
        weekday: Weekday,
        done: &[ExerciseId],
        sessions_before: usize,
    ) -> Option<&Day> {
        self.plan()?.session(weekday, done, sessions_before)
    }
}

/// How many weeks a week lies behind the one of this day; 0 for one before it. By the last day, so that
/// a team whose weeks now begin on another day stays in step.
fn weeks_after(from: NaiveDate, week: Week) -> usize {
    usize::try_from((week.last_day() - from).num_days() / 7).unwrap_or(0)
}

fn planned_item(item: &Item, week: BlockWeek, catalogue: &Catalogue) -> PlannedItem {
    let class = catalogue.exercise(item.exercise).class;
    let rir = aim(Aim::default_for(class), Some((item, 0)), None, week).rir;
    let sets = week.sets(item.sets.count());
    // Whether its sets count is a matter of the effort that the week has.
    let counting = match rir.reps() > MOST_RESERVE {
        true => 0,
        false => Item {
            rir: None,
            ..item.clone()
        }
        .counting(sets),
    };
    PlannedItem {
        exercise: item.exercise,
        or: item.or.clone(),
        sets,
        most_sets: week.sets(item.sets.most()),
        counting,
        is_heavy: item.is_heavy(),
        rir: (item.rir.is_some() || week.effort() != BlockEffort::AsPlanned).then_some(rir),
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "sums of a week's sets: 0 to some thousands"
)]
const fn whole(sets: f64) -> u32 {
    sets as u32
}

/// One thing as a coach set it, from a day on.
#[derive(Clone, Debug, PartialEq)]
pub struct Version {
    /// The first day.
    pub from: NaiveDate,
    /// What.
    pub content: Prescribed,
}

impl Version {
    fn as_plan(&self) -> Option<(NaiveDate, &PlanData)> {
        match &self.content {
            Prescribed::Plan(data) => Some((self.from, data)),
            _ => None,
        }
    }
}

fn running(data: &BlockData, from: NaiveDate, week: Week) -> Option<Running> {
    let block = data.block()?;
    // By the last day, so that a team whose weeks now begin on another day stays in step.
    let place = usize::try_from((week.last_day() - from).num_days() / 7).ok()?;
    block.week(place)?;
    Some(Running { block, from, place })
}

/// One of the things that coaches set for a member.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Prescribed {
    /// A week of training; without days it says that nothing is planned.
    Plan(PlanData),
    /// Weeks in a row; without any it ends the block before.
    Block(BlockData),
    /// Weekly sets by muscle.
    Targets(TargetsData),
}

impl Prescribed {
    /// The word for the kind: `plan`, `block`, `targets`.
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Plan(_) => "plan",
            Self::Block(_) => "block",
            Self::Targets(_) => "targets",
        }
    }
}

/// A plan by names.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct PlanData {
    /// Its days.
    pub days: Vec<DayData>,
    /// What the coach calls it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Weeks from which on other days hold, counted from 1, in order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub later: Vec<(u32, Vec<DayData>)>,
    /// The day on which it was set, where that is known: sessions before it were not asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set: Option<NaiveDate>,
}

/// A day of a plan by names.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct DayData {
    /// `mon` … `sun`, or `day 1` …
    pub day: String,
    /// What the coach calls it beside that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// One exercise each, or several that are done in turn.
    pub slots: Vec<Vec<ItemData>>,
}

/// One exercise of a plan.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct ItemData {
    /// Its canonical name.
    pub exercise: String,
    /// What may be lifted in its place, by canonical names.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub or: Vec<String>,
    /// Work sets, or the fewest.
    pub sets: u32,
    /// The most sets, where there may be more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_sets: Option<u32>,
    /// Fewest and most repetitions; of a set that has none, zeros.
    pub reps: (u32, u32),
    /// Repetitions of each set, where they differ.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub by_set: Vec<u32>,
    /// Shortest and longest time that a set is held, seconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_s: Option<(u32, u32)>,
    /// As many repetitions as possible.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub max: bool,
    /// Repetitions in reserve.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rir: Option<f64>,
    /// Tenths of a microgram, unit, basis.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub load: Option<(i64, String, String)>,
    /// Least and most percent of what can be lifted so many times.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub share: Option<(f64, f64, u32)>,
    /// Percent of the load of the top set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub of_top_set: Option<f64>,
    /// Shortest and longest rest, seconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rest_s: Option<(u32, u32)>,
    /// Whether each side does it.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub per_side: bool,
    /// Words to the lifter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

impl PlanData {
    /// The plan by names.
    pub fn of(plan: &Plan, catalogue: &Catalogue) -> Self {
        let slot = |slot: &Slot| {
            slot.items()
                .map(|item| ItemData::of(item, catalogue))
                .collect()
        };
        let words = |note: &Note| note.words().to_owned();
        let day = |day: &Day| DayData {
            day: name_word(day.name()),
            title: day.title().map(words),
            slots: day.slots().iter().map(slot).collect(),
        };
        Self {
            days: plan.days().iter().map(day).collect(),
            name: plan.name().map(words),
            later: plan
                .later()
                .iter()
                .map(|(week, days)| (*week, days.iter().map(day).collect()))
                .collect(),
            set: None,
        }
    }

    /// The plan, without what the catalogue does not have.
    pub fn plan(&self, catalogue: &Catalogue) -> Plan {
        let day = |data: &DayData| {
            let slots = data.slots.iter().filter_map(|items| {
                let items = items.iter().filter_map(|item| item.item(catalogue));
                Slot::in_turn(items.collect()).ok()
            });
            let day = Day::new(day_name(&data.day)?, slots.collect()).ok()?;
            Some(day.titled(data.title.as_deref().and_then(Note::new)))
        };
        let days = |days: &[DayData]| days.iter().filter_map(day).collect::<Vec<Day>>();
        let plan = Plan::new(days(&self.days)).unwrap_or_default();
        let plan = plan.called(self.name.as_deref().and_then(Note::new));
        let later = self.later.iter();
        later.fold(plan, |plan, (week, data)| {
            plan.clone().then(*week, days(data)).unwrap_or(plan)
        })
    }
}

impl ItemData {
    fn of(item: &Item, catalogue: &Catalogue) -> Self {
        let load = |load: Load| {
            let unit = load.unit.symbol().to_owned();
            (
                load.mass.tenth_micrograms(),
                unit,
                load.basis.word().to_owned(),
            )
        };
        let name = |id: ExerciseId| catalogue.exercise(id).name.clone();
        let reps = item.amount.reps();
        let mut data = Self {
            exercise: name(item.exercise),
            or: item.or.iter().map(|&id| name(id)).collect(),
            sets: item.sets.count(),
            most_sets: Some(item.sets.most()).filter(|most| *most > item.sets.count()),
            reps: reps.map_or((0, 0), |reps| (reps.low(), reps.high())),
            rir: item.rir.map(Rir::reps),
            rest_s: item.rest.map(|rest| (rest.low(), rest.high())),
            per_side: item.per_side,
            note: item.note.as_ref().map(|note| note.words().to_owned()),
            ..Self::default()
        };
        match &item.amount {
            Amount::Reps(_) => {}
            Amount::BySet(reps) => data.by_set.clone_from(reps),
            Amount::Time(time) => data.time_s = Some((time.low(), time.high())),
            Amount::Max => data.max = true,
        }
        match item.load {
            Some(PlannedLoad::Fixed(fixed)) => data.load = Some(load(fixed)),
            Some(PlannedLoad::Share { low, high, of }) => {
                data.share = Some((low.percent(), high.percent(), of));
            }
            Some(PlannedLoad::OfTopSet(percent)) => data.of_top_set = Some(percent.percent()),
            None => {}
        }
        data
    }

    fn item(&self, catalogue: &Catalogue) -> Option<Item> {
        let load = |(mass, unit, basis): &(i64, String, String)| {
            Some(Load {
                mass: Mass::from_tenth_micrograms(*mass),
                unit: Unit::from_symbol(unit)?,
                basis: Basis::from_word(basis)?,
            })
        };
        let sets = Sets::range(self.sets, self.most_sets.unwrap_or(self.sets)).ok()?;
        let or = self.or.iter().filter_map(|name| catalogue.named(name));
        Some(Item {
            or: or.collect(),
            rir: self.rir.and_then(|rir| Rir::new(rir).ok()),
            load: self
                .load
                .as_ref()
                .and_then(load)
                .map(PlannedLoad::Fixed)
                .or_else(|| self.share()),
            rest: self
                .rest_s
                .and_then(|(low, high)| Seconds::rest(low, high).ok()),
            per_side: self.per_side,
            note: self.note.as_deref().and_then(Note::new),
            ..Item::new(catalogue.named(&self.exercise)?, sets, self.amount()?)
        })
    }

    fn amount(&self) -> Option<Amount> {
        match (self.time_s, self.max, self.by_set.is_empty()) {
            (Some((low, high)), _, _) => Seconds::held(low, high).ok().map(Amount::Time),
            (None, true, _) => Some(Amount::Max),
            (None, false, false) => Amount::by_set(self.by_set.clone()).ok(),
            (None, false, true) => {
                let range = RepRange::new(self.reps.0, self.reps.1);
                range.ok().map(Amount::Reps)
            }
        }
    }

    fn share(&self) -> Option<PlannedLoad> {
        if let Some(percent) = self.of_top_set {
            return Percent::new(percent).ok().map(PlannedLoad::OfTopSet);
        }
        let (low, high, of) = self.share?;
        let (low, high) = (Percent::new(low).ok()?, Percent::new(high).ok()?);
        Some(PlannedLoad::Share { low, high, of })
    }
}

/// A block in numbers.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct BlockData {
    /// Its weeks; none ends the block before.
    pub weeks: Vec<BlockWeekData>,
}

/// A week of a block.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct BlockWeekData {
    /// Repetitions in reserve of every set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rir: Option<f64>,
    /// Repetitions in reserve more than planned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shift: Option<f64>,
    /// Percent of the planned sets.
    pub share: u32,
}

impl Default for BlockWeekData {
    fn default() -> Self {
        Self {
            rir: None,
            shift: None,
            share: 100,
        }
    }
}

impl BlockData {
    /// The block in numbers.
    pub fn of(block: &Block) -> Self {
        let week = |week: &BlockWeek| {
            let (rir, shift) = match week.effort() {
                BlockEffort::AsPlanned => (None, None),
                BlockEffort::At(rir) => (Some(rir.reps()), None),
                BlockEffort::Shifted(by) => (None, Some(by)),
            };
            BlockWeekData {
                rir,
                shift,
                share: week.share(),
            }
        };
        Self {
            weeks: block.weeks().iter().map(week).collect(),
        }
    }

    /// The block; `None` for one without weeks.
    pub fn block(&self) -> Option<Block> {
        let week = |data: &BlockWeekData| {
            let effort = match (data.rir.and_then(|rir| Rir::new(rir).ok()), data.shift) {
                (Some(rir), _) => BlockEffort::At(rir),
                (None, Some(by)) => BlockEffort::Shifted(by),
                (None, None) => BlockEffort::AsPlanned,
            };
            BlockWeek::new(effort, data.share).unwrap_or_default()
        };
        Block::new(self.weeks.iter().map(week).collect()).ok()
    }
}

/// Bands by muscle name.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct TargetsData {
    /// Muscle, fewest, most.
    pub bands: Vec<(String, u32, u32)>,
}

impl TargetsData {
    /// The bands by name.
    pub fn of(targets: &Targets, catalogue: &Catalogue) -> Self {
        let band = |(id, band): (_, Band)| (catalogue.muscle(id).name.clone(), band.low, band.high);
        Self {
            bands: targets.all().map(band).collect(),
        }
    }

    /// The bands, without those of muscles that the catalogue does not have.
    pub fn targets(&self, catalogue: &Catalogue) -> Targets {
        let mut targets = Targets::default();
        for (muscle, low, high) in &self.bands {
            if let Some(id) = catalogue.muscle_named(muscle) {
                // What is stored was checked; anything else is left out like an unknown muscle.
                let _ = targets.set(id, *low, *high);
            }
        }
        targets
    }
}

/// The aim of an exercise: the plan's over the trade's default, as the block's week has it.
/// `item` stands with the sets done of it, `sets` are those planned for today. A planned rest bounds
/// the rest; as many repetitions as possible are meant to failure.
pub fn aim(default: Aim, item: Option<(&Item, u32)>, sets: Option<u32>, week: BlockWeek) -> Aim {
    let planned = item.map_or(default, |(item, done)| {
        let place = usize::try_from(done).unwrap_or(usize::MAX);
        let reps = item.amount.reps_of(place);
        let rir = match item.amount {
            Amount::Max => Rir::FAILURE,
            Amount::Reps(_) | Amount::BySet(_) | Amount::Time(_) => default.rir,
        };
        let rest = item.rest.map(Seconds::high).filter(|rest| *rest > 0);
        Aim {
            reps_low: reps.map_or(default.reps_low, RepRange::low),
            reps_high: reps.map_or(default.reps_high, RepRange::high),
            rir: item.rir.unwrap_or(rir),
            rest_limit_s: rest.unwrap_or(default.rest_limit_s),
            ..default
        }
    });
    Aim {
        sets,
        rir: week.rir(planned.rir),
        ..planned
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;
    use crate::domain::quantities::calendar::TeamCalendar;
    use crate::message::NameIndex;
    use crate::message::forms::plan::{Language, read};

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn a_plan_is_stored_by_names_and_comes_back_whole() {
        let catalogue = config::built_in();
        let names = NameIndex::new(&catalogue);
        let language = Language {
            catalogue: &catalogue,
            names: &names,
            unit: Unit::Lb,
        };
        let text = "mon: squat 4x6-10 2rir @185; pull-up 3x5 bw with dip 3x8 +10kg 1.5rir\n\
                    day 2: bench or floor press 3-4x10/8/6 60-70% rest 2-3min \"chest up\"; \
                    plank 3x30-45s each side; chin-up 2xmax; squat 3x5 90% of top set; \
                    bench 5x5 90% of 5rm";
        let plan = read(text, &language).unwrap();
        let stored = serde_json::to_string(&PlanData::of(&plan, &catalogue)).unwrap();
        assert!(stored.contains("back squat"), "{stored}");
        let data: PlanData = serde_json::from_str(&stored).unwrap();
        assert_eq!(data.plan(&catalogue), plan);
    }

    #[test]
    fn what_the_catalogue_lacks_is_left_out() {
        let catalogue = config::built_in();
        let item = |exercise: &str| ItemData {
            exercise: exercise.to_owned(),
            sets: 3,
            reps: (8, 12),
            ..ItemData::default()
        };
        let day = |day: &str, slots| DayData {
            title: None,
            day: day.to_owned(),
            slots,
        };
        let data = PlanData {
            name: None,
            later: Vec::new(),
            days: vec![
                day("mon", vec![vec![item("boatman pull"), item("bench press")]]),
                day("tue", vec![vec![item("boatman pull")]]),
            ],
            set: None,
        };
        let plan = data.plan(&catalogue);
        assert_eq!(plan.days().len(), 1);
        assert_eq!(plan.items().count(), 1);
    }

    #[test]
    fn a_week_is_in_a_block_from_its_first_to_its_last() {
        let calendar = TeamCalendar {
            zone: chrono_tz::Tz::UTC,
            week_start: Weekday::Mon,
        };
        let week = |share| BlockWeekData {
            share,
            ..BlockWeekData::default()
        };
        let content = Prescribed::Block(BlockData {
            weeks: vec![week(100), week(60)],
        });
        let version = Version {
            from: date("2026-11-23"),
            content,
        };
        let share = |day: &str| {
            let week = calendar.week_of(date(day));
            let versions = std::slice::from_ref(&version);
            let held = Prescription::in_week(versions, week, &config::built_in());
            held.block.map(|running| running.week().share())
        };
        assert_eq!(share("2026-11-23"), Some(100));
        assert_eq!(share("2026-11-29"), Some(100));
        assert_eq!(share("2026-11-30"), Some(60));
        assert_eq!(share("2026-12-07"), None);
        // The team's weeks begin on Sundays by now.
        let sundays = TeamCalendar {
            week_start: Weekday::Sun,
            ..calendar
        };
        let held = Prescription::in_week(
            std::slice::from_ref(&version),
            sundays.week_of(date("2026-11-30")),
            &config::built_in(),
        );
        assert_eq!(held.week().share(), 60);
    }
}
