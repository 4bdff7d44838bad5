//! What the team-channel adapter keeps: bound channels and how far they were read, roles, where
//! each reply was posted, which changes of messages were taken over, and the commands last
//! registered.
//!
//! Ids of the platform are whole numbers here. None of this is needed to rebuild a log.

use std::collections::HashMap;

use chrono::{DateTime, Utc};

use crate::bot::state::Team;
use crate::store::engine::{Arg, Insert, Row, Sql};
use crate::store::error::StoreError;
use crate::store::{Tx, as_json, instant, json, millis};

const CHANNEL: &str = "discord_channel";
const GUILD: &str = "discord_guild";
const POST: &str = "discord_post";
const COMMANDS: &str = "discord_commands";
const EDIT: &str = "discord_edit";

/// A channel whose messages are read, or a thread of one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoundChannel {
    /// Its id.
    pub id: u64,
    /// The community that it belongs to.
    pub guild: u64,
    /// The bound channel that it is a thread of.
    pub parent: Option<u64>,
    /// Its name, for people.
    pub name: String,
    /// Messages up to this one were worked on.
    pub cursor: u64,
}

/// A community and who leads in it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Community {
    /// Its id.
    pub id: u64,
    /// Members with this role are coaches.
    pub coach_role: Option<u64>,
    /// Members whom the platform lets manage the community, as last seen.
    pub managers: Vec<u64>,
}

/// Where a reply stands, or stood.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Posted {
    /// The reply.
    pub reply: String,
    /// The channel that it stands in.
    pub channel: u64,
    /// The message that it is.
    pub message: u64,
    /// The row of the outbox whose text it shows; 0 where that is not known.
    pub sent: i64,
    /// It was taken back.
    pub gone: bool,
}

impl Tx {
    /// All bound channels and their threads.
    pub async fn bound_channels(&mut self) -> Result<Vec<BoundChannel>, StoreError> {
        const ALL: Sql = Sql::both(
            CHANNEL,
            "select id, guild, parent, name, read_to from discord_channel order by id",
        );
        let rows = self.connection.rows(&ALL, &[]).await?;
        let one = |row: &Row| {
            Ok(BoundChannel {
                id: id(row, "id")?,
                guild: id(row, "guild")?,
                parent: some_id(row, "parent")?,
                name: row.get("name")?,
                cursor: id(row, "read_to")?,
            })
        };
        rows.iter().map(one).collect()
    }

    /// Binds a channel or thread, or brings its name up to date; how far it was read stays.
    pub async fn bind_channel(&mut self, channel: &BoundChannel) -> Result<(), StoreError> {
        const BIND: Sql = Sql::both(
            CHANNEL,
            "insert into discord_channel (id, guild, parent, name, read_to)
             values ($1, $2, $3, $4, $5)
             on conflict (id) do update set name = excluded.name, parent = excluded.parent",
        );
        let args = [
            channel.id.cast_signed().into(),
            channel.guild.cast_signed().into(),
            Arg::Int(channel.parent.map(u64::cast_signed)),
            channel.name.as_str().into(),
            channel.cursor.cast_signed().into(),
        ];
        self.connection.run_one(&BIND, &args).await
    }

    /// Takes a channel and its threads out; whether it was bound.
    pub async fn unbind_channel(&mut self, channel: u64) -> Result<bool, StoreError> {
        const UNBIND: Sql = Sql::both(
            CHANNEL,
            "delete from discord_channel where id = $1 or parent = $1",
        );
        let args = [channel.cast_signed().into()];
        Ok(self.connection.run(&UNBIND, &args).await? > 0)
    }

    /// Messages of this channel up to this one were worked on.
    pub async fn read_to(&mut self, channel: u64, message: u64) -> Result<(), StoreError> {
        const READ: Sql = Sql::both(
            CHANNEL,
            "update discord_channel set read_to = $2 where id = $1 and read_to < $2",
        );
        let args = [channel.cast_signed().into(), message.cast_signed().into()];
        self.connection.put(&READ, &args).await
    }

