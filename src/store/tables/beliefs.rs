//! What is believed about a member and an exercise, as encoded by the domain.

use std::collections::BTreeMap;

use crate::bot::state::Member;
use crate::domain::quantities::id::MemberId;
use crate::store::engine::{Arg, Insert, Row, Sql};
use crate::store::error::StoreError;
use crate::store::{Tx, as_json, id_list};

const BELIEF: &str = "belief";

/// The beliefs that a transaction has read or is to write, by member and exercise.
#[derive(Debug, Default)]
pub(in crate::store) struct BeliefCache(BTreeMap<MemberId, OfMember>);

/// A member's.
#[derive(Debug, Default)]
pub(in crate::store) struct OfMember {
    by_exercise: BTreeMap<String, Belief>,
    /// The table holds none but these.
    is_whole: bool,
}

impl BeliefCache {
    /// Takes up what an earlier transaction left, in place of what is known and not to be written.
    pub(in crate::store) fn take_up(&mut self, member: MemberId, mut beliefs: OfMember) {
        let known = self.0.remove(&member).unwrap_or_default().by_exercise;
        let unwritten = known.into_iter().filter(|(_, belief)| !belief.written);
        beliefs.by_exercise.extend(unwritten);
        self.0.insert(member, beliefs);
    }

    /// Keeps all that is believed of a member, as just read.
    pub(in crate::store) fn know(
        &mut self,
        member: MemberId,
        rows: &[Row],
    ) -> Result<(), StoreError> {
        let known = self.0.entry(member).or_default();
        for row in rows {
            let belief = Belief {
                state: Some(row.get("state")?),
                written: true,
            };
            let exercise = row.get("exercise")?;
            known.by_exercise.entry(exercise).or_insert(belief);
        }
        known.is_whole = true;
        Ok(())
    }

    /// Keeps that nothing is believed of a member.
    pub(in crate::store) fn know_none_of(&mut self, member: MemberId) {
        self.0.entry(member).or_default().is_whole = true;
    }

    /// Leaves it for a later transaction.
    pub(in crate::store) fn leave(&mut self, member: MemberId) -> OfMember {
        self.0.remove(&member).unwrap_or_default()
    }
}

/// All beliefs about a member.
pub(in crate::store) const BELIEFS: Sql = Sql::both(
    BELIEF,
    "select exercise, state from belief where member_id = $1 order by exercise",
);

/// One of them.
#[derive(Debug)]
pub(in crate::store) struct Belief {
    /// `None`: there is none.
    state: Option<Vec<u8>>,
    /// Whether the table holds it.
    written: bool,
}

impl Tx {
    /// The stored beliefs about these exercises, by name, in the order of the names; those that
    /// have none are left out.
    pub async fn beliefs(
        &mut self,
        member: &Member,
        exercises: &[&str],
    ) -> Result<Vec<(String, Vec<u8>)>, StoreError> {
        self.read_beliefs(member, exercises).await?;
        let known = &self.beliefs.0.entry(member.id).or_default().by_exercise;
        let found = exercises.iter().filter_map(|&name| {
            let state = known.get(name)?.state.clone()?;
            Some((name.to_owned(), state))
        });
        Ok(found.collect())
    }

    /// All stored beliefs about a member, by exercise.
    pub async fn beliefs_all(
        &mut self,
        member: &Member,
    ) -> Result<Vec<(String, Vec<u8>)>, StoreError> {
        self.write_beliefs().await?;
        let rows = self
            .connection
            .rows(&BELIEFS, &[member.id.0.into()])
            .await?;
        let belief = |row: &Row| Ok((row.get("exercise")?, row.get("state")?));
        rows.iter().map(belief).collect()
    }

