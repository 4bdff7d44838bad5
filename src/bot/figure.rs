//! Pictures as data: what a reply's picture shows, in numbers and names.
//!
//! The bot decides what a picture shows and says it in words ([`super::text::picture`]);
//! [`crate::picture`] draws it, when it is sent. The types serialise, since a reply is kept with its
//! figures until it is sent, and for a message that is repeated. *Absent:* places, colours, strokes.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::text;
use crate::domain::coaching::best::Bests;
use crate::domain::coaching::week::{Band, Standing, WeeklyVolume};
use crate::domain::lifter::model::{Lifter, Model};
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::{ExerciseId, MuscleId};
use crate::domain::quantities::mass::{Mass, Unit};

/// Members in one picture of a team: at two rows to the centimetre of a phone, more would be cut off
/// where pictures are shown small.
pub const TEAM_ROWS: usize = 20;
/// Weeks before that a week is shown with.
pub const WEEKS_BEFORE: usize = 4;
/// Days in the picture of a lift; of more, the latest are shown.
pub const LIFT_DAYS: usize = 400;

/// What a picture shows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Figure {
    /// A member's week, muscle by muscle.
    Week(WeekFigure),
    /// A member's lift over time.
    Lift(LiftFigure),
    /// A team's week, members by muscles.
    Team(TeamFigure),
}

/// A member's week against the bands.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WeekFigure {
    /// Whose it is; `None` where the one who reads it is meant.
    pub whose: Option<String>,
    /// First day.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// Sets that count.
    pub sets: u32,
    /// Sets that do not.
    pub not_counted: u32,
    /// By muscle, in the order they are shown.
    pub muscles: Vec<MuscleLine>,
}

/// A muscle's week.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MuscleLine {
    /// The muscle.
    pub muscle: String,
    /// Counted sets, 0 or more.
    pub counted: f64,
    /// Those among them that targeted it.
    pub direct: u32,
    /// Fewest sets of the band.
    pub low: u32,
    /// Most sets of the band.
    pub high: u32,
    /// Counted sets of the weeks before, the oldest first.
    pub before: Vec<f64>,
    /// Where they lie; figures of earlier versions leave it to the band.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stands: Option<Stands>,
}

/// A [`Standing`] as it is stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Stands {
    /// [`Standing::Under`].
    Under,
    /// [`Standing::Within`].
    Within,
    /// [`Standing::Over`].
    Over,
    /// [`Standing::Open`].
    Open,
    /// [`Standing::Free`].
    Free,
}

impl From<Standing> for Stands {
    fn from(standing: Standing) -> Self {
        match standing {
            Standing::Under => Self::Under,
            Standing::Within => Self::Within,
            Standing::Over => Self::Over,
            Standing::Open => Self::Open,
            Standing::Free => Self::Free,
        }
    }
}

impl From<Stands> for Standing {
    fn from(stands: Stands) -> Self {
        match stands {
            Stands::Under => Self::Under,
            Stands::Within => Self::Within,
            Stands::Over => Self::Over,
            Stands::Open => Self::Open,
            Stands::Free => Self::Free,
        }
    }
}

impl MuscleLine {
    /// Where the counted sets lie.
    pub fn standing(&self) -> Standing {
        let (low, high) = (self.low, self.high);
        let by_band = || Band { low, high }.standing(self.counted);
        self.stands.map_or_else(by_band, Standing::from)
    }

    /// Whether there is anything to show: sets, now or before, or sets that are asked for.
    fn is_shown(&self) -> bool {
        let asked = self.high > 0 && self.standing() != Standing::Free;
        self.counted > 0.0 || asked || self.before.iter().any(|counted| *counted > 0.0)
    }
}

/// What a lift's maximum was held to be, day by day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LiftFigure {
    /// The exercise.
    pub exercise: String,
    /// `kg` or `lb`.
    pub unit: String,
    /// By day, in order.
    pub points: Vec<LiftPoint>,
    /// The heaviest set of each of these days, and the bests among the others, in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sets: Vec<LiftSet>,
}

/// A set of a lift.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LiftSet {
    /// The day.
    pub day: NaiveDate,
    /// The mass that it moved.
    pub mass: f64,
    /// Its repetitions.
    pub reps: u32,
    /// Whether it was a best: the most load, or the most repetitions at its load.
    pub best: bool,
}

