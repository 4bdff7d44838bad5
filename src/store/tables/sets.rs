//! Filed sets.
//!
//! A transaction keeps a member's last sets from one event to the next, as read and as changed since
//! ([`tail`]), and puts new sets in together, with ids that were reserved for them. How a set is
//! written as a row stands in [`cells`].

mod cells;
mod judged;
mod tail;

use std::collections::{BTreeMap, VecDeque};

use chrono::{DateTime, NaiveDate, Utc};

use crate::bot::state::{LogEntry, Member, Team};
use crate::domain::log::LoggedSet;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::{MemberId, SetId};
use crate::store::engine::{Arg, Insert, Row, Sql, UpdateAll, of_members};
use crate::store::error::StoreError;
use crate::store::tables::imports::shown;
use crate::store::{Tx, id_list, millis};
use cells::{Names, packed, sets_in, sets_of};
pub(in crate::store) use cells::{OwnedSet, owned_sets_of};
pub(in crate::store) use tail::RecentSets;

const SET: &str = "training_set";
/// Fewest and most ids that are reserved at once. What a transaction does not use is lost on
/// PostgreSQL, so it begins with few.
const RESERVE: std::ops::RangeInclusive<usize> = 4..=64;

/// The sets that a transaction has read or is to write.
#[derive(Debug, Default)]
pub(in crate::store) struct SetCache {
    tails: BTreeMap<MemberId, RecentSets>,
    unwritten: Vec<OwnedSet>,
    /// Ids that are this transaction's to give.
    ids: VecDeque<SetId>,
    /// The id that the next set gets, where that is known.
    pub(in crate::store) next: Option<i64>,
    /// Whether a set was filed before.
    begun: bool,
    reserved: usize,
}

impl SetCache {
    /// Takes up what an earlier transaction left, in place of what is known.
    pub(in crate::store) fn take_up(&mut self, member: MemberId, tail: Option<RecentSets>) {
        self.tails.remove(&member);
        self.tails.extend(tail.map(|tail| (member, tail)));
    }

    /// Keeps all sets of these members from a moment on, in the order of time.
    pub(in crate::store) fn know(
        &mut self,
        of: &[MemberId],
        since: DateTime<Utc>,
        sets: Vec<OwnedSet>,
    ) {
        self.tails
            .extend(of.iter().map(|&member| (member, RecentSets::new(since))));
        for set in sets {
            if let Some(tail) = self.tails.get_mut(&set.member) {
                tail.sets.push(set);
            }
        }
    }

    /// Whether nothing is known of a member's sets.
    pub(in crate::store) fn is_blank(&self, member: MemberId) -> bool {
        !self.tails.contains_key(&member)
    }

    /// Keeps that a member has no sets.
    pub(in crate::store) fn know_none_of(&mut self, member: MemberId) {
        let none = RecentSets::new(DateTime::<Utc>::MIN_UTC);
        self.tails.insert(member, none);
    }

    /// Keeps that ids from this one on are the transaction's to give: all of them on SQLite, where it
    /// holds the lock under which they are counted, and on PostgreSQL the one that was drawn.
    pub(in crate::store) fn may_give(&mut self, next: i64, drawn: bool) {
        let most = if drawn { 1 } else { *RESERVE.end() };
        self.ids = (next..).take(most).map(SetId).collect();
        self.next = Some(next);
    }

    /// Leaves it for a later transaction, as far back as was asked for last.
    pub(in crate::store) fn leave(&mut self, member: MemberId) -> Option<RecentSets> {
        self.tails.remove(&member).map(RecentSets::shortened)
    }
}

/// All sets that are shown and of which this holds.
macro_rules! sets_where {
    ($which:literal) => {
        concat!(
            "select id, team_id, member_id, message, channel, judged_left, ",
            packed!(),
            " as packed from training_set where ",
            shown!(),
            " and ",
            $which
        )
    };
}

