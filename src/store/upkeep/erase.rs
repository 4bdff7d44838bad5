//! A member taken out of every table, and kept from coming back by old messages.
//!
//! Messages that were worked on stay known by their ids, as nobody's, so that a history that is read
//! once more files nothing of them. Messages that were not are told by their time: of whom everything
//! was erased, and when, is kept in a form from which the name does not follow.

use chrono::{DateTime, Utc};
use sha2::{Digest as _, Sha256};

use crate::bot::state::{Member, Team};
use crate::store::engine::Sql;
use crate::store::error::StoreError;
use crate::store::{Tx, as_json, instant, millis};

const ERASED: &str = "erased";

impl Tx {
    /// When everything of this author was last erased; `None` where it never was.
    pub async fn erased(
        &mut self,
        team: &Team,
        author: &str,
    ) -> Result<Option<DateTime<Utc>>, StoreError> {
        const FIND: Sql = Sql::both(
            ERASED,
            "select author as key, at_ms from erased where team_id = $1 and author = $2",
        );
        if let Some(stranger) = self.stranger(team, author) {
            return Ok(stranger.erased);
        }
        let digest = digest(&team.key, author);
        let args = [team.id.0.into(), digest.as_str().into()];
        let row = self.connection.row(&FIND, &args).await?;
        row.map(|row| instant(&row, "at_ms")).transpose()
    }

    /// Erases everything of a member. What was answered to coaches, since it may tell of anybody, and
    /// what names the member in an answer to another is emptied after the commit, some at a time
    /// ([`Store::empty_answers`](crate::store::Store::empty_answers)): nobody waits for that.
    pub(in crate::store) async fn erase(
        &mut self,
        team: &Team,
        member: &Member,
        at: DateTime<Utc>,
    ) -> Result<(), StoreError> {
        const OWN: Sql = Sql::both(
            "event",
            "update event set author = '', channel = '', at_ms = 0, outcome = '[]'
             where team_id = $1 and author = $2",
        );
        const OWN_REQUESTS: Sql = Sql::both(
            "response",
            "update response set author = '', at_ms = 0, outcome = '[]'
             where team_id = $1 and author = $2",
        );
        // Sets, beliefs, prescriptions and jobs hang on it.
        const MEMBER: Sql = Sql::both(
            "member",
            "delete from member where team_id = $1 and id = $2",
        );
        const MARK: Sql = Sql::both(
            ERASED,
            "insert into erased (team_id, author, at_ms) values ($1, $2, $3)
             on conflict (team_id, author) do update set at_ms = excluded.at_ms",
        );
        const ANSWERS: Sql = Sql::both(
            "erasing",
            "insert into erasing (team_id, author, name, before_ms) values ($1, $2, $3, $4)
             on conflict (team_id, author)
             do update set name = excluded.name, before_ms = excluded.before_ms",
        );
        self.write().await?;
        let team_id = team.id.0.into();
        let own = [team_id, member.author.as_str().into()];
        self.connection.run(&OWN, &own).await?;
        self.connection.run(&OWN_REQUESTS, &own).await?;
        let (author, name) = (in_json(&member.author)?, in_json(&member.name)?);
        self.forget_unsent(team, [&author, &name]).await?;
        let whom = [team_id, member.id.0.into()];
        self.connection.run_one(&MEMBER, &whom).await?;
        let digest = digest(&team.key, &member.author);
        let mark = [team_id, digest.as_str().into(), millis(at).into()];
        self.connection.run_one(&MARK, &mark).await?;
        let (author, name) = (member.author.as_str(), member.name.as_str());
        let answers = [team_id, author.into(), name.into(), millis(at).into()];
        self.connection.run_one(&ANSWERS, &answers).await?;
        self.has_erased = true;
        self.invalidate(team, member);
        self.invalidate_events(team);
        self.sets.take_up(member.id, None);
        drop(self.beliefs.leave(member.id));
        drop(self.bells.leave(member.id));
        drop(self.prescribed.leave(member.id));
        Ok(())
    }
}

/// A text as it stands inside a JSON string.
pub(in crate::store) fn in_json(text: &str) -> Result<String, StoreError> {
    let quoted = as_json(&text)?;
    Ok(quoted.trim_matches('"').to_owned())
}

/// Names an author of a team without telling who it is.
pub(in crate::store) fn digest(team: &str, author: &str) -> String {
    let mut digest = Sha256::new();
    digest.update(team.as_bytes());
    digest.update([0]);
    digest.update(author.as_bytes());
    let bytes = digest.finalize();
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
