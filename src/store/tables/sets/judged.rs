//! A team's sets of some days as they count, without the rest of their rows: the way to a week's sums
//! that stays short when there are a million of them.

use std::collections::{BTreeMap, HashMap};

use chrono::NaiveDate;

use super::SET;
use crate::bot::state::team_week::TeamWeek;
use crate::bot::state::{Member, Team};
use crate::domain::coaching::week::Counts;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::{ExerciseId, MemberId};
use crate::domain::quantities::limits::{FEWEST_REPS, MOST_REPS, MOST_RESERVE};
use crate::store::engine::{Arg, Row, Sql, of_members};
use crate::store::error::StoreError;
use crate::store::tables::imports::shown;
use crate::store::{Tx, id_list};

/// Judged sets by member.
pub(super) type Judged = BTreeMap<MemberId, Vec<(ExerciseId, Counts)>>;

impl Tx {
    /// The data of a digest, a team's table or its picture: for a week of the team's own calendar
    /// ([`TeamSettings::calendar`](crate::bot::state::TeamSettings::calendar)) what these members' sets
    /// add up to. Three statements, however many members; sets are judged where they lie, by the rule of
    /// [`crate::domain::coaching::week::judge`]. The members come in the order of the weeks.
    ///
    /// `catalogue` is the team's, its own exercises included; `today` the day by which members' months
    /// of training are reckoned: the week's last day, or the day of asking before that.
    ///
    /// ```
    /// # tokio::runtime::Builder::new_current_thread().enable_all().build()?.block_on(async {
    /// use chalkbell::store::Store;
    ///
    /// let store = Store::open("sqlite::memory:").await?;
    /// let mut tx = store.begin().await?;
    /// let team = tx.team("rowing club").await?;
    /// tx.member_or_new(&team, "u1", "Ann", false).await?;
    /// let today = chrono::NaiveDate::from_ymd_opt(2026, 11, 29).unwrap_or_default();
    /// let week = team.settings.calendar().week_of(today);
    /// let ids = tx.member_ids(&team).await?;
    /// let catalogue = chalkbell::config::built_in();
    /// let (_, of_team) = tx.week_of(&team, &ids, week, &catalogue, today).await?;
    /// tx.rollback().await?;
    /// let totals = of_team.totals();
    /// assert_eq!((totals.lifters, totals.trained, totals.sets), (1, 0, 0));
    /// # Ok::<(), chalkbell::store::StoreError>(())
    /// # })?;
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`StoreError`]; an exercise that `catalogue` lacks is an impossible row.
    pub async fn week_of(
        &mut self,
        team: &Team,
        members: &[MemberId],
        week: Week,
        catalogue: &Catalogue,
        today: NaiveDate,
    ) -> Result<(Vec<Member>, TeamWeek), StoreError> {
        let (from, to) = (week.first_day(), week.last_day());
        let sets = self.judged_of(members, from, to, catalogue).await?;
        let versions = self.prescribed_of(members, from, to).await?;
        let members = self.members_of(team, members).await?;
        let of_team = TeamWeek::new(week, &members, &sets, &versions, catalogue, today);
        Ok((members, of_team))
    }

    /// These members' sets of the local days `from` to `to`, both included, by member: exercise and
    /// judgement of each, in no order.
    async fn judged_of(
        &mut self,
        members: &[MemberId],
        from: NaiveDate,
        to: NaiveDate,
        catalogue: &Catalogue,
    ) -> Result<Judged, StoreError> {
        // The rule of `week::judge`, as places in `Counts::ALL`, digits of base 36. A judgement is rounded to whole
        // repetitions there, which here makes its bound half a repetition more. All sets of a member
        // come in one cell, one a line, since what a row costs is most of what a set costs.
        const JUDGED: Sql = of_members!(
            SET,
            "select member_id as id, string_agg(
                 case when kind = 'warm_up' then '3'
                      when kind = 'other' then '4'
                      when kind = 'held' then 'c'
                      when reps < $4 and kind <> 'further_parts' then '5'
                      when reps > $5 then '6'
                      when gave_out = 'helpers' then '9'
                      when gave_out = 'breath' then 'a'
                      when rir > $6 then '7'
                      when rir is not null then '0'
                      when kind = 'further_parts' then '2'
                      when judged_left >= $7 then '8'
                      when judged_left is not null then '1'
                      else '2' end || exercise,
                 $8) as sets
             from training_set where member_id",
            "and day between $2 and $3 and ",
            shown!(),
            " group by member_id"
        );
        let (from, to, list) = (from.to_string(), to.to_string(), id_list(members)?);
        let args = [
            list.as_str().into(),
            from.as_str().into(),
            to.as_str().into(),
            FEWEST_REPS.into(),
            MOST_REPS.into(),
            Arg::Real(Some(MOST_RESERVE)),
            Arg::Real(Some(MOST_RESERVE + 0.5)),
            "\n".into(),
        ];
        let rows = self.written_sets(&JUDGED, &args).await?;
        let mut names = HashMap::new();
        let member = |row| {
            Ok((
                MemberId(Row::get(row, "id")?),
                judged(row, catalogue, &mut names)?,
            ))
        };
        rows.iter().map(member).collect()
    }
}

/// The sets in a row, one a line: `0back squat`.
fn judged<'r>(
    row: &'r Row,
    catalogue: &Catalogue,
    names: &mut HashMap<&'r str, ExerciseId>,
) -> Result<Vec<(ExerciseId, Counts)>, StoreError> {
    let cell: &str = row.get("sets")?;
    let set = |line: &'r str| {
        let (place, name) = line.split_at_checked(1)?;
        let place = place.chars().next()?.to_digit(36)?;
        let judgement = *Counts::ALL.get(place as usize)?;
        if let Some(&exercise) = names.get(name) {
            return Some((exercise, judgement));
        }
        let exercise = catalogue.named(name)?;
        names.insert(name, exercise);
        Some((exercise, judgement))
    };
    let sets: Option<Vec<_>> = cell.lines().map(set).collect();
    sets.ok_or_else(|| row.impossible("exercise", "has a name that the catalogue lacks".to_owned()))
}
