//! What coaches set for members: plans, blocks, targets, each from a day on.

use std::collections::{BTreeMap, HashMap};

use chrono::NaiveDate;

use crate::bot::state::prescription::Prescribed;
use crate::bot::state::prescription::Version;
use crate::bot::state::{Member, Team};
use crate::domain::quantities::id::MemberId;
use crate::store::engine::{Row, Sql, of_members};
use crate::store::error::StoreError;
use crate::store::{Tx, as_json, id_list, json};

const PRESCRIPTION: &str = "prescription";

/// What a transaction has read of it, by member and day.
#[derive(Debug, Default)]
pub(in crate::store) struct PrescriptionCache(HashMap<MemberId, OfMember>);

/// What stood for a member on the days that were asked about.
#[derive(Debug, Default)]
pub(in crate::store) struct OfMember {
    days: HashMap<NaiveDate, Vec<Version>>,
    /// Nothing was ever set.
    is_none: bool,
}

/// Days of a member that are known at most: sessions ask about one day, and weeks about few.
const MOST_DAYS: usize = 20;

impl PrescriptionCache {
    /// Takes up what an earlier transaction left, in place of what is known.
    pub(in crate::store) fn take_up(&mut self, member: MemberId, days: OfMember) {
        self.0.insert(member, days);
    }

    /// Keeps what stood for a member on a day, as just read.
    pub(in crate::store) fn know(
        &mut self,
        member: MemberId,
        day: NaiveDate,
        rows: &[Row],
    ) -> Result<Vec<Version>, StoreError> {
        let found: Vec<Version> = rows.iter().map(version_of).collect::<Result<_, _>>()?;
        let days = &mut self.0.entry(member).or_default().days;
        if days.len() >= MOST_DAYS {
            days.clear();
        }
        days.insert(day, found.clone());
        Ok(found)
    }

    /// Keeps that nothing was ever set for a member.
    pub(in crate::store) fn know_none_of(&mut self, member: MemberId) {
        self.0.entry(member).or_default().is_none = true;
    }

    /// Leaves it for a later transaction.
    pub(in crate::store) fn leave(&mut self, member: MemberId) -> OfMember {
        self.0.remove(&member).unwrap_or_default()
    }
}

/// What stood for a member on a day: of each kind the latest that begins by then.
pub(in crate::store) const PRESCRIBED: Sql = Sql::both(
    PRESCRIPTION,
    "select kind, from_day, content from prescription
     where member_id = $1 and from_day = (
         select max(from_day) from prescription as latest
         where latest.member_id = $1 and latest.kind = prescription.kind
               and latest.from_day <= $2)
     order by kind",
);

impl Tx {
    /// What stood for a member on `day`: of each kind the latest that begins by then.
    pub async fn prescribed(
        &mut self,
        member: &Member,
        day: NaiveDate,
    ) -> Result<Vec<Version>, StoreError> {
        let OfMember { days, is_none } = self.prescribed.0.entry(member.id).or_default();
        if *is_none {
            return Ok(Vec::new());
        }
        if let Some(known) = days.get(&day) {
            return Ok(known.clone());
        }
        let text = day.to_string();
        let args = [member.id.0.into(), text.as_str().into()];
        let rows = self.connection.rows(&PRESCRIBED, &args).await?;
        self.prescribed.know(member.id, day, &rows)
    }

    /// Everything that was ever set for a member, by kind and day.
    pub async fn prescribed_ever(&mut self, member: &Member) -> Result<Vec<Version>, StoreError> {
        const ALL: Sql = Sql::both(
            PRESCRIPTION,
            "select kind, from_day, content from prescription
             where member_id = $1 order by kind, from_day",
        );
        let rows = self.connection.rows(&ALL, &[member.id.0.into()]).await?;
        rows.iter().map(version_of).collect()
    }

    /// What bears on the days `from` to `to` for each of these members: of each kind the latest that begins
    /// by `from`, and all that begin later, by kind, then day; one statement.
    pub async fn prescribed_of(
        &mut self,
        members: &[MemberId],
        from: NaiveDate,
        to: NaiveDate,
    ) -> Result<BTreeMap<MemberId, Vec<Version>>, StoreError> {
        const OF_MEMBERS: Sql = of_members!(
            PRESCRIPTION,
            "select member_id, kind, from_day, content from prescription where member_id",
            "and from_day <= $3
                   and from_day >= coalesce((
                 select max(from_day) from prescription as latest
                 where latest.member_id = prescription.member_id
                       and latest.kind = prescription.kind and latest.from_day <= $2), $2)
             order by member_id, kind, from_day"
        );
        let (from, to, list) = (from.to_string(), to.to_string(), id_list(members)?);
        let args = [
            list.as_str().into(),
            from.as_str().into(),
            to.as_str().into(),
        ];
        let mut found: BTreeMap<MemberId, Vec<Version>> = BTreeMap::new();
        for row in &self.connection.rows(&OF_MEMBERS, &args).await? {
            let member = MemberId(row.get("member_id")?);
            found.entry(member).or_default().push(version_of(row)?);
        }
        Ok(found)
    }

    /// The same for one member.
    pub async fn prescribed_between(
        &mut self,
        member: &Member,
        from: NaiveDate,
        to: NaiveDate,
    ) -> Result<Vec<Version>, StoreError> {
        const OF_ONE: Sql = Sql::both(
            PRESCRIPTION,
            "select kind, from_day, content from prescription
             where member_id = $1 and from_day <= $3
                   and from_day >= coalesce((
                 select max(from_day) from prescription as latest
                 where latest.member_id = $1
                       and latest.kind = prescription.kind and latest.from_day <= $2), $2)
             order by kind, from_day",
        );
        let (from, to) = (from.to_string(), to.to_string());
        let args = [member.id.0.into(), from.as_str().into(), to.as_str().into()];
        let rows = self.connection.rows(&OF_ONE, &args).await?;
        rows.iter().map(version_of).collect()
    }

    /// Sets something for a member of this team from a day on, in place of what began on that day.
    pub(in crate::store) async fn put_prescribed(
        &mut self,
        team: &Team,
        member: MemberId,
        version: &Version,
    ) -> Result<(), StoreError> {
        // Read from the team's members, so that nobody else's is written.
        const PUT: Sql = Sql::both(
            PRESCRIPTION,
            "insert into prescription (member_id, kind, from_day, content)
             select id, $3, $4, $5 from member where team_id = $1 and id = $2
             on conflict (member_id, kind, from_day) do update set content = excluded.content",
        );
        self.prescribed.0.remove(&member);
        let content = as_json(&version.content)?;
        let from = version.from.to_string();
        let args = [
            team.id.0.into(),
            member.0.into(),
            version.content.kind().into(),
            from.as_str().into(),
            content.as_str().into(),
        ];
        self.connection.run_one(&PUT, &args).await
    }
}

fn version_of(row: &Row) -> Result<Version, StoreError> {
    let from: &str = row.get("from_day")?;
    Ok(Version {
        from: from
            .parse()
            .map_err(|_| row.impossible("from_day", format!("is {from:?}, no day")))?,
        content: json::<Prescribed>(row, "content")?,
    })
}
