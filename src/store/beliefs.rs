//! What is believed about a member and an exercise, as encoded by the domain.

use super::Tx;
use super::engine::{Arg, Sql};
use super::error::StoreError;
use crate::bot::state::Member;

const BELIEF: &str = "belief";

impl Tx {
    /// The stored beliefs about these exercises, by name, in the order of the names; those that
    /// have none are left out.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn beliefs(
        &mut self,
        member: &Member,
        exercises: &[&str],
    ) -> Result<Vec<(String, Vec<u8>)>, StoreError> {
        // Eight names a statement: one text for both engines, which have no list type in common.
        const FIND: Sql = Sql::both(
            BELIEF,
            "select exercise, state from belief
             where member_id = $1 and exercise in ($2, $3, $4, $5, $6, $7, $8, $9)",
        );
        let mut found: Vec<(String, Vec<u8>)> = Vec::with_capacity(exercises.len());
        for some in exercises.chunks(8) {
            let mut args = [Arg::Text(None); 9];
            args[0] = member.id.0.into();
            for (arg, &name) in args.iter_mut().skip(1).zip(some) {
                *arg = name.into();
            }
            for row in self.connection.rows(&FIND, &args).await? {
                found.push((row.get("exercise")?, row.get("state")?));
            }
        }
        found.sort_by_key(|(name, _)| exercises.iter().position(|exercise| exercise == name));
        Ok(found)
    }

    /// Stores a belief; `None` takes it out, if there is one.
    pub(super) async fn put_belief(
        &mut self,
        member: &Member,
        exercise: &str,
        state: Option<&[u8]>,
    ) -> Result<(), StoreError> {
        const PUT: Sql = Sql::both(
            BELIEF,
            "insert into belief (member_id, exercise, state) values ($1, $2, $3)
             on conflict (member_id, exercise) do update set state = excluded.state",
        );
        const DROP: Sql = Sql::both(
            BELIEF,
            "delete from belief where member_id = $1 and exercise = $2",
        );
        let args = [member.id.0.into(), exercise.into()];
        match state {
            Some(state) => {
                let [member, exercise] = args;
                let args = [member, exercise, state.into()];
                self.connection.run_one(&PUT, &args).await
            }
            None => self.connection.run(&DROP, &args).await.map(drop),
        }
    }
}