    /// All communities with a role or a manager known.
    pub async fn communities(&mut self) -> Result<Vec<Community>, StoreError> {
        const ALL: Sql = Sql::both(GUILD, "select id, coach_role, managers from discord_guild");
        let rows = self.connection.rows(&ALL, &[]).await?;
        let one = |row: &Row| {
            Ok(Community {
                id: id(row, "id")?,
                coach_role: some_id(row, "coach_role")?,
                managers: json(row, "managers")?,
            })
        };
        rows.iter().map(one).collect()
    }

    /// Stores who leads in a community.
    pub async fn put_community(&mut self, community: &Community) -> Result<(), StoreError> {
        const PUT: Sql = Sql::both(
            GUILD,
            "insert into discord_guild (id, coach_role, managers) values ($1, $2, $3)
             on conflict (id) do update
             set coach_role = excluded.coach_role, managers = excluded.managers",
        );
        let managers = as_json(&community.managers)?;
        let args = [
            community.id.cast_signed().into(),
            Arg::Int(community.coach_role.map(u64::cast_signed)),
            managers.as_str().into(),
        ];
        self.connection.run_one(&PUT, &args).await
    }

    /// Where this reply of the team stands.
    pub async fn posted(&mut self, team: &Team, reply: &str) -> Result<Option<Posted>, StoreError> {
        const FIND: Sql = Sql::both(
            POST,
            "select reply, channel, message, sent from discord_post
             where team_id = $1 and reply = $2",
        );
        let args = [team.id.0.into(), reply.into()];
        let row = self.connection.row(&FIND, &args).await?;
        row.as_ref().map(posted_of).transpose()
    }

    /// The reply of the team that this message is.
    pub async fn reply_at(
        &mut self,
        team: &Team,
        message: u64,
    ) -> Result<Option<Posted>, StoreError> {
        const FIND: Sql = Sql::both(
            POST,
            "select reply, channel, message, sent from discord_post
             where team_id = $1 and message = $2",
        );
        let args = [team.id.0.into(), message.cast_signed().into()];
        let row = self.connection.row(&FIND, &args).await?;
        row.as_ref().map(posted_of).transpose()
    }

    /// Replies of the team were posted, changed or taken back; none is among them twice.
    pub async fn put_posted(&mut self, team: &Team, posted: &[Posted]) -> Result<(), StoreError> {
        const PUT: Insert = Insert {
            table: POST,
            columns: "team_id, reply, channel, message, sent",
            again: " on conflict (team_id, reply) do update
                    set channel = excluded.channel, message = excluded.message,
                        sent = excluded.sent",
            may_leave: false,
        };
        let cells = posted.iter().map(|one| {
            let (channel, message) = (one.channel.cast_signed(), one.message.cast_signed());
            let message = if one.gone { -message } else { message };
            [
                Arg::from(team.id.0),
                one.reply.as_str().into(),
                channel.into(),
                message.into(),
                one.sent.into(),
            ]
        });
        let rows: Vec<_> = cells.collect();
        self.connection.insert(&PUT, &rows).await
    }

    /// Forgets where replies stand whose messages' ids are lower than the newest by more than
    /// `span`: nobody presses buttons that old. (A server of one's own may give out ids that tell no
    /// time, so they are held against each other.)
    pub async fn forget_posted(&mut self, span: u64) -> Result<u64, StoreError> {
        const FORGET: Sql = Sql::both(
            POST,
            "delete from discord_post
             where abs(message) < (select max(message) from discord_post) - $1",
        );
        self.connection
            .run(&FORGET, &[span.cast_signed().into()])
            .await
    }

    /// The messages of the team in this channel that were answered and have an author still, after
    /// `after` up to `up_to`.
    pub async fn answered_in(
        &mut self,
        team: &Team,
        channel: u64,
        (after, up_to): (u64, u64),
    ) -> Result<Vec<u64>, StoreError> {
        // Ids are texts there; those of one length are in the order of their numbers.
        const FIND: Sql = Sql::both(
            "event",
            "select id from event
             where team_id = $1 and channel = $2 and author <> ''
                   and id > $3 and id <= $4 and length(id) = length($4)
             order by id",
        );
        let [channel, up_to] = [channel, up_to].map(|id| id.to_string());
        let after = format!("{after:0>width$}", width = up_to.len());
        let args = [
            team.id.0.into(),
            channel.as_str().into(),
            after.as_str().into(),
            up_to.as_str().into(),
        ];
        let rows = self.connection.rows(&FIND, &args).await?;
        let mut found = Vec::with_capacity(rows.len());
        for row in &rows {
            // What is no number is no message of the platform's.
            found.extend(row.get::<&str>("id")?.parse::<u64>());
        }
        Ok(found)
    }

