//! What coaches see of members: a week by day, everybody's week, who needs them, notes.

use chrono::{Datelike as _, NaiveDate};

use super::case::{Loaded, WEEKS_BEFORE, week_named};
use super::figure::{self, Figure};
use super::member::week_data;
use super::prescription::Prescription;
use super::reply::{Outgoing, Reply};
use super::report::Report;
use super::scene::Scene;
use super::state::{Change, FiledSet, MOST_NOTES, Member, Note};
use super::team_week::{MemberWeek, TeamWeek};
use super::words;
use super::words::coach::{Told, Worry};
use super::work::Work;
use crate::domain::attention::{Concern, Facts, concerns, days_gone, of_courses};
use crate::domain::belief::Belief;
use crate::domain::block::Block;
use crate::domain::calendar::Week;
use crate::domain::condition::Condition;
use crate::domain::id::ExerciseId;
use crate::domain::lighter::lighter_week;
use crate::domain::log::LoggedSet;
use crate::domain::progress::{Course, course};
use crate::domain::runs::runs;
use crate::domain::week::Tally;
use crate::message::command::Which;

/// Longest note, characters.
const LONGEST_NOTE: usize = 500;
/// Members in one table: a message holds no more.
const ROWS: usize = 18;
/// Pictures with one message: team channels take no more.
const PICTURES: usize = 10;

/// The week of those who lift, as loaded.
pub(super) fn lifters(loaded: &Loaded) -> Vec<&MemberWeek> {
    let of_team = loaded.team_week.as_ref();
    of_team.map(TeamWeek::lifters).unwrap_or_default()
}