/// The sets of these members from a moment on.
pub(in crate::store) const SINCE: Sql = Sql::either(
    SET,
    sets_where!(
        "member_id in (select value from json_each($1)) and at_ms >= $2
         order by at_ms, id"
    ),
    sets_where!(
        "member_id = any (array(select json_array_elements_text($1::json)::bigint))
               and at_ms >= $2
         order by at_ms, id"
    ),
);

impl Tx {
    /// The member's sets that ended at `since` or later, in the order of time.
    ///
    /// # Errors
    /// [`StoreError`]; an exercise that `catalogue` lacks is an impossible row.
    pub async fn sets_since(
        &mut self,
        member: &Member,
        since: DateTime<Utc>,
        catalogue: &Catalogue,
    ) -> Result<Vec<LogEntry>, StoreError> {
        let tail = self.sets.tails.get_mut(&member.id);
        if let Some(sets) = tail.and_then(|tail| tail.from(since, catalogue)) {
            return Ok(sets);
        }
        // Too short, or with a name that this catalogue lacks, of which the reading then tells.
        self.sets.tails.remove(&member.id);
        self.prefetch_sets(&[member.id], since, catalogue).await?;
        let tail = self.sets.tails.get_mut(&member.id);
        let sets = tail.and_then(|tail| tail.from(since, catalogue));
        Ok(sets.unwrap_or_default())
    }

