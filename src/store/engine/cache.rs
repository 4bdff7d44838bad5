//! What a process keeps at hand of teams and members from one transaction to the next, so that a member
//! in the middle of a session is not read anew for every set.
//!
//! It is never believed unchecked. A member's row holds the count of all writes to anything of the
//! member: a transaction that reads the row takes out what is cached only when the count is the
//! one that it was cached with. On SQLite one that begins with a message does not read the row,
//! either: it decides on what is cached, and its writes begin with a look whether all of that
//! still stands ([`Tx::recall_message`]). What is taken out is put back by the commit alone, so
//! nothing of a transaction that was taken back, or whose end is not known, can stay; and one that
//! was decided on what no longer stands is decided anew on what is read.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use crate::bot::state::Member;
use crate::domain::quantities::id::MemberId;
use crate::store::engine::Sql;
use crate::store::engine::batch::fails;
use crate::store::tables::teams::KnownTeam;
use crate::store::{Tx, beliefs, jobs, prescriptions, sets};

/// Members that are cached at most, some ten kilobytes each; and teams. Half of them are sure to be
/// those seen last.
const MOST: usize = 1000;

/// What is cached; shared by all who use the same store.
#[derive(Clone, Debug, Default)]
pub(in crate::store) struct Cache(Arc<Mutex<Generations>>);

/// Whoever is used is put to the young; once these are half of all, they become the old, and who was
/// old and not used since is forgotten.
#[derive(Debug, Default)]
struct Generations {
    young: Generation,
    old: Generation,
    /// The id of the next set.
    next_set: Option<i64>,
}

#[derive(Debug, Default)]
struct Generation {
    members: HashMap<MemberId, Cached>,
    /// Whose rows are cached, by the team's key and the author.
    rows: HashMap<String, HashMap<String, MemberId>>,
    teams: HashMap<String, KnownTeam>,
}

impl Generations {
    fn take(&mut self, member: MemberId) -> Option<Cached> {
        let young = self.young.members.remove(&member);
        young.or_else(|| self.old.members.remove(&member))
    }

    fn id(&self, team: &str, author: &str) -> Option<MemberId> {
        let mut both = [&self.young, &self.old].into_iter();
        both.find_map(|one| one.rows.get(team)?.get(author).copied())
    }

    fn team(&self, key: &str) -> Option<&KnownTeam> {
        self.young
            .teams
            .get(key)
            .or_else(|| self.old.teams.get(key))
    }

    /// The young, with room for one more.
    fn with_room(&mut self) -> &mut Generation {
        if self.young.members.len().max(self.young.teams.len()) >= MOST / 2 {
            self.old = std::mem::take(&mut self.young);
        }
        &mut self.young
    }

    fn put(&mut self, id: MemberId, cached: Cached) {
        // One that another transaction left meanwhile is no longer found.
        self.old.members.remove(&id);
        let young = self.with_room();
        if let Some((team, member)) = &cached.row {
            let of_team = young.rows.entry(team.clone()).or_default();
            of_team.insert(member.author.clone(), id);
        }
        young.members.insert(id, cached);
    }
}

/// What is cached of a member.
#[derive(Debug, Default)]
pub(in crate::store) struct Cached {
    /// How often anything of the member had been written.
    version: i64,
    sets: Option<sets::RecentSets>,
    beliefs: beliefs::OfMember,
    bell: Option<jobs::MaybeBell>,
    prescribed: prescriptions::OfMember,
    /// The row, and the key of its team.
    row: Option<(String, Member)>,
}

/// What a transaction leaves for later ones.
#[derive(Debug)]
pub(in crate::store) struct Left {
    members: Vec<(MemberId, Cached)>,
    teams: HashMap<String, KnownTeam>,
    next_set: Option<i64>,
}

/// A member as cached, with the team and the id of the next set.
struct AtHand {
    team: KnownTeam,
    member: Member,
    cached: Cached,
    next_set: i64,
}

impl Cache {
    fn generations(&self) -> MutexGuard<'_, Generations> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn take(&self, member: MemberId, version: i64) -> Option<Cached> {
        let cached = self.generations().take(member);
        cached.filter(|cached| cached.version == version)
    }

    /// Takes out a member by team and author.
    fn take_row(&self, team: &str, author: &str) -> Option<AtHand> {
        let mut generations = self.generations();
        let next_set = generations.next_set?;
        let team = generations.team(team)?.clone();
        let id = generations.id(&team.team.key, author)?;
        let mut cached = generations.take(id)?;
        let (_, member) = cached.row.take()?;
        Some(AtHand {
            team,
            member,
            cached,
            next_set,
        })
    }

    /// Puts back what a transaction left that is now committed.
    pub(in crate::store) fn put(&self, left: Left) {
        let mut generations = self.generations();
        for (id, cached) in left.members {
            generations.put(id, cached);
        }
        for (key, team) in left.teams {
            generations.with_room().teams.insert(key, team);
        }
        generations.next_set = left.next_set.or(generations.next_set);
    }
}

