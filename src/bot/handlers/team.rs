//! What coaches see of members: a week in two lines and by day, and everybody's week.

use super::member::week_data;
use super::work::Work;
use crate::bot::figure::{self, Figure};
use crate::bot::intent::WEEKS_BEFORE;
use crate::bot::needs::Loaded;
use crate::bot::needs_of::week_named;
use crate::bot::state::accuracy::Loads;
use crate::bot::state::team_week::MemberWeek;
use crate::bot::state::view::View;
use crate::bot::state::{LogEntry, Member};
use crate::bot::text;
use crate::bot::text::coach::MemberWeekView;
use crate::domain::coaching::attention::of_courses;
use crate::domain::coaching::progress::{Course, course};
use crate::domain::coaching::runs::runs;
use crate::domain::coaching::week::WeeklyVolume;
use crate::domain::lifter::belief::Belief;
use crate::domain::lifter::condition::Condition;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::id::ExerciseId;
use crate::message::forms::command::Which;

/// Members in one message.
const ROWS: usize = 18;
/// Pictures with one message: team channels take no more.
const PICTURES: usize = 10;

/// How a member's loads of a week agree with those advised.
pub(crate) fn loads_in(member: &Member, week: Week) -> Loads {
    let days = &member.state.predictions.loads;
    let of_week = days.range(week.first_day()..=week.last_day());
    of_week.fold(Loads::default(), |sum, (_, loads)| sum.and(*loads))
}

/// The week of those who lift, as loaded.
pub(crate) fn lifters(loaded: &Loaded) -> Vec<&MemberWeek> {
    let of_team = loaded.team.as_ref();
    of_team.map(|team| team.week.lifters()).unwrap_or_default()
}

impl Work<'_> {
    pub(crate) fn seen_as<'a>(&'a self, member: &'a Member) -> View<'a> {
        View {
            member,
            ..self.view.clone()
        }
    }

    pub(crate) fn this_week(&self) -> Week {
        self.view.calendar.week_of(self.view.today())
    }

    /// The week that a command asks about.
    pub(crate) fn week_named(&self, which: Which) -> Week {
        week_named(self.view, which)
    }

    /// Another member's week, by day, beside the weeks before.
    pub(crate) fn week_of(&mut self, name: &str, week: Week) {
        if !self.is_coach() {
            return;
        }
        let Some(other) = self.named(name) else {
            return;
        };
        let view = self.seen_as(&other);
        let of_week = self.loaded.days.iter().filter(|f| week.contains(f.set.day));
        let of_week: Vec<&LogEntry> = of_week.collect();
        let tally = self.tally_of(&view, &of_week, week);
        let sets: Vec<&LoggedSet> = of_week.iter().map(|filed| &filed.set).collect();
        let runs = runs(sets.iter().copied());
        let courses = self.courses(&other, &view, &sets);
        let lighter = self.lighter(&other, week, &of_courses(&courses));
        let adherence = self.adherence(&other, week, &sets);
        let reports = self.reports_of(&other);
        let anyway = self.trained_anyway(&other, sets.iter().copied());
        let told = MemberWeekView {
            name: &other.name,
            courses: &courses,
            adherence: &adherence,
            loads: loads_in(&other, week),
            reports: &reports,
            anyway: anyway.as_deref(),
            lifted: &other.state.lifted,
            view: self.view,
            lighter: lighter.as_ref(),
            week,
            tally: &tally,
            before: &self.before(&view, week),
            runs: &runs,
            lifter: &view.lifter(),
            notes: &other.state.notes,
        };
        let text = text::coach::week(&told);
        let data = week_data(&view, week, &tally);
        let before = self.weeks_before(&view, week);
        let name = Some(other.name.as_str());
        let figure = figure::week(name, week, &tally, &before, self.view.catalogue());
        self.tell_with(text, Some(data), [figure.into_file()]);
    }

    /// Counted sets a week of each muscle over the weeks before that have any set and were no lighter
    /// ones, in the order of the muscles; none where none is left.
    fn before(&self, view: &View, week: Week) -> Vec<f64> {
        let mut sums: Vec<f64> = Vec::new();
        let mut weeks = 0.0;
        for back in 1..=WEEKS_BEFORE {
            let day = week.first_day() - chrono::Duration::weeks(back);
            let earlier = self.view.calendar.week_of(day);
            let sets = self.loaded.days.iter();
            let sets: Vec<_> = sets.filter(|f| earlier.contains(f.set.day)).collect();
            let lighter = self.held_by(view.member, earlier).week().is_lighter();
            if sets.is_empty() || lighter {
                continue;
            }
            weeks += 1.0;
            let tally = self.tally_of(view, &sets, earlier);
            sums.resize(tally.muscles.len(), 0.0);
            for (sum, line) in sums.iter_mut().zip(&tally.muscles) {
                *sum += line.counted;
            }
        }
        sums.iter().map(|sum| sum / weeks).collect()
    }

    // The team.

    pub(crate) fn sets_of(&self, member: &Member) -> &[LoggedSet] {
        let sets = self.loaded.team_days.get(&member.id);
        sets.map_or(&[], Vec::as_slice)
    }

    /// Answers `/team`.
    pub(crate) fn team(&mut self, week: Week) {
        if !self.is_coach() {
            return;
        }
        let catalogue = self.view.catalogue();
        let lifters = lifters(self.loaded);
        if lifters.is_empty() {
            self.tell(text::attention::NOBODY_YET);
            return;
        }
        let rows: Vec<(&str, &WeeklyVolume)> = lifters
            .iter()
            .map(|one| (one.member.name.as_str(), &one.tally))
            .collect();
        let mut pictures = figure::team(week, &rows, catalogue);
        pictures.truncate(PICTURES);
        for (page, part) in rows.chunks(ROWS).enumerate() {
            // They show all pages, so they come with the last.
            let last = (page + 1) * ROWS >= rows.len();
            let files = if last {
                std::mem::take(&mut pictures)
            } else {
                Vec::new()
            };
            self.tell_with(
                text::coach::team(week, page, part, &rows, catalogue),
                None,
                files.into_iter().map(Figure::into_file),
            );
        }
    }

    /// How the lifts among these sets are coming along.
    pub(crate) fn courses(
        &self,
        member: &Member,
        view: &View,
        sets: &[&LoggedSet],
    ) -> Vec<(ExerciseId, Course)> {
        let condition = member.condition.as_deref().and_then(Condition::decode);
        let Some(condition) = condition else {
            return Vec::new();
        };
        let lifter = view.lifter();
        let of_member = self.loaded.team_beliefs.get(&member.id);
        let course = |(name, state): &(String, Vec<u8>)| {
            let exercise = self.view.catalogue().named(name)?;
            let trained = sets.iter().any(|set| set.exercise == exercise);
            let belief = Belief::decode(state.get(..).filter(|_| trained)?)?;
            let population = lifter.population(self.view.catalogue().exercise(exercise));
            Some((exercise, course(&belief, &condition, &population)))
        };
        of_member.into_iter().flatten().filter_map(course).collect()
    }
}
