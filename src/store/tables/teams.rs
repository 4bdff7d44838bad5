//! Teams and their members.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use chrono::{DateTime, Utc};

use crate::bot::state::view::Called;
use crate::bot::state::{Member, MemberState, Profile, Team, TeamSettings};
use crate::domain::quantities::id::{MemberId, TeamId};
use crate::store::engine::{Arg, Insert, Row, Sql, of_members};
use crate::store::error::StoreError;
use crate::store::tables::imports::shown;
use crate::store::{Tx, as_json, id_list, json};

const TEAM: &str = "team";
const MEMBER: &str = "member";

/// The teams and members that a transaction has read: a group of events speaks of a few people
/// of a few teams.
#[derive(Debug, Default)]
pub(in crate::store) struct Seen {
    teams: HashMap<String, KnownTeam>,
    members: HashMap<(TeamId, String), Member>,
    /// Members whose row is behind what is seen here, by whose key that is found.
    unwritten: BTreeMap<MemberId, (TeamId, String)>,
    /// How often anything of these members was written, this transaction's writes of their rows
    /// included.
    pub(in crate::store) versions: BTreeMap<MemberId, i64>,
    /// Members whose row was not read here, though something of theirs is written.
    touched: BTreeSet<MemberId>,
    /// Teams that this transaction made.
    made: Vec<TeamId>,
    /// Authors who are no members, as read under the write lock.
    strangers: HashMap<(TeamId, String), Stranger>,
}

/// Somebody who is no member of the team.
#[derive(Clone, Copy, Debug)]
pub(in crate::store) struct Stranger {
    /// When everything of theirs was erased.
    pub(in crate::store) erased: Option<DateTime<Utc>>,
    /// Whether a coach expects somebody of that author or name.
    pub(in crate::store) is_expected: bool,
    /// The id that the next member gets.
    pub(in crate::store) next_id: i64,
}

/// All members of whom this holds.
macro_rules! members_where {
    ($which:literal) => {
        concat!(
            "select id, author, name, coach, profile, desk, condition, version from member where ",
            $which
        )
    };
}

/// A team, and its settings as the table holds them: they are only overwritten if they still stand
/// there, since a team's row is not locked.
#[derive(Clone, Debug)]
pub(in crate::store) struct KnownTeam {
    pub(in crate::store) team: Team,
    pub(in crate::store) stored: String,
}

impl Tx {
    /// The team with this key, made on first sight.
    pub async fn team(&mut self, key: &str) -> Result<Team, StoreError> {
        const FIND: Sql = Sql::both(
            TEAM,
            "select id as team_id, key, settings from team where key = $1",
        );
        // The update does nothing but return a row that another process made in between.
        const MAKE: Sql = Sql::both(
            TEAM,
            "insert into team (key, settings) values ($1, $2)
             on conflict (key) do update set key = excluded.key
             returning id as team_id, key, settings",
        );
        if let Some(known) = self.seen.teams.get(key) {
            return Ok(known.team.clone());
        }
        let row = match self.connection.row(&FIND, &[key.into()]).await? {
            Some(row) => row,
            None => {
                let settings = as_json(&TeamSettings::default())?;
                let args = [key.into(), settings.as_str().into()];
                let row = self.connection.returned(&MAKE, &args).await?;
                self.seen.made.push(TeamId(row.get("team_id")?));
                row
            }
        };
        self.see_team(&row)
    }

    /// Whether the team's row was read.
    pub(in crate::store) fn knows_team(&self, key: &str) -> bool {
        self.seen.teams.contains_key(key)
    }

    /// Keeps a team, as just read from this row.
    pub(in crate::store) fn see_team(&mut self, row: &Row) -> Result<Team, StoreError> {
        let team = Team {
            id: TeamId(row.get("team_id")?),
            key: row.get("key")?,
            settings: json(row, "settings")?,
        };
        let known = KnownTeam {
            team: team.clone(),
            stored: row.get("settings")?,
        };
        self.see_known_team(known);
        Ok(team)
    }

    /// Keeps a team.
    pub(in crate::store) fn see_known_team(&mut self, known: KnownTeam) {
        self.seen.teams.insert(known.team.key.clone(), known);
    }

    /// The teams as they stand, for later transactions.
    pub(in crate::store) fn leave_teams(&mut self) -> HashMap<String, KnownTeam> {
        std::mem::take(&mut self.seen.teams)
    }

