//! Channels of direct messages: whose they are and how far they were read. A member who is erased takes
//! them along.

use crate::store::Tx;
use crate::store::engine::Sql;
use crate::store::error::StoreError;

const DIRECT: &str = "discord_direct";

/// A channel in which one member and the bot write to each other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DirectChannel {
    /// Its id.
    pub id: u64,
    /// The key of the team that it speaks to.
    pub team: String,
    /// The member, as the platform names them.
    pub author: String,
    /// They lead that team.
    pub coach: bool,
    /// Messages up to this one were worked on.
    pub cursor: u64,
}

impl Tx {
    /// All channels of direct messages, each with the team that its member joined last.
    pub async fn direct_channels(&mut self) -> Result<Vec<DirectChannel>, StoreError> {
        const ALL: Sql = Sql::both(
            DIRECT,
            "select direct.id as id, team.key as key, member.author as author, member.coach as coach,
                    direct.read_to as read_to
             from discord_direct direct join member own on own.id = direct.member_id
             join member on member.author = own.author
             join team on team.id = member.team_id
             where team.key like 'discord:%' order by direct.id, member.id",
        );
        let rows = self.connection.rows(&ALL, &[]).await?;
        let mut all: Vec<DirectChannel> = Vec::with_capacity(rows.len());
        for row in &rows {
            let one = DirectChannel {
                id: row.get::<i64>("id")?.cast_unsigned(),
                team: row.get("key")?,
                author: row.get("author")?,
                coach: row.get::<i64>("coach")? != 0,
                cursor: row.get::<i64>("read_to")?.cast_unsigned(),
            };
            match all.last_mut().filter(|last| last.id == one.id) {
                Some(last) => *last = one,
                None => all.push(one),
            }
        }
        Ok(all)
    }

    /// Keeps a channel of direct messages and how far it was read, which only moves forward; the team is the one
    /// that was named last. Nothing happens where the team has no such member.
    pub async fn keep_direct(&mut self, channel: &DirectChannel) -> Result<(), StoreError> {
        const KEEP: Sql = Sql::both(
            DIRECT,
            "insert into discord_direct (id, member_id, read_to)
             select $1, member.id, $2 from member join team on team.id = member.team_id
             where team.key = $3 and member.author = $4
             on conflict (id) do update set member_id = excluded.member_id,
                 read_to = case when discord_direct.read_to < excluded.read_to
                           then excluded.read_to else discord_direct.read_to end",
        );
        let args = [
            channel.id.cast_signed().into(),
            channel.cursor.cast_signed().into(),
            channel.team.as_str().into(),
            channel.author.as_str().into(),
        ];
        self.connection.run(&KEEP, &args).await.map(drop)
    }
}