    /// Reads the sets of these members from `since` on before they are asked for, all in one go.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn prefetch_sets(
        &mut self,
        members: &[MemberId],
        since: DateTime<Utc>,
        catalogue: &Catalogue,
    ) -> Result<(), StoreError> {
        let known = |member: &MemberId| {
            let tail = self.sets.tails.get(member);
            tail.is_some_and(|tail| tail.since <= since)
        };
        let members: Vec<MemberId> = members.iter().copied().filter(|id| !known(id)).collect();
        if members.is_empty() {
            return Ok(());
        }
        self.write_sets().await?;
        let list = id_list(&members)?;
        let args = [list.as_str().into(), millis(since).into()];
        let rows = self.connection.rows(&SINCE, &args).await?;
        let sets = owned_sets_of(&rows, catalogue)?;
        self.sets.know(&members, since, sets);
        Ok(())
    }

    /// All of the member's sets, in the order of time.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn sets_all(
        &mut self,
        member: &Member,
        catalogue: &Catalogue,
    ) -> Result<Vec<LogEntry>, StoreError> {
        const ALL: Sql = Sql::both(SET, sets_where!("member_id = $1 order by at_ms, id"));
        let tail = self.sets.tails.get_mut(&member.id);
        let whole = |tail: &mut RecentSets| tail.whole(DateTime::<Utc>::MIN_UTC, catalogue);
        if let Some(sets) = tail.and_then(whole) {
            return Ok(sets);
        }
        let rows = self.written_sets(&ALL, &[member.id.0.into()]).await?;
        sets_of(&rows, catalogue)
    }

    /// The member's sets that ended at `since` or later, in the order of time: like [`Tx::sets_since`],
    /// for who asks for so much now and then.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn sets_from(
        &mut self,
        member: &Member,
        since: DateTime<Utc>,
        catalogue: &Catalogue,
    ) -> Result<Vec<LogEntry>, StoreError> {
        const FROM: Sql = Sql::both(
            SET,
            sets_where!("member_id = $1 and at_ms >= $2 order by at_ms, id"),
        );
        let args = [member.id.0.into(), millis(since).into()];
        let rows = self.written_sets(&FROM, &args).await?;
        sets_of(&rows, catalogue)
    }

    /// A page of the member's sets in the order of time: the first so many of those behind the one with
    /// this time and id.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn sets_after(
        &mut self,
        member: &Member,
        after: Option<(DateTime<Utc>, SetId)>,
        most: u32,
        catalogue: &Catalogue,
    ) -> Result<Vec<LogEntry>, StoreError> {
        const PAGE: Sql = Sql::both(
            SET,
            sets_where!(
                "member_id = $1 and at_ms >= $2 and (at_ms > $2 or id > $3)
                 order by at_ms, id limit $4"
            ),
        );
        let (at_ms, id) = after.map_or((i64::MIN, 0), |(at, id)| (millis(at), id.0));
        let args = [member.id.0.into(), at_ms.into(), id.into(), most.into()];
        let rows = self.written_sets(&PAGE, &args).await?;
        sets_of(&rows, catalogue)
    }

    /// The member's sets of the local days `from` to `to`, both included, in the order of time.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn sets_of_days(
        &mut self,
        member: &Member,
        from: NaiveDate,
        to: NaiveDate,
        catalogue: &Catalogue,
    ) -> Result<Vec<LogEntry>, StoreError> {
        const OF_DAYS: Sql = Sql::both(
            SET,
            sets_where!("member_id = $1 and day between $2 and $3 order by at_ms, id"),
        );
        let (from, to) = (from.to_string(), to.to_string());
        let args = [member.id.0.into(), from.as_str().into(), to.as_str().into()];
        let rows = self.written_sets(&OF_DAYS, &args).await?;
        sets_of(&rows, catalogue)
    }

    /// The sets of these members of the local days `from` to `to`, both included, by member, in the
    /// order of time. For what they add up to, [`Tx::week_of`] is the shorter way.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn sets_of(
        &mut self,
        members: &[MemberId],
        from: NaiveDate,
        to: NaiveDate,
        catalogue: &Catalogue,
    ) -> Result<BTreeMap<MemberId, Vec<LoggedSet>>, StoreError> {
        // All sets of a member in one cell, one a line: see `judged`.
        const OF_MEMBERS: Sql = of_members!(
            SET,
            concat!(
                "select member_id as id,
                        string_agg(concat(training_set.id, ',', ",
                packed!(),
                "), $4 order by at_ms, training_set.id) as sets
                 from training_set where member_id"
            ),
            "and day between $2 and $3 and ",
            shown!(),
            " group by member_id"
        );
        let (from, to, list) = (from.to_string(), to.to_string(), id_list(members)?);
        let days = [from.as_str().into(), to.as_str().into()];
        let args = [list.as_str().into(), days[0], days[1], "\n".into()];
        let rows = self.written_sets(&OF_MEMBERS, &args).await?;
        let mut names = Names::of(catalogue);
        let of_member = |row| {
            let sets = sets_in(row, "sets", &mut names)?;
            Ok((MemberId(row.get("id")?), sets))
        };
        rows.iter().map(of_member).collect()
    }

    /// The channels in which these members posted their sets of the local days `from` to `to`, both included,
    /// each with how many of the members posted there, and how many sets.
    pub async fn channels_of(
        &mut self,
        members: &[MemberId],
        from: NaiveDate,
        to: NaiveDate,
    ) -> Result<Vec<(String, i64, i64)>, StoreError> {
        const CHANNELS: Sql = of_members!(
            SET,
            "select channel, count(distinct member_id) as members, count(*) as sets
             from training_set where member_id",
            "and day between $2 and $3 and ",
            shown!(),
            " group by channel"
        );
        let (from, to, list) = (from.to_string(), to.to_string(), id_list(members)?);
        let args = [
            list.as_str().into(),
            from.as_str().into(),
            to.as_str().into(),
        ];
        let rows = self.written_sets(&CHANNELS, &args).await?;
        let one = |row: &Row| Ok((row.get("channel")?, row.get("members")?, row.get("sets")?));
        rows.iter().map(one).collect()
    }

    /// Whether anybody in the team ever logged a set.
    pub async fn has_sets(&mut self, team: &Team) -> Result<bool, StoreError> {
        const ANY: Sql = Sql::both(
            SET,
            concat!(
                "select id from training_set where team_id = $1 and ",
                shown!(),
                " limit 1"
            ),
        );
        let rows = self.written_sets(&ANY, &[team.id.0.into()]).await?;
        Ok(!rows.is_empty())
    }

    /// The last day with a set of each of these members that ever logged one.
    pub async fn last_days(
        &mut self,
        members: &[MemberId],
    ) -> Result<BTreeMap<MemberId, NaiveDate>, StoreError> {
        // A look at the end of each member's days, not at all of them.
        const LAST: Sql = of_members!(
            SET,
            concat!(
                "select member_id, day from (
                     select id as member_id,
                            (select max(day) from training_set
                             where member_id = member.id and ",
                shown!(),
                ") as day
                     from member where id"
            ),
            ") as latest where day is not null"
        );
        let list = id_list(members)?;
        let rows = self.written_sets(&LAST, &[list.as_str().into()]).await?;
        let last = |row: &Row| {
            let day = cells::word(row, "day", |day| day.parse().ok())?;
            Ok((MemberId(row.get("member_id")?), day))
        };
        rows.iter().map(last).collect()
    }

    /// The days from `from` to `to`, both included, on which each of these members logged a set, in order.
    pub async fn trained_days(
        &mut self,
        members: &[MemberId],
        from: NaiveDate,
        to: NaiveDate,
    ) -> Result<BTreeMap<MemberId, Vec<NaiveDate>>, StoreError> {
        const DAYS: Sql = of_members!(
            SET,
            "select member_id as id, string_agg(day, $4 order by day) as days
             from (select distinct member_id, day from training_set where member_id",
            "and day between $2 and $3) as trained group by member_id"
        );
        let (from, to, list) = (from.to_string(), to.to_string(), id_list(members)?);
        let days = [from.as_str().into(), to.as_str().into()];
        let args = [list.as_str().into(), days[0], days[1], "\n".into()];
        let rows = self.written_sets(&DAYS, &args).await?;
        let of_member = |row| {
            let days = cells::word(row, "days", |days| {
                days.lines().map(|day| day.parse().ok()).collect()
            });
            Ok((MemberId(Row::get(row, "id")?), days?))
        };
        rows.iter().map(of_member).collect()
    }

    /// The member's sets of these exercises that ended at `since` or later, in the order of time.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn sets_of_exercises(
        &mut self,
        member: &Member,
        exercises: &[&str],
        since: DateTime<Utc>,
        catalogue: &Catalogue,
    ) -> Result<Vec<LogEntry>, StoreError> {
        // Eight names a statement: one text for both engines, which have no list type in common.
        const OF_EXERCISES: Sql = Sql::both(
            SET,
            sets_where!(
                "member_id = $1 and at_ms >= $2
                   and exercise in ($3, $4, $5, $6, $7, $8, $9, $10)
                 order by at_ms, id"
            ),
        );
        let tail = self.sets.tails.get_mut(&member.id);
        if let Some(mut sets) = tail.and_then(|tail| tail.whole(since, catalogue)) {
            sets.retain(|filed| {
                let name = &catalogue.exercise(filed.set.exercise).name;
                exercises.contains(&name.as_str())
            });
            return Ok(sets);
        }
        self.write_sets().await?;
        let mut found = Vec::new();
        for some in exercises.chunks(8) {
            let mut args = [Arg::Text(None); 10];
            args[0] = member.id.0.into();
            args[1] = millis(since).into();
            for (arg, &name) in args.iter_mut().skip(2).zip(some) {
                *arg = name.into();
            }
            let rows = self.connection.rows(&OF_EXERCISES, &args).await?;
            found.extend(sets_of(&rows, catalogue)?);
        }
        found.sort_by_key(|filed| (filed.set.at, filed.set.id));
        Ok(found)
    }

    async fn written_sets(&mut self, sql: &Sql, args: &[Arg<'_>]) -> Result<Vec<Row>, StoreError> {
        self.write_sets().await?;
        self.connection.rows(sql, args).await
    }

    /// Files new sets; their ids, in order.
    pub(in crate::store) async fn file(
        &mut self,
        team: &Team,
        member: &Member,
        sets: &[LogEntry],
        catalogue: &Catalogue,
    ) -> Result<Vec<SetId>, StoreError> {
        let begun = std::mem::replace(&mut self.sets.begun, true);
        // Most transactions file one set and no more: for that, ids are not worth reserving.
        let at_once = !begun && sets.len() == 1 && self.sets.ids.is_empty();
        let ids = match sets {
            [set] if at_once => {
                let set = OwnedSet::new(team, member, set, catalogue);
                vec![self.file_at_once(&set).await?]
            }
            _ => self.reserve(sets.len()).await?,
        };
        if let Some(last) = ids.last() {
            self.sets.next = Some(last.0 + 1);
        }
        for (set, &id) in sets.iter().zip(&ids) {
            let mut set = OwnedSet::new(team, member, set, catalogue);
            set.filed.set.id = Some(id);
            if !at_once {
                self.sets.unwritten.push(set.clone());
            }
            if let Some(tail) = self.sets.tails.get_mut(&member.id) {
                tail.put(set);
            }
        }
        Ok(ids)
    }

    async fn file_at_once(&mut self, set: &OwnedSet) -> Result<SetId, StoreError> {
        const FILE: Sql = Sql::both(
            SET,
            "insert into training_set (team_id, member_id, exercise, load, unit, basis, reps, rir,
                 kind, per_side, at_ms, timed, stated_rest_s, day, message, channel, place,
                 order_in_day, technique, asked_rir, said, judged_left, gave_out)
             values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17,
                 $18, $19, $20, $21, $22, $23)
             returning id",
        );
        let [cells @ .., _] = set.cells();
        let row = self.connection.returned(&FILE, &cells).await?;
        Ok(SetId(row.get("id")?))
    }

    /// Ids for so many sets that are staged.
    pub(in crate::store) async fn ids_for(
        &mut self,
        count: usize,
    ) -> Result<Vec<SetId>, StoreError> {
        let ids = self.reserve(count).await?;
        if let Some(last) = ids.last() {
            self.sets.next = Some(last.0 + 1);
        }
        Ok(ids)
    }

    /// Ids for so many new sets.
    async fn reserve(&mut self, count: usize) -> Result<Vec<SetId>, StoreError> {
        // SQLite's ids are this transaction's until it ends, and counted by the rows written so
        // far; PostgreSQL's are drawn, and others draw in between.
        const RESERVE_IDS: Sql = Sql::either(
            SET,
            "select coalesce(max(seq), 0) + 1 as id, $1 as count from sqlite_sequence
             where name = 'training_set'",
            "select nextval(pg_get_serial_sequence('training_set', 'id')) as id,
                    1::bigint as count
             from generate_series(1, $1)",
        );
        if self.sets.ids.len() < count {
            self.write_sets().await?;
            self.sets.ids.clear();
            let many = (2 * self.sets.reserved).clamp(*RESERVE.start(), *RESERVE.end());
            self.sets.reserved = many.max(count);
            let args = [Arg::Int(i64::try_from(self.sets.reserved).ok())];
            for row in self.connection.rows(&RESERVE_IDS, &args).await? {
                let (first, count): (i64, i64) = (row.get("id")?, row.get("count")?);
                self.sets.ids.extend((first..first + count).map(SetId));
            }
        }
        Ok(self.sets.ids.drain(..count).collect())
    }

    /// Writes the sets filed so far.
    pub(in crate::store) async fn write_sets(&mut self) -> Result<(), StoreError> {
        const FILE: Insert = Insert {
            table: SET,
            columns: "team_id, member_id, exercise, load, unit, basis, reps, rir, kind, per_side,
                      at_ms, timed, stated_rest_s, day, message, channel, place, order_in_day,
                      technique, asked_rir, said, judged_left, gave_out, id",
            again: "",
            may_leave: false,
        };
        let unwritten = std::mem::take(&mut self.sets.unwritten);
        let rows: Vec<_> = unwritten.iter().map(OwnedSet::cells).collect();
        self.connection.insert(&FILE, &rows).await
    }

    /// Gives a filed set new content.
    pub(in crate::store) async fn revise(
        &mut self,
        team: &Team,
        member: &Member,
        set: &LogEntry,
        catalogue: &Catalogue,
    ) -> Result<(), StoreError> {
        const REVISE: Sql = Sql::both(
            SET,
            "update training_set
             set exercise = $3, load = $4, unit = $5, basis = $6, reps = $7, rir = $8, kind = $9,
                 per_side = $10, at_ms = $11, timed = $12, stated_rest_s = $13, day = $14,
                 message = $15, channel = $16, place = $17, order_in_day = $18, technique = $19,
                 asked_rir = $20, said = $21, judged_left = $22, gave_out = $23
             where team_id = $1 and member_id = $2 and id = $24",
        );
        self.write_sets().await?;
        let set = OwnedSet::new(team, member, set, catalogue);
        // A set without an id was never filed: no row has the id null.
        self.connection.run_one(&REVISE, &set.cells()).await?;
        if let Some(tail) = self.sets.tails.get_mut(&member.id) {
            tail.put(set);
        }
        Ok(())
    }

    /// Keeps how much was left after filed sets, as the belief now judges it.
    pub(in crate::store) async fn judge(
        &mut self,
        member: &Member,
        judged: &[(SetId, Option<f64>)],
    ) -> Result<(), StoreError> {
        const JUDGE: UpdateAll = UpdateAll {
            table: SET,
            before: "update training_set set judged_left = column3 from (values ",
            behind: ") as new where member_id = column1 and id = column2",
        };
        self.write_sets().await?;
        let row =
            |&(id, left): &(SetId, Option<f64>)| [member.id.0.into(), id.0.into(), Arg::Real(left)];
        let rows: Vec<_> = judged.iter().map(row).collect();
        self.connection.update_all(&JUDGE, &rows).await?;
        if let Some(tail) = self.sets.tails.get_mut(&member.id) {
            tail.judge(judged);
        }
        Ok(())
    }

    /// Keeps how much was left after many filed sets of a member, as the belief now judges it.
    ///
    /// # Errors
    /// [`StoreError`]; a set that is not the member's is a [`StoreError::RowCount`].
    pub async fn judge_all(
        &mut self,
        team: &Team,
        member: &Member,
        sets: &[LogEntry],
        catalogue: &Catalogue,
    ) -> Result<(), StoreError> {
        // Their rows are all there: it is an update of many rows at once.
        const JUDGE: Insert = Insert {
            table: SET,
            columns: "team_id, member_id, exercise, load, unit, basis, reps, rir, kind, per_side,
                      at_ms, timed, stated_rest_s, day, message, channel, place, order_in_day,
                      technique, asked_rir, said, judged_left, gave_out, id",
            again: " on conflict (id) do update set judged_left = excluded.judged_left
                     where training_set.team_id = excluded.team_id
                           and training_set.member_id = excluded.member_id",
            may_leave: true,
        };
        self.write_sets().await?;
        let owned = sets.iter();
        let owned: Vec<OwnedSet> = owned
            .map(|set| OwnedSet::new(team, member, set, catalogue))
            .collect();
        let rows: Vec<_> = owned.iter().map(OwnedSet::cells).collect();
        self.connection.insert(&JUDGE, &rows).await?;
        self.sets.tails.remove(&member.id);
        Ok(())
    }

    /// Takes a filed set out.
    pub(in crate::store) async fn remove(
        &mut self,
        member: &Member,
        id: SetId,
    ) -> Result<(), StoreError> {
        const REMOVE: Sql = Sql::both(
            SET,
            "delete from training_set where member_id = $1 and id = $2",
        );
        self.write_sets().await?;
        let args = [member.id.0.into(), id.0.into()];
        self.connection.run_one(&REMOVE, &args).await?;
        if let Some(tail) = self.sets.tails.get_mut(&member.id) {
            tail.take(Some(id));
        }
        Ok(())
    }
}