/// One day of a lift: as it was known when that day was over.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LiftPoint {
    /// The day.
    pub day: NaiveDate,
    /// Median of the one-repetition maximum.
    pub middle: f64,
    /// Lower end of its central 80 %.
    pub low: f64,
    /// Upper end of its central 80 %.
    pub high: f64,
}

/// Everybody's week: members by muscles.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TeamFigure {
    /// First day.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// Of how many lifters the first row is the mean, where it is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mean_of: Option<u32>,
    /// The one whose weeks the rows are, where it is not a week of many members.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weeks_of: Option<String>,
    /// Which of how many pictures of this week it is, from 1.
    pub page: (u32, u32),
    /// The muscles, in order.
    pub muscles: Vec<String>,
    /// The members, in order.
    pub members: Vec<TeamLine>,
}

/// A member's week in a team's.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TeamLine {
    /// Their name.
    pub name: String,
    /// Sets that count.
    pub sets: u32,
    /// One a muscle, in the order of the muscles.
    pub cells: Vec<Cell>,
}

/// Counted sets against a band. There are many, so they are written short.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "StoredCell", into = "StoredCell")]
pub struct Cell {
    /// Counted sets, 0 or more.
    pub counted: f64,
    /// What they are held against.
    pub band: Band,
    /// Where they lie.
    pub standing: Standing,
}

/// Counted sets, the band's ends, and where they lie; earlier versions left that to the band.
#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(untagged)]
enum StoredCell {
    Stands(f64, u32, u32, Stands),
    InBand(f64, u32, u32),
}

impl From<StoredCell> for Cell {
    fn from(stored: StoredCell) -> Self {
        match stored {
            StoredCell::Stands(counted, low, high, stands) => Self {
                counted,
                band: Band { low, high },
                standing: stands.into(),
            },
            StoredCell::InBand(counted, low, high) => Self::in_band(counted, Band { low, high }),
        }
    }
}

impl From<Cell> for StoredCell {
    fn from(cell: Cell) -> Self {
        let Band { low, high } = cell.band;
        Self::Stands(cell.counted, low, high, cell.standing.into())
    }
}

impl Cell {
    /// Counted sets held against a band alone.
    pub fn in_band(counted: f64, band: Band) -> Self {
        Self {
            counted,
            band,
            standing: band.standing(counted),
        }
    }

    /// Where the counted sets lie.
    pub const fn standing(&self) -> Standing {
        self.standing
    }
}

impl Figure {
    /// What its file is called.
    pub(super) fn file_name(&self) -> String {
        match self {
            Self::Week(week) => format!("week-{}.png", week.from),
            Self::Lift(lift) => format!("{}.png", lift.exercise.replace(' ', "-")),
            Self::Team(team) if team.weeks_of.is_some() => format!("weeks-{}.png", team.to),
            Self::Team(team) => match team.page {
                (_, 1) => format!("team-{}.png", team.from),
                (page, _) => format!("team-{}-{page}.png", team.from),
            },
        }
    }
}

/// The picture of a week. `before` are the weeks before it, the oldest first; muscles of which
/// nothing is to be seen are left out.
pub fn week(
    whose: Option<&str>,
    week: Week,
    tally: &WeeklyVolume,
    before: &[WeeklyVolume],
    catalogue: &Catalogue,
) -> Figure {
    let line = |line: &crate::domain::coaching::week::MuscleWeek| MuscleLine {
        muscle: catalogue.muscle(line.muscle).name.clone(),
        counted: line.counted,
        direct: line.direct,
        low: line.band.low,
        high: line.band.high,
        before: before.iter().map(|tally| of(tally, line.muscle)).collect(),
        stands: Some(line.standing().into()),
    };
    Figure::Week(WeekFigure {
        whose: whose.map(str::to_owned),
        from: week.first_day(),
        to: week.last_day(),
        sets: tally.sets,
        not_counted: tally.not_counted.iter().map(|(_, sets)| sets).sum(),
        muscles: tally
            .muscles
            .iter()
            .map(line)
            .filter(MuscleLine::is_shown)
            .collect(),
    })
}