    /// The members as they stand, with their teams' keys, for later transactions; all are written.
    pub(in crate::store) fn rows_to_leave(&mut self) -> HashMap<MemberId, (String, Member)> {
        let keys: HashMap<TeamId, &str> = self
            .seen
            .teams
            .values()
            .map(|known| (known.team.id, known.team.key.as_str()))
            .collect();
        let members = std::mem::take(&mut self.seen.members);
        members
            .into_iter()
            .filter_map(|((team, _), member)| {
                let key = (*keys.get(&team)?).to_owned();
                Some((member.id, (key, member)))
            })
            .collect()
    }

    /// Keeps that an author is no member of the team.
    pub(in crate::store) fn see_stranger(&mut self, team: &Team, author: &str, stranger: Stranger) {
        let key = (team.id, author.to_owned());
        self.seen.strangers.insert(key, stranger);
    }

    /// What is known of an author who is no member; `None` where that is not known.
    pub(in crate::store) fn stranger(&self, team: &Team, author: &str) -> Option<Stranger> {
        let key = (team.id, author.to_owned());
        self.seen.strangers.get(&key).copied()
    }

    /// Whether this transaction made the team; said once.
    pub fn is_new(&mut self, team: &Team) -> bool {
        let before = self.seen.made.len();
        self.seen.made.retain(|id| *id != team.id);
        self.seen.made.len() < before
    }

    /// The member of this team with this author name; `None` for someone who never lifted here.
    /// On PostgreSQL the member's row is locked until the end of the transaction, so that the
    /// events of one member are worked on one after the other, whatever process they reach.
    pub async fn member(
        &mut self,
        team: &Team,
        author: &str,
    ) -> Result<Option<Member>, StoreError> {
        const FIND: Sql = Sql::either(
            MEMBER,
            members_where!("team_id = $1 and author = $2"),
            members_where!("team_id = $1 and author = $2 for no key update"),
        );
        let key = (team.id, author.to_owned());
        if let Some(member) = self.seen.members.get(&key) {
            return Ok(Some(member.clone()));
        }
        if self.seen.strangers.contains_key(&key) {
            return Ok(None);
        }
        let args = [team.id.0.into(), author.into()];
        let Some(row) = self.connection.row(&FIND, &args).await? else {
            return Ok(None);
        };
        let member = member_of(&row)?;
        self.see_row(team, &member, &row)?;
        Ok(Some(member))
    }

    /// Reads the members with these author names before they are asked for, all in one go, as
    /// [`Tx::member`] does; the ids of those found.
    pub async fn prefetch_members(
        &mut self,
        team: &Team,
        authors: &[&str],
    ) -> Result<Vec<MemberId>, StoreError> {
        // In the order of ids, so that two groups never wait for each other.
        const FIND: Sql = Sql::either(
            MEMBER,
            members_where!(
                "team_id = $1 and author in (select value from json_each($2)) order by id"
            ),
            members_where!(
                "team_id = $1 and author = any (array(select json_array_elements_text($2::json)))
                 order by id for no key update"
            ),
        );
        let mut authors = authors.to_vec();
        authors.retain(|&author| {
            !self
                .seen
                .members
                .contains_key(&(team.id, author.to_owned()))
        });
        if authors.is_empty() {
            return Ok(Vec::new());
        }
        let list = as_json(&authors)?;
        let args = [team.id.0.into(), list.as_str().into()];
        let mut found = Vec::new();
        for row in self.connection.rows(&FIND, &args).await? {
            let member = member_of(&row)?;
            found.push(member.id);
            self.see_row(team, &member, &row)?;
        }
        Ok(found)
    }

    /// The member of this team with this author name, made when new; shown name and role are
    /// brought up to date.
    pub async fn member_or_new(
        &mut self,
        team: &Team,
        author: &str,
        name: &str,
        coach: bool,
    ) -> Result<Member, StoreError> {
        match self.member(team, author).await? {
            Some(member) if member.name == name && member.coach == coach => Ok(member),
            Some(mut member) => {
                name.clone_into(&mut member.name);
                member.coach = coach;
                self.put_member(team, &member).await?;
                Ok(member)
            }
            None => match self.arrived(team, author, name, coach).await? {
                Some(member) => Ok(member),
                None => self.new_member(team, author, name, coach).await,
            },
        }
    }