impl Tx {
    /// Takes up what is cached of a member whose row was just read, and on PostgreSQL locked.
    /// What was read of the member before that may have been changed in between, and is forgotten.
    pub(in crate::store) fn recall(&mut self, member: MemberId, version: i64) {
        let cached = self.cache.take(member, version).unwrap_or_default();
        self.take_up(member, cached);
    }

    fn take_up(&mut self, member: MemberId, cached: Cached) {
        self.sets.take_up(member, cached.sets);
        self.beliefs.take_up(member, cached.beliefs);
        self.bells.take_up(member, cached.bell);
        self.prescribed.take_up(member, cached.prescribed);
    }

    /// Takes up what is cached of who wrote a message that is believed to be new, without
    /// reading anything; whether anything is. Before the transaction's first write it is looked
    /// whether all of it still stands; where it does not, the transaction fails with a
    /// [conflict](crate::store::StoreError::is_conflict), and the next one finds nothing cached here.
    /// For SQLite, where nobody else writes from that look to the commit.
    pub(in crate::store) fn recall_message(&mut self, team: &str, id: &str, author: &str) -> bool {
        const STANDS: Sql = Sql::both(
            "member",
            concat!(
                "select ",
                fails!(),
                " where not exists (
                     select 1 from member join team on team.id = member.team_id
                     where member.id = $1 and version = $2 and author = $3
                           and team.id = $4 and key = $5 and settings = $6)
                   or exists (select 1 from event where team_id = $4 and id = $7)
                   or exists (select 1 from past_event
                              where team_id = $4 and kind = 0 and id = $7)
                   or $8 <> (select coalesce(max(seq), 0) + 1 from sqlite_sequence
                             where name = 'training_set')"
            ),
        );
        let Some(at_hand) = self.cache.take_row(team, author) else {
            return false;
        };
        let AtHand {
            team: known,
            member,
            cached,
            next_set,
        } = at_hand;
        let args = [
            member.id.0.into(),
            cached.version.into(),
            author.into(),
            known.team.id.0.into(),
            team.into(),
            known.stored.as_str().into(),
            id.into(),
            next_set.into(),
        ];
        self.connection.doubt(&STANDS, &args);
        self.events.know(&known.team, id, None);
        self.sets.may_give(next_set, false);
        self.see(&known.team, &member);
        self.see_known_team(known);
        self.seen.versions.insert(member.id, cached.version);
        self.take_up(member.id, cached);
        true
    }

    /// What is to be cached once this transaction is committed: of the members whose rows it
    /// read, and of the teams.
    pub(in crate::store) fn leave(&mut self) -> Left {
        // Rows and teams are of use to [`Tx::recall_message`] alone.
        let (mut rows, teams) = if self.connection.is_postgres() {
            (HashMap::new(), HashMap::new())
        } else {
            (self.rows_to_leave(), self.leave_teams())
        };
        let members = std::mem::take(&mut self.seen.versions);
        let members = members.into_iter().map(|(member, version)| {
            let cached = Cached {
                version,
                sets: self.sets.leave(member),
                beliefs: self.beliefs.leave(member),
                bell: self.bells.leave(member),
                prescribed: self.prescribed.leave(member),
                row: rows.remove(&member),
            };
            (member, cached)
        });
        Left {
            members: members.collect(),
            teams,
            next_set: self.sets.next,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn leave(cache: &Cache, member: i64) {
        let cached = Cached {
            version: member,
            ..Cached::default()
        };
        cache.put(Left {
            members: vec![(MemberId(member), cached)],
            teams: HashMap::new(),
            next_set: None,
        });
    }

    #[test]
    fn those_seen_last_are_remembered_and_no_more_than_there_is_room_for() {
        let cache = Cache::default();
        let many = i64::try_from(5 * MOST / 2).expect("a small number");
        let half = i64::try_from(MOST / 2).expect("a small number");
        for member in 1..=many {
            leave(&cache, member);
            // One who is in the middle of a session.
            assert!(cache.take(MemberId(0), 0).is_some() || member == 1);
            leave(&cache, 0);
        }
        let generations = cache.generations();
        let held = generations.young.members.len() + generations.old.members.len();
        assert!(held <= MOST, "{held}");
        drop(generations);
        for member in many - half + 2..=many {
            assert!(cache.take(MemberId(member), member).is_some(), "{member}");
        }
        assert!(cache.take(MemberId(1), 1).is_none());
        // What was written since is not believed.
        assert!(cache.take(MemberId(0), 1).is_none());
    }
}