/// Counted sets of a muscle.
fn of(tally: &WeeklyVolume, muscle: MuscleId) -> f64 {
    let mut lines = tally.muscles.iter();
    lines
        .find(|line| line.muscle == muscle)
        .map_or(0.0, |line| line.counted)
}

/// The pictures of a team's week: one for each [`TEAM_ROWS`] members; none where there is nobody.
/// Muscles that nobody trained and nobody lacks are left out.
pub fn team(week: Week, rows: &[(&str, &WeeklyVolume)], catalogue: &Catalogue) -> Vec<Figure> {
    let shown = of_interest(rows);
    paged(week, None, &shown, &lines(rows, &shown), catalogue)
}

/// The pictures that stand before all: as [`team`], under a row with the mean of everybody in `all`,
/// who need not have a row of their own. None where nobody trained.
pub fn team_with_mean(
    week: Week,
    all: &[&WeeklyVolume],
    rows: &[(&str, &WeeklyVolume)],
    catalogue: &Catalogue,
) -> Vec<Figure> {
    let Some(count) = u32::try_from(all.len()).ok().filter(|count| *count > 0) else {
        return Vec::new();
    };
    let everybody: Vec<(&str, &WeeklyVolume)> = all.iter().map(|tally| ("", *tally)).collect();
    let shown = of_interest(&everybody);
    let mean = |muscle: MuscleId| {
        let sum: f64 = all.iter().map(|tally| of(tally, muscle)).sum();
        Cell {
            standing: Standing::Free,
            ..Cell::in_band(sum / f64::from(count), Band { low: 0, high: 0 })
        }
    };
    let sets: u32 = all.iter().map(|tally| tally.sets).sum();
    let mean = TeamLine {
        name: text::picture::mean_of(count),
        sets: (sets + count / 2) / count,
        cells: shown.iter().map(|&muscle| mean(muscle)).collect(),
    };
    // Of one who has a row the mean is that row.
    let alone = count == 1 && !rows.is_empty();
    let mean = (!alone).then_some(mean);
    let mean_of = mean.is_some().then_some(count);
    let mut all_lines = Vec::from_iter(mean);
    all_lines.extend(lines(rows, &shown));
    paged(week, mean_of, &shown, &all_lines, catalogue)
}

/// A line for each of these members.
fn lines(rows: &[(&str, &WeeklyVolume)], shown: &[MuscleId]) -> Vec<TeamLine> {
    let line = |(name, tally): &(&str, &WeeklyVolume)| TeamLine {
        name: text::shown_name(name),
        sets: tally.sets,
        cells: shown.iter().map(|&muscle| cell_of(tally, muscle)).collect(),
    };
    rows.iter().map(line).collect()
}

/// A picture for each [`TEAM_ROWS`] lines.
fn paged(
    week: Week,
    mean_of: Option<u32>,
    shown: &[MuscleId],
    lines: &[TeamLine],
    catalogue: &Catalogue,
) -> Vec<Figure> {
    let name = |&muscle: &MuscleId| catalogue.muscle(muscle).name.clone();
    let muscles: Vec<String> = shown.iter().map(name).collect();
    let pages = u32::try_from(lines.len().div_ceil(TEAM_ROWS)).unwrap_or(u32::MAX);
    let figure = |(page, lines): (u32, &[TeamLine])| {
        Figure::Team(TeamFigure {
            from: week.first_day(),
            to: week.last_day(),
            mean_of: mean_of.filter(|_| page == 1),
            weeks_of: None,
            page: (page, pages),
            muscles: muscles.clone(),
            members: lines.to_vec(),
        })
    };
    (1..).zip(lines.chunks(TEAM_ROWS)).map(figure).collect()
}

/// Muscles that somebody trained or is asked to, in the order of the catalogue.
fn of_interest(rows: &[(&str, &WeeklyVolume)]) -> Vec<MuscleId> {
    let lines = rows.iter().flat_map(|(_, tally)| &tally.muscles);
    let shown = lines.filter(|line| line.is_of_interest());
    let mut shown: Vec<MuscleId> = shown.map(|line| line.muscle).collect();
    shown.sort_unstable();
    shown.dedup();
    shown
}