    /// All members of the team, in the order in which they came. They are not locked.
    pub async fn members(&mut self, team: &Team) -> Result<Vec<Member>, StoreError> {
        const ALL: Sql = Sql::both(MEMBER, members_where!("team_id = $1 order by id"));
        self.found(&ALL, &[team.id.0.into()]).await
    }

    /// The members that a statement finds, with what this transaction changed of them.
    async fn found(&mut self, sql: &Sql, args: &[Arg<'_>]) -> Result<Vec<Member>, StoreError> {
        self.write_members().await?;
        let rows = self.connection.rows(sql, args).await?;
        rows.iter().map(member_of).collect()
    }

    /// The ids of all members of the team, in the order in which they came.
    pub async fn member_ids(&mut self, team: &Team) -> Result<Vec<MemberId>, StoreError> {
        const IDS: Sql = Sql::both(
            MEMBER,
            "select id from member where team_id = $1 order by id",
        );
        self.write_members().await?;
        let rows = self.connection.rows(&IDS, &[team.id.0.into()]).await?;
        rows.iter()
            .map(|row| Ok(MemberId(row.get("id")?)))
            .collect()
    }

    /// What those of the team are called who have posted, in the order in which they came.
    pub async fn called(&mut self, team: &Team) -> Result<Vec<Called>, StoreError> {
        const CALLED: Sql = Sql::both(
            MEMBER,
            "select author, name from member where team_id = $1 order by id",
        );
        self.write_members().await?;
        let rows = self.connection.rows(&CALLED, &[team.id.0.into()]).await?;
        let called = rows.iter().map(|row| {
            Ok(Called {
                author: row.get("author")?,
                name: row.get("name")?,
            })
        });
        let called: Result<Vec<Called>, StoreError> = called.collect();
        Ok(called?.into_iter().filter(Called::is_here).collect())
    }

    /// Those of the team's members who have these ids, in the order in which they came. They are not locked.
    pub async fn members_of(
        &mut self,
        team: &Team,
        members: &[MemberId],
    ) -> Result<Vec<Member>, StoreError> {
        const OF_IDS: Sql =
            of_members!(MEMBER, members_where!("id"), "and team_id = $2 order by id");
        let list = id_list(members)?;
        let args = [list.as_str().into(), team.id.0.into()];
        self.found(&OF_IDS, &args).await
    }

    /// The coach who came first, or where there is none, the member who did. Not locked.
    pub async fn coach_or_first(&mut self, team: &Team) -> Result<Option<Member>, StoreError> {
        const FIRST: Sql = Sql::both(
            MEMBER,
            members_where!(
                "id = (select id from member where team_id = $1 order by coach desc, id limit 1)"
            ),
        );
        let found = self.found(&FIRST, &[team.id.0.into()]).await?;
        Ok(found.into_iter().next())
    }

    /// The team's coaches, in the order in which they came. They are not locked.
    pub async fn coaches(&mut self, team: &Team) -> Result<Vec<Member>, StoreError> {
        const COACHES: Sql = Sql::both(
            MEMBER,
            members_where!("team_id = $1 and coach = 1 order by id"),
        );
        self.found(&COACHES, &[team.id.0.into()]).await
    }

    /// All members with how often anything of each was written: who decides on what is read here sees by it
    /// later, with [`Tx::version_of`], whether that still stands.
    pub async fn members_counted(&mut self, team: &Team) -> Result<Vec<(Member, i64)>, StoreError> {
        const ALL: Sql = Sql::both(MEMBER, members_where!("team_id = $1 order by id"));
        self.write_members().await?;
        self.write_touched().await?;
        let rows = self.connection.rows(&ALL, &[team.id.0.into()]).await?;
        let counted = |row: &Row| Ok((member_of(row)?, row.get("version")?));
        rows.iter().map(counted).collect()
    }

    /// How often anything of a member was written whose row this transaction has read, and on PostgreSQL
    /// locked; without what it has itself still to write.
    pub fn version_of(&self, member: &Member) -> Option<i64> {
        self.seen.versions.get(&member.id).copied()
    }

    /// The same, and nobody changes them until the end of the transaction: for events that change
    /// others than who caused them.
    pub async fn members_locked(&mut self, team: &Team) -> Result<Vec<Member>, StoreError> {
        const ALL: Sql = Sql::either(
            MEMBER,
            members_where!("team_id = $1 order by id"),
            members_where!("team_id = $1 order by id for no key update"),
        );
        self.write_members().await?;
        let rows = self.connection.rows(&ALL, &[team.id.0.into()]).await?;
        let mut members = Vec::with_capacity(rows.len());
        for row in &rows {
            let member = member_of(row)?;
            self.see_row(team, &member, row)?;
            members.push(member);
        }
        Ok(members)
    }

    /// The members of the team who go by this name or author, given in lower case, whatever the
    /// letters' case there. They are not locked.
    pub async fn members_called(
        &mut self,
        team: &Team,
        name: &str,
    ) -> Result<Vec<Member>, StoreError> {
        // The engines know the case of plain letters alone; names with others, which take more bytes
        // than characters, are looked at here.
        const CALLED: Sql = Sql::both(
            MEMBER,
            members_where!(
                "team_id = $1 and (lower(name) = $2 or lower(author) = $2
                     or octet_length(name) <> length(name)
                     or octet_length(author) <> length(author))
                 order by id"
            ),
        );
        let mut members = self
            .found(&CALLED, &[team.id.0.into(), name.into()])
            .await?;
        members.retain(|member| member.is_called(name));
        Ok(members)
    }