    /// The stored beliefs about these members, by member, then exercise: those about these exercises.
    pub async fn beliefs_of(
        &mut self,
        members: &[MemberId],
        exercises: &[&str],
    ) -> Result<BTreeMap<MemberId, Vec<(String, Vec<u8>)>>, StoreError> {
        const OF_MEMBERS: Sql = Sql::either(
            BELIEF,
            "select member_id, exercise, state from belief
             where member_id in (select value from json_each($1))
                   and exercise in (select value from json_each($2))
             order by member_id, exercise",
            "select member_id, exercise, state from belief
             where member_id = any (array(select json_array_elements_text($1::json)::bigint))
                   and exercise = any (array(select json_array_elements_text($2::json)))
             order by member_id, exercise",
        );
        self.write_beliefs().await?;
        let (members, exercises) = (id_list(members)?, as_json(&exercises)?);
        let args = [members.as_str().into(), exercises.as_str().into()];
        let rows = self.connection.rows(&OF_MEMBERS, &args).await?;
        let mut beliefs: BTreeMap<MemberId, Vec<(String, Vec<u8>)>> = BTreeMap::new();
        for row in &rows {
            let of_member = beliefs.entry(MemberId(row.get("member_id")?)).or_default();
            of_member.push((row.get("exercise")?, row.get("state")?));
        }
        Ok(beliefs)
    }

    async fn read_beliefs(&mut self, member: &Member, names: &[&str]) -> Result<(), StoreError> {
        const FIND: Sql = Sql::either(
            BELIEF,
            "select exercise, state from belief
             where member_id = $1 and exercise in (select value from json_each($2))",
            "select exercise, state from belief
             where member_id = $1
                   and exercise = any (array(select json_array_elements_text($2::json)))",
        );
        let OfMember {
            by_exercise: known,
            is_whole,
        } = self.beliefs.0.entry(member.id).or_default();
        let mut names = names.to_vec();
        names.retain(|&name| !known.contains_key(name));
        if names.is_empty() || *is_whole {
            return Ok(());
        }
        let list = as_json(&names)?;
        let args = [member.id.0.into(), list.as_str().into()];
        let rows = self.connection.rows(&FIND, &args).await?;
        let belief = |state| Belief {
            state,
            written: true,
        };
        known.extend(names.iter().map(|&name| (name.to_owned(), belief(None))));
        for row in &rows {
            let state = row.get("state")?;
            known.insert(row.get("exercise")?, belief(Some(state)));
        }
        Ok(())
    }

    /// Stores a belief; `None` takes it out, if there is one.
    pub(in crate::store) fn put_belief(
        &mut self,
        member: &Member,
        exercise: &str,
        state: Option<&[u8]>,
    ) {
        let belief = Belief {
            state: state.map(<[u8]>::to_vec),
            written: false,
        };
        let known = self.beliefs.0.entry(member.id).or_default();
        known.by_exercise.insert(exercise.to_owned(), belief);
    }

    /// Writes the beliefs stored so far.
    pub(in crate::store) async fn write_beliefs(&mut self) -> Result<(), StoreError> {
        const PUT: Insert = Insert {
            table: BELIEF,
            columns: "member_id, exercise, state",
            again: " on conflict (member_id, exercise) do update set state = excluded.state",
            may_leave: false,
        };
        const DROP: Sql = Sql::both(
            BELIEF,
            "delete from belief where member_id = $1 and exercise = $2",
        );
        let mut rows: Vec<[Arg; 3]> = Vec::new();
        for (member, beliefs) in &self.beliefs.0 {
            let unwritten = |(_, belief): &(&String, &Belief)| !belief.written;
            for (exercise, belief) in beliefs.by_exercise.iter().filter(unwritten) {
                let (member, exercise) = (member.0.into(), exercise.as_str().into());
                match &belief.state {
                    None => self.connection.put(&DROP, &[member, exercise]).await?,
                    Some(state) => rows.push([member, exercise, state.as_slice().into()]),
                }
            }
        }
        self.connection.insert(&PUT, &rows).await?;
        for beliefs in self.beliefs.0.values_mut() {
            for belief in beliefs.by_exercise.values_mut() {
                belief.written = true;
            }
        }
        Ok(())
    }
}