fn cell_of(tally: &WeeklyVolume, muscle: MuscleId) -> Cell {
    let line = tally.muscles.iter().find(|line| line.muscle == muscle);
    let nothing = Cell::in_band(0.0, Band { low: 0, high: 0 });
    line.map_or(nothing, |line| Cell {
        counted: line.counted,
        band: line.band,
        standing: line.standing(),
    })
}

/// The picture of a member's last weeks, weeks by muscles, the oldest first; `None` where nothing was
/// done or asked for. `rows` are the weeks as shown, with what they add up to.
pub fn weeks(
    whose: &str,
    (first, last): (Week, Week),
    rows: &[(&str, &WeeklyVolume)],
    catalogue: &Catalogue,
) -> Option<Figure> {
    let shown = of_interest(rows);
    let line = |(name, tally): &(&str, &WeeklyVolume)| TeamLine {
        name: (*name).to_owned(),
        sets: tally.sets,
        cells: shown.iter().map(|&muscle| cell_of(tally, muscle)).collect(),
    };
    let name = |&muscle: &MuscleId| catalogue.muscle(muscle).name.clone();
    (!shown.is_empty()).then(|| {
        Figure::Team(TeamFigure {
            from: first.first_day(),
            to: last.last_day(),
            mean_of: None,
            weeks_of: Some(text::shown_name(whose)),
            page: (1, 1),
            muscles: shown.iter().map(name).collect(),
            members: rows.iter().map(line).collect(),
        })
    })
}

/// Half the width of the central 80 % of a normal distribution, standard deviations.
const CENTRAL_80: f64 = 1.2816;

/// The picture of a lift: what its maximum was held to be after each day with a set of it, learned
/// anew from the whole `log`, which is in order. Nothing of what came later is in a day's figures,
/// so an interval is as wide as it was then. `None` without a work set.
pub fn lift<'a>(
    exercise: ExerciseId,
    log: impl IntoIterator<Item = &'a LoggedSet>,
    lifter: &Lifter<'_>,
    unit: Unit,
) -> Option<Figure> {
    let mut model = Model::default();
    let mut points: Vec<LiftPoint> = Vec::new();
    let mut sets: Vec<LiftSet> = Vec::new();
    let mut bests = Bests::default();
    for set in log {
        model.learn(set, lifter);
        let Some(belief) = model.beliefs.get(&exercise) else {
            continue;
        };
        if set.exercise != exercise {
            continue;
        }
        let moved = set
            .load
            .moved(lifter.catalogue.exercise(exercise), lifter.body_mass);
        let best = bests.take(set, moved, None).is_some();
        if set.kind == SetKind::Straight && set.reps > 0 {
            keep(&mut sets, set, moved.amount(unit), best);
        }
        let point = point(set.day, belief.one_rm(), unit);
        match points.last_mut() {
            Some(last) if last.day == set.day => *last = point,
            _ => points.push(point),
        }
    }
    points.drain(..points.len().saturating_sub(LIFT_DAYS));
    let first = points.first().map(|point| point.day);
    sets.retain(|set| first.is_some_and(|first| set.day >= first));
    (!points.is_empty()).then(|| {
        Figure::Lift(LiftFigure {
            exercise: lifter.catalogue.exercise(exercise).name.clone(),
            unit: unit.symbol().to_owned(),
            points,
            sets,
        })
    })
}

/// Keeps a set where it is a best, or the heaviest of its day so far.
fn keep(sets: &mut Vec<LiftSet>, set: &LoggedSet, mass: f64, best: bool) {
    let new = LiftSet {
        day: set.day,
        mass,
        reps: set.reps,
        best,
    };
    match sets.iter().rposition(|one| one.day == set.day && !one.best) {
        Some(_) if best => sets.push(new),
        Some(place) if sets[place].mass < mass => sets[place] = new,
        Some(_) => {}
        None => sets.push(new),
    }
}

fn point(day: NaiveDate, (kg, spread): (f64, f64), unit: Unit) -> LiftPoint {
    let shown = |kg: f64| Mass::from_kg(kg).unwrap_or_default().amount(unit);
    LiftPoint {
        day,
        middle: shown(kg),
        low: shown(kg * (-CENTRAL_80 * spread).exp()),
        high: shown(kg * (CENTRAL_80 * spread).exp()),
    }
}