    /// The member who was expected under this name or author and is here now; `None` where nobody
    /// was.
    async fn arrived(
        &mut self,
        team: &Team,
        author: &str,
        name: &str,
        coach: bool,
    ) -> Result<Option<Member>, StoreError> {
        const ARRIVE: Sql = Sql::both(
            MEMBER,
            "update member set author = $3, name = $4, coach = $5, version = version + 1
             where team_id = $1 and author = $2
             returning id, author, name, coach, profile, desk, condition, version",
        );
        if self
            .stranger(team, author)
            .is_some_and(|one| !one.is_expected)
        {
            return Ok(None);
        }
        for known in [author, name] {
            let expected = Member::expected_author(known);
            let args = [
                team.id.0.into(),
                expected.as_str().into(),
                author.into(),
                name.into(),
                coach.into(),
            ];
            if let Some(row) = self.connection.row(&ARRIVE, &args).await? {
                let member = member_of(&row)?;
                self.see_row(team, &member, &row)?;
                return Ok(Some(member));
            }
        }
        Ok(None)
    }

    /// The id of the member who is expected under this name, made when new.
    pub(in crate::store) async fn expect_new(
        &mut self,
        team: &Team,
        name: &str,
    ) -> Result<MemberId, StoreError> {
        const MAKE: Sql = Sql::both(
            MEMBER,
            "insert into member (team_id, author, name, coach, profile, desk)
             values ($1, $2, $3, 0, $4, $5)
             on conflict (team_id, author) do update set version = member.version + 1
             returning id",
        );
        // Whoever was not expected may be now.
        self.seen.strangers.clear();
        let author = Member::expected_author(name);
        let (profile, state) = (
            as_json(&Profile::default())?,
            as_json(&MemberState::default())?,
        );
        let args = [
            team.id.0.into(),
            author.as_str().into(),
            name.into(),
            profile.as_str().into(),
            state.as_str().into(),
        ];
        let row = self.connection.returned(&MAKE, &args).await?;
        Ok(MemberId(row.get("id")?))
    }