impl Work<'_> {
    pub(super) fn seen_as<'a>(&'a self, member: &'a Member) -> Scene<'a> {
        Scene {
            member,
            ..self.scene.clone()
        }
    }

    pub(super) fn this_week(&self) -> Week {
        self.scene.calendar.week_of(self.scene.today())
    }

    /// The week that a command asks about.
    pub(super) fn week_named(&self, which: Which) -> Week {
        week_named(self.scene, which)
    }

    /// Another member's week, by day, beside the weeks before.
    pub(super) fn week_of(&mut self, name: &str, week: Week) {
        if !self.is_coach() {
            return;
        }
        let Some(other) = self.named(name) else {
            return;
        };
        let scene = self.seen_as(&other);
        let of_week = self.loaded.days.iter().filter(|f| week.contains(f.set.day));
        let of_week: Vec<&FiledSet> = of_week.collect();
        let tally = self.tally_of(&scene, &of_week, week);
        let sets: Vec<&LoggedSet> = of_week.iter().map(|filed| &filed.set).collect();
        let runs = runs(sets.iter().copied());
        let courses = self.courses(&other, &scene, &sets);
        let lighter = self.lighter(&other, week, &of_courses(&courses));
        let told = Told {
            name: &other.name,
            courses: &courses,
            lighter: lighter.as_ref(),
            week,
            tally: &tally,
            before: &self.before(&scene, week),
            runs: &runs,
            lifter: &scene.lifter(),
            notes: &other.desk.notes,
        };
        let text = words::coach::week(&told);
        let data = week_data(&scene, week, &tally);
        let before = self.weeks_before(&scene, week);
        let name = Some(other.name.as_str());
        let figure = figure::week(name, week, &tally, &before, self.scene.catalogue());
        let reply = Reply {
            text,
            private: true,
            data: Some(data),
            files: vec![figure.into_file()],
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// Counted sets a week of each muscle over the weeks before that have any set, in the order of
    /// the muscles; none where none has.
    fn before(&self, scene: &Scene, week: Week) -> Vec<f64> {
        let mut sums: Vec<f64> = Vec::new();
        let mut weeks = 0.0;
        for back in 1..=WEEKS_BEFORE {
            let day = week.first_day() - chrono::Duration::weeks(back);
            let earlier = self.scene.calendar.week_of(day);
            let sets = self.loaded.days.iter();
            let sets: Vec<_> = sets.filter(|f| earlier.contains(f.set.day)).collect();
            if sets.is_empty() {
                continue;
            }
            weeks += 1.0;
            let tally = self.tally_of(scene, &sets, earlier);
            sums.resize(tally.muscles.len(), 0.0);
            for (sum, line) in sums.iter_mut().zip(&tally.muscles) {
                *sum += line.counted;
            }
        }
        sums.iter().map(|sum| sum / weeks).collect()
    }

    // The team.

    pub(super) fn sets_of(&self, member: &Member) -> &[FiledSet] {
        let sets = self.loaded.team_days.get(&member.id);
        sets.map_or(&[], Vec::as_slice)
    }

    /// Answers `/team`.
    pub(super) fn team(&mut self, week: Week) {
        if !self.is_coach() {
            return;
        }
        let catalogue = self.scene.catalogue();
        let lifters = lifters(self.loaded);
        if lifters.is_empty() {
            self.tell(words::coach::NOBODY_YET);
            return;
        }
        let rows: Vec<(&str, &Tally)> = lifters
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
            let reply = Reply {
                text: words::coach::team(week, page, part, catalogue),
                private: true,
                files: files.into_iter().map(Figure::into_file).collect(),
                ..self.blank()
            };
            self.out.push(Outgoing::Reply(reply));
        }
    }

    /// Answers `/attention`.
    pub(super) fn attention(&mut self, week: Week) {
        if !self.is_coach() {
            return;
        }
        let text = self.who_needs_the_coach(week);
        self.tell(text);
    }

    /// Who needs the coach in this week, and why.
    pub(super) fn who_needs_the_coach(&self, week: Week) -> String {
        // Pain comes before all, also a coach's own, trained or not.
        let team = self.loaded.team_week.iter();
        let mut members: Vec<&MemberWeek> = team.flat_map(|team| &team.members).collect();
        let shown = |member: &Member| !member.coach || !member.desk.hurt.is_empty();
        members.retain(|one| shown(&one.member));
        members.sort_by_cached_key(|one| (one.member.name.to_lowercase(), one.member.id));
        let worries = members.iter().map(|one| self.worries(one, week));
        let mut worries: Vec<Worry> = worries.filter(|worry| !worry.is_empty()).collect();
        // Those of the same urgency by how much there is to say.
        worries.sort_by_key(Worry::order);
        match members.is_empty() {
            true => words::coach::NOBODY_YET.to_owned(),
            false => words::coach::attention(week, &worries, members.len(), self.scene),
        }
    }

    fn worries(&self, MemberWeek { member, tally }: &MemberWeek, week: Week) -> Worry {
        let scene = self.seen_as(member);
        let filed = self.sets_of(member);
        let sets: Vec<&LoggedSet> = filed.iter().map(|filed| &filed.set).collect();
        let held = self.held_by(member, week);
        let today = self.scene.today();
        let planned = |weekday| held.plan().is_some_and(|plan| plan.day(weekday).is_some());
        let items = held.plan().into_iter().flat_map(|plan| plan.items());
        let heavy = items.filter(|item| item.is_heavy());
        let heavy: Vec<ExerciseId> = heavy.map(|item| item.exercise).collect();
        let to_come = held.plan().map(|_| self.to_come(member, week, tally));
        let facts = Facts {
            lifter: &scene.lifter(),
            week,
            today,
            sets: &sets,
            tally,
            to_come: to_come.as_deref(),
            planned_days: days_gone(week, today, planned),
            heavy: &heavy,
            courses: &self.courses(member, &scene, &sets),
            last_day: self.loaded.last_days.get(&member.id).copied(),
        };
        let concerns = match member.coach {
            true => Vec::new(),
            false => concerns(&facts),
        };
        Worry {
            name: member.name.clone(),
            hurt: self.reports_of(member),
            cautions: member
                .desk
                .cautions
                .iter()
                .map(|told| (told.caution.clone(), self.scene.calendar.day_of(told.at)))
                .collect(),
            lighter: self.lighter(member, week, &concerns),
            concerns,
        }
    }

    /// A member's reports for coaches: warning signs first, then the latest.
    fn reports_of(&self, member: &Member) -> Vec<Report> {
        let mut reports = member.desk.hurt.clone();
        let week = chrono::Duration::days(7);
        reports.retain(|report| report.is_open() || self.scene.now - report.at < week);
        reports.sort_by_key(|report| (report.sign.is_none(), std::cmp::Reverse(report.at)));
        reports
    }

    /// The block with a lighter week next, where something speaks for it.
    fn lighter(&self, member: &Member, week: Week, concerns: &[Concern]) -> Option<Block> {
        let this = self.held_by(member, week).week();
        let versions = self.loaded.coming.get(&member.id);
        let versions = versions.map_or(&[][..], Vec::as_slice);
        let coming = Prescription::in_week(versions, week.next(), self.scene.catalogue());
        let coming = coming.block.as_ref();
        lighter_week(concerns, this, coming.map(|one| (&one.block, one.place)))
    }

    /// How the lifts among these sets are coming along.
    pub(super) fn courses(
        &self,
        member: &Member,
        scene: &Scene,
        sets: &[&LoggedSet],
    ) -> Vec<(ExerciseId, Course)> {
        let condition = member.condition.as_deref().and_then(Condition::decode);
        let Some(condition) = condition else {
            return Vec::new();
        };
        let lifter = scene.lifter();
        let of_member = self.loaded.team_beliefs.get(&member.id);
        let course = |(name, state): &(String, Vec<u8>)| {
            let exercise = self.scene.catalogue().named(name)?;
            let trained = sets.iter().any(|set| set.exercise == exercise);
            let belief = Belief::decode(state).filter(|_| trained)?;
            let population = lifter.population(self.scene.catalogue().exercise(exercise));
            Some((exercise, course(&belief, &condition, &population)))
        };
        of_member.into_iter().flatten().filter_map(course).collect()
    }

    /// Half sets that the plan has for the days of the week from today on, where today without a
    /// set is still to come; by muscle in the order of the tally.
    fn to_come(&self, member: &Member, week: Week, tally: &Tally) -> Vec<u32> {
        let mut halves = vec![0; tally.muscles.len()];
        let held = self.held_by(member, week);
        let today = self.scene.today();
        let trained = |day: NaiveDate| self.sets_of(member).iter().any(|f| f.set.day == day);
        let ahead = today.iter_days().take_while(|day| week.contains(*day));
        for day in ahead.filter(|day| *day != today || !trained(today)) {
            let planned = held.plan().and_then(|plan| plan.day(day.weekday()));
            for item in planned.into_iter().flat_map(|day| day.items()) {
                let sets = item.counting(held.week().sets(item.sets.count()));
                let exercise = self.scene.catalogue().exercise(item.exercise);
                for (muscle, part) in exercise.muscles() {
                    if let Some(sum) = halves.get_mut(muscle.index()) {
                        *sum += sets * if part < 1.0 { 1 } else { 2 };
                    }
                }
            }
        }
        halves
    }

    // Notes.

    /// Keeps a note on a member, or shows those there are.
    pub(super) fn note(&mut self, name: &str, text: Option<&str>) {
        if !self.is_coach() {
            return;
        }
        let Some(mut other) = self.named(name) else {
            return;
        };
        let Some(text) = text else {
            self.tell(words::coach::notes(&other.name, &other.desk.notes));
            return;
        };
        other.desk.notes.push(Note {
            day: self.scene.today(),
            by: self.member.author.clone(),
            text: text.chars().take(LONGEST_NOTE).collect(),
        });
        let over = other.desk.notes.len().saturating_sub(MOST_NOTES);
        other.desk.notes.drain(..over);
        self.tell(words::coach::noted(&other.name));
        if other.id == self.member.id {
            self.member = other;
        } else {
            self.changes.push(Change::Member(Box::new(other)));
        }
    }
}