    /// When the messages of the team from this one on were last changed, as far as that was taken
    /// over.
    pub async fn edits_since(
        &mut self,
        team: &Team,
        message: u64,
    ) -> Result<HashMap<u64, DateTime<Utc>>, StoreError> {
        const FIND: Sql = Sql::both(
            EDIT,
            "select message, at_ms from discord_edit where team_id = $1 and message >= $2",
        );
        let args = [team.id.0.into(), message.cast_signed().into()];
        let rows = self.connection.rows(&FIND, &args).await?;
        let one = |row: &Row| Ok((id(row, "message")?, instant(row, "at_ms")?));
        rows.iter().map(one).collect()
    }

    /// A message's change of this moment was taken over.
    pub async fn took_edit(
        &mut self,
        team: &Team,
        message: u64,
        at: DateTime<Utc>,
    ) -> Result<(), StoreError> {
        const PUT: Sql = Sql::both(
            EDIT,
            "insert into discord_edit (team_id, message, at_ms) values ($1, $2, $3)
             on conflict (team_id, message) do update set at_ms = excluded.at_ms",
        );
        let args = [
            team.id.0.into(),
            message.cast_signed().into(),
            millis(at).into(),
        ];
        self.connection.put(&PUT, &args).await
    }

    /// Forgets the changes of messages whose ids are lower than the newest by more than `span`.
    pub async fn forget_edits(&mut self, span: u64) -> Result<u64, StoreError> {
        const FORGET: Sql = Sql::both(
            EDIT,
            "delete from discord_edit where message < (select max(message) from discord_edit) - $1",
        );
        self.connection
            .run(&FORGET, &[span.cast_signed().into()])
            .await
    }

    /// The commands last registered for this application.
    pub async fn registered(&mut self, application: u64) -> Result<Option<String>, StoreError> {
        const FIND: Sql = Sql::both(
            COMMANDS,
            "select digest from discord_commands where application = $1",
        );
        let row = self
            .connection
            .row(&FIND, &[application.cast_signed().into()])
            .await?;
        row.map(|row| row.get("digest")).transpose()
    }

    /// Commands were registered for this application.
    pub async fn put_registered(
        &mut self,
        application: u64,
        digest: &str,
    ) -> Result<(), StoreError> {
        const PUT: Sql = Sql::both(
            COMMANDS,
            "insert into discord_commands (application, digest) values ($1, $2)
             on conflict (application) do update set digest = excluded.digest",
        );
        let args = [application.cast_signed().into(), digest.into()];
        self.connection.run_one(&PUT, &args).await
    }

    /// The teams that this author is a member of, by key, the latest to join last.
    pub async fn teams_of(&mut self, author: &str) -> Result<Vec<String>, StoreError> {
        const FIND: Sql = Sql::both(
            "member",
            "select team.key as key from member join team on team.id = member.team_id
             where member.author = $1 order by member.id",
        );
        let rows = self.connection.rows(&FIND, &[author.into()]).await?;
        rows.iter().map(|row| row.get("key")).collect()
    }
}

fn posted_of(row: &Row) -> Result<Posted, StoreError> {
    let message: i64 = row.get("message")?;
    Ok(Posted {
        reply: row.get("reply")?,
        channel: id(row, "channel")?,
        message: message.unsigned_abs(),
        sent: row.get("sent")?,
        gone: message < 0,
    })
}

fn id(row: &Row, column: &'static str) -> Result<u64, StoreError> {
    Ok(row.get::<i64>(column)?.cast_unsigned())
}

fn some_id(row: &Row, column: &'static str) -> Result<Option<u64>, StoreError> {
    Ok(row.get::<Option<i64>>(column)?.map(i64::cast_unsigned))
}