    /// Takes out a member who never posted.
    pub(in crate::store) async fn unexpect(
        &mut self,
        team: &Team,
        member: MemberId,
    ) -> Result<(), StoreError> {
        const TAKE_OUT: Sql = Sql::both(
            MEMBER,
            concat!(
                "delete from member where team_id = $1 and id = $2
                       and not exists (select 1 from training_set
                                       where member_id = member.id and ",
                shown!(),
                ")"
            ),
        );
        let args = [team.id.0.into(), member.0.into()];
        self.connection.run_one(&TAKE_OUT, &args).await
    }

    async fn new_member(
        &mut self,
        team: &Team,
        author: &str,
        name: &str,
        coach: bool,
    ) -> Result<Member, StoreError> {
        // The update takes the lock of a row that another process made in between.
        const MAKE: Sql = Sql::both(
            MEMBER,
            "insert into member (team_id, author, name, coach, profile, desk)
             values ($1, $2, $3, $4, $5, $6)
             on conflict (team_id, author) do update
             set name = excluded.name, coach = excluded.coach, version = member.version + 1
             returning id, author, name, coach, profile, desk, condition, version",
        );
        let profile = Profile {
            since: self.erased(team, author).await?,
            ..Profile::default()
        };
        if let Some(stranger) = self.stranger(team, author) {
            let member = Member {
                id: MemberId(stranger.next_id),
                author: author.to_owned(),
                name: name.to_owned(),
                coach,
                profile,
                state: MemberState::default(),
                condition: None,
            };
            self.put_in_later(team, &member).await?;
            return Ok(member);
        }
        let profile = as_json(&profile)?;
        let state = as_json(&MemberState::default())?;
        let args = [
            team.id.0.into(),
            author.into(),
            name.into(),
            coach.into(),
            profile.as_str().into(),
            state.as_str().into(),
        ];
        let row = self.connection.returned(&MAKE, &args).await?;
        let member = member_of(&row)?;
        self.see_row(team, &member, &row)?;
        if row.get::<i64>("version")? == 0 {
            self.know_none_of(member.id);
        }
        Ok(member)
    }

    /// Has a new member put in with what is written next. For SQLite, where nobody else gives the id
    /// away.
    async fn put_in_later(&mut self, team: &Team, member: &Member) -> Result<(), StoreError> {
        const PUT_IN: Sql = Sql::both(
            MEMBER,
            "insert into member (id, team_id, author, name, coach, profile, desk, condition)
             values ($1, $2, $3, $4, $5, $6, $7, $8)",
        );
        let (profile, state) = (as_json(&member.profile)?, as_json(&member.state)?);
        let cells = cells(team.id, member, &profile, &state);
        self.connection.put_one(&PUT_IN, &cells).await?;
        self.see(team, member);
        self.seen.versions.insert(member.id, 0);
        self.know_none_of(member.id);
        Ok(())
    }

    /// Keeps that nothing hangs on a member's row: it was put in just now and is seen by nobody else.
    fn know_none_of(&mut self, member: MemberId) {
        self.sets.know_none_of(member);
        self.beliefs.know_none_of(member);
        self.bells.know_none_of(member);
        self.prescribed.know_none_of(member);
    }

    /// Stores name, role, profile, state and condition.
    pub(in crate::store) async fn put_member(
        &mut self,
        team: &Team,
        member: &Member,
    ) -> Result<(), StoreError> {
        const PUT: Sql = Sql::both(
            MEMBER,
            "update member
             set name = $4, coach = $5, profile = $6, desk = $7, condition = $8,
                 version = version + 1
             where id = $1 and team_id = $2 and author = $3",
        );
        if !self.was_read(team, member) {
            let (profile, state) = (as_json(&member.profile)?, as_json(&member.state)?);
            let cells = cells(team.id, member, &profile, &state);
            self.connection.run_one(&PUT, &cells).await?;
        }
        self.see(team, member);
        self.touch(team, member);
        Ok(())
    }

    /// Writes the members stored so far.
    pub(in crate::store) async fn write_members(&mut self) -> Result<(), StoreError> {
        // Their rows are all there: it is an update of several rows at once. The team stands in it
        // as the wall that it is everywhere.
        const PUT: Insert = Insert {
            table: MEMBER,
            columns: "id, team_id, author, name, coach, profile, desk, condition",
            again: " on conflict (id) do update
                    set name = excluded.name, coach = excluded.coach, profile = excluded.profile,
                        desk = excluded.desk, condition = excluded.condition,
                        version = member.version + 1
                    where member.team_id = excluded.team_id",
            may_leave: true,
        };
        let unwritten = std::mem::take(&mut self.seen.unwritten);
        let mut texts = Vec::with_capacity(unwritten.len());
        for key in unwritten.values() {
            if let Some(member) = self.seen.members.get(key) {
                let (profile, state) = (as_json(&member.profile)?, as_json(&member.state)?);
                texts.push((key.0, member, profile, state));
            }
        }
        let rows: Vec<_> = texts
            .iter()
            .map(|(team, member, profile, state)| cells(*team, member, profile, state))
            .collect();
        self.connection.insert(&PUT, &rows).await?;
        for member in unwritten.keys() {
            if let Some(version) = self.seen.versions.get_mut(member) {
                *version += 1;
            }
        }
        Ok(())
    }

    /// Sees to it that a write to something of this member's is counted in the member's row.
    pub(in crate::store) fn touch(&mut self, team: &Team, member: &Member) {
        if self.was_read(team, member) {
            let key = (team.id, member.author.clone());
            self.seen.unwritten.insert(member.id, key);
        } else {
            self.seen.touched.insert(member.id);
        }
    }

    /// The same where only the id is at hand.
    pub(in crate::store) fn touch_id(&mut self, member: MemberId) {
        self.seen.touched.insert(member);
    }

    /// Counts the writes to members whose rows are not written as a whole.
    pub(in crate::store) async fn write_touched(&mut self) -> Result<(), StoreError> {
        const COUNT: Sql = Sql::both(
            MEMBER,
            "update member set version = version + 1 where id = $1",
        );
        for member in std::mem::take(&mut self.seen.touched) {
            self.connection.put_one(&COUNT, &[member.0.into()]).await?;
            if let Some(version) = self.seen.versions.get_mut(&member) {
                *version += 1;
            }
        }
        Ok(())
    }

    /// Whether the member's row was read in this transaction: then it is sure to be there, and to
    /// stay as it is.
    fn was_read(&self, team: &Team, member: &Member) -> bool {
        let seen = self.seen.members.get(&(team.id, member.author.clone()));
        seen.is_some_and(|seen| seen.id == member.id) && self.seen.versions.contains_key(&member.id)
    }

    /// Stores the team's settings, if they are still those that this transaction read.
    pub(in crate::store) async fn put_settings(
        &mut self,
        team: &Team,
        settings: &TeamSettings,
    ) -> Result<(), StoreError> {
        const PUT: Sql = Sql::both(
            TEAM,
            "update team set settings = $3 where id = $1 and settings = $2",
        );
        let conflict = StoreError::Conflict { table: TEAM };
        let Some(known) = self.seen.teams.get_mut(&team.key) else {
            return Err(conflict);
        };
        let new = as_json(settings)?;
        let args = [
            team.id.0.into(),
            known.stored.as_str().into(),
            new.as_str().into(),
        ];
        if self.connection.run(&PUT, &args).await? != 1 {
            return Err(conflict);
        }
        settings.clone_into(&mut known.team.settings);
        known.stored = new;
        Ok(())
    }

    /// Forgets that a member was read, or is to be written.
    pub(in crate::store) fn invalidate(&mut self, team: &Team, member: &Member) {
        self.seen.members.remove(&(team.id, member.author.clone()));
        self.seen.unwritten.remove(&member.id);
        self.seen.versions.remove(&member.id);
        self.seen.touched.remove(&member.id);
    }

    /// Keeps how a member stands, as just read from this row.
    pub(in crate::store) fn see_row(
        &mut self,
        team: &Team,
        member: &Member,
        row: &Row,
    ) -> Result<(), StoreError> {
        self.see(team, member);
        let version = row.get("version")?;
        // Read once before, what is known of the member is this transaction's own.
        if self.seen.versions.insert(member.id, version).is_none() {
            self.recall(member.id, version);
        }
        Ok(())
    }

    /// Keeps how a member stands, as read or as just written.
    pub(in crate::store) fn see(&mut self, team: &Team, member: &Member) {
        let key = (team.id, member.author.clone());
        self.seen.strangers.remove(&key);
        self.seen.members.insert(key, member.clone());
    }
}

/// A member as cells of a row.
fn cells<'a>(team: TeamId, member: &'a Member, profile: &'a str, state: &'a str) -> [Arg<'a>; 8] {
    [
        member.id.0.into(),
        team.0.into(),
        member.author.as_str().into(),
        member.name.as_str().into(),
        member.coach.into(),
        profile.into(),
        state.into(),
        Arg::Bytes(member.condition.as_deref()),
    ]
}

/// The member in a row with all columns of a member.
pub(in crate::store) fn member_of(row: &Row) -> Result<Member, StoreError> {
    Ok(Member {
        id: MemberId(row.get("id")?),
        author: row.get("author")?,
        name: row.get("name")?,
        coach: row.flag("coach")?,
        profile: json::<Profile>(row, "profile")?,
        state: json::<MemberState>(row, "desk")?,
        condition: row.get("condition")?,
    })
}
