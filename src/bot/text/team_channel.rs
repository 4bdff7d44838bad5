//! What is said in a team channel about the channel itself.

/// Said to a button of a reply that is not known any more.
pub const OLD_BUTTON: &str =
    "That button is too old to work. Nothing was changed. Say it in words instead, like `undo`.";

/// Said where a command changed what stands in the channel and has no answer of its own.
pub const DONE: &str = "Done.";

/// Said when something went wrong in here.
pub const FAULT: &str =
    "That did not work because of a fault on my side. Nothing was changed. Try it again.";

/// Said when a form would have opened, but what had to be known first took too long.
pub const TOO_SLOW: &str =
    "I took too long to open the form. Nothing was changed. Give the command again.";

/// Said to somebody who writes in private and is in no team.
pub const NO_TEAM: &str =
    "I don't know you from any team yet. Post a set in your team's channel once, then ask me here.";

/// Said to a member who is not let do that.
pub const MANAGERS_ONLY: &str = "Only the team's coaches and those who manage this community can do that. Nothing was changed. Ask one of them.";

/// Said to commands for a community, given in private.
pub const NOT_IN_PRIVATE: &str =
    "That command works in the team's channel only. Nothing was changed. Give it there.";

/// Said to somebody who writes faster than anybody lifts.
pub const TOO_FAST: &str = "That was more at once than I take from one member. Nothing after the first 60 messages was logged. Post those again in a minute.";

/// Said to the coach when a channel is bound.
pub const BOUND: &str = "From now on I read sets in this channel and its threads. Members just post them, like `bench 80x10, 2 left`.";

/// Said when a channel is let go.
pub const UNBOUND: &str = "I no longer read that channel. What was logged stays.";

/// Said when that channel was not bound.
pub const NOT_BOUND: &str = "I was not reading that channel, so nothing was changed.";

/// Said when the coaches' role is set.
pub const COACH_ROLE_SET: &str =
    "Members with that role are coaches now. Those who manage this community stay coaches too.";

/// Said where a file that came with a command cannot be had or is no text.
pub const FILE_UNREAD: &str = "I could not read that file. Attach a text file of at most one megabyte, or leave the file out and paste the text into the form that opens. Nothing was changed.";

/// The title of the form for a plan.
pub const PLAN_TITLE: &str = "Write the plan";
/// The label of its field.
pub const PLAN_LABEL: &str = "One line a day";
/// What stands in it at first.
pub const PLAN_HINT: &str = "mon: back squat 4x6-10 2rir; leg curl 3x10-15 1rir";
/// The title of the form for a log kept elsewhere.
pub const LOG_TITLE: &str = "Take over a log";
/// The label of its field.
pub const LOG_LABEL: &str = "The names of the columns, then a set a line";
/// What stands in it at first.
pub const LOG_HINT: &str = "member,date,exercise,load,reps,left";

/// What was taken over from the time of an outage, messages.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Meanwhile {
    /// Filed.
    pub filed: usize,
    /// Not understood.
    pub questions: usize,
    /// Filed before, and changed meanwhile.
    pub changed: usize,
    /// Filed before, and taken away meanwhile.
    pub removed: usize,
    /// Answered although it is late: reports of pain.
    pub pain: usize,
}

impl Meanwhile {
    /// Whether there is nothing to tell.
    pub const fn is_nothing(&self) -> bool {
        self.filed + self.questions + self.changed + self.removed + self.pain == 0
    }
}

/// Goes before an answer to pain that comes late.
pub fn read_late(text: &str) -> String {
    format!("I was away and read this only now. {text}")
}

/// The one line after an outage.
pub fn caught_up(meanwhile: &Meanwhile) -> String {
    let mut text = "I was away.".to_owned();
    match meanwhile.pain {
        0 => {}
        1 => text.push_str(" One message may tell of pain: look there first."),
        n => text.push_str(&format!(
            " {n} messages may tell of pain: look there first."
        )),
    }
    match meanwhile.filed {
        0 => {}
        1 => text.push_str(" I logged one message that came meanwhile."),
        n => text.push_str(&format!(" I logged {n} messages that came meanwhile.")),
    }
    match meanwhile.changed {
        0 => {}
        1 => text.push_str(" One older post was edited; I corrected it."),
        n => text.push_str(&format!(" {n} older posts were edited; I corrected them.")),
    }
    match meanwhile.removed {
        0 => {}
        1 => text.push_str(" One older post was deleted; I took it out."),
        n => text.push_str(&format!(" {n} older posts were deleted; I took them out.")),
    }
    match meanwhile.questions {
        0 => {}
        1 => text.push_str(" I did not understand one. It is marked ❓: edit it or post it again."),
        n => text.push_str(&format!(
            " I did not understand {n}. They are marked ❓: edit them or post them again."
        )),
    }
    text
}

/// What the bot lacks in a channel.
pub fn lacking(permissions: &[&str]) -> String {
    format!(
        "I cannot work in that channel yet. Give my role these permissions there: {}. Nothing was changed.",
        permissions.join(", ")
    )
}

/// Said in the channel to a member who cannot be written to in private.
pub const NO_PRIVATE: &str = "My answer is for you alone, but I cannot write to you in private. \
Allow direct messages from members of this community, or ask with a slash command.";

/// Said below a reply whose files are larger than the platform takes.
pub const FILE_TOO_LARGE: &str = "I could not attach the file: it is larger than this community allows. \
Ask for a shorter time, or ask whoever runs me for a copy.";

/// Said below a reply where the bot may not attach files.
pub const FILE_NOT_ALLOWED: &str = "I could not attach the file: I lack the permission Attach Files here. \
Ask a manager of this community to allow it, or ask me in a direct message.";

/// Said below a reply whose files were refused for another reason.
pub const FILE_REFUSED: &str =
    "I could not attach the file: the platform refused it. Ask again in a few minutes.";
