//! Who may give which command: every command by a member, by a coach, and by a coach of another
//! team, each naming a member of the team.

#![expect(clippy::expect_used, reason = "helpers of tests may fail the test")]

use chalkbell::bot::event::{Event, Message};
use chalkbell::bot::reply::Outgoing;
use chalkbell::bot::text::COACH_ONLY;
use chalkbell::config;
use chalkbell::message::forms::command::{self, Command, USAGE};
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use chrono::{DateTime, Duration, Utc};

const TEAM: &str = "rowing club";
const OTHER_TEAM: &str = "harbour club";

/// Who gives a command.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Who {
    Member,
    Coach,
    /// A coach, but of another team.
    Outsider,
}

/// Whether a command is for everybody, or for coaches alone.
#[derive(Clone, Copy, PartialEq, Eq)]
enum For {
    All,
    Coaches,
    /// Everybody, of themselves; coaches are told of others, too.
    CoachesMore,
}

/// Commands in all forms that differ in who may give them.
const COMMANDS: &[(&str, For)] = &[
    ("/next", For::All),
    ("/next squat why", For::All),
    ("/rest", For::All),
    ("/today", For::All),
    ("/warmup squat", For::All),
    ("/fit 45", For::All),
    ("/history", For::All),
    ("/history squat", For::All),
    ("/best", For::All),
    ("/best squat", For::All),
    ("/summary", For::All),
    ("/summary channel", For::All),
    ("/week", For::All),
    ("/week last week", For::All),
    ("/week Ines", For::Coaches),
    ("/week Ines last week", For::Coaches),
    ("/volume", For::All),
    ("/accuracy", For::CoachesMore),
    ("/accuracy Ines", For::Coaches),
    ("/undo", For::All),
    ("/units kg", For::All),
    ("/rack", For::All),
    ("/bodyweight", For::All),
    ("/experience", For::All),
    ("/plan", For::All),
    ("/plan Ines", For::Coaches),
    ("/plan team", For::Coaches),
    ("/plan Ines mon: squat 3x8", For::Coaches),
    ("/block", For::All),
    ("/block Ines", For::Coaches),
    ("/block Ines 2rir", For::Coaches),
    ("/target", For::All),
    ("/target Ines", For::Coaches),
    ("/target Ines chest 10-14", For::Coaches),
    ("/catalogue squat", For::All),
    (
        "/catalogue add boat squat like back squat target quads",
        For::Coaches,
    ),
    ("/team", For::Coaches),
    ("/team last week", For::Coaches),
    ("/attention", For::Coaches),
    ("/attention last week", For::Coaches),
    ("/attention dismiss Ines", For::Coaches),
    ("/attention off stall", For::Coaches),
    ("/review", For::All),
    ("/review Ines", For::Coaches),
    ("/note", For::All),
    ("/note Ines shared well done", For::Coaches),
    ("/note Ines delete 1", For::Coaches),
    ("/note Ines", For::Coaches),
    ("/note Ines looks tired", For::Coaches),
    ("/clear Ines", For::Coaches),
    ("/digest", For::CoachesMore),
    ("/settings", For::Coaches),
    ("/settings unit lb", For::Coaches),
    (
        "/import member,date,exercise,load,reps\nines,2026-01-11,squat,75,8",
        For::Coaches,
    ),
    (
        "/import check\nmember,date,exercise,load,reps\nines,2026-01-11,squat,75,8",
        For::Coaches,
    ),
    ("/export", For::All),
    ("/forget", For::All),
    ("/forget everything", For::All),
    ("/help", For::All),
];

/// What only Ines's own team may ever be shown.
const SECRETS: [&str; 4] = ["77.5", "knee", "Ines", "12–13"];

fn start() -> DateTime<Utc> {
    "2026-01-12T17:00:00Z".parse().expect("a time")
}

struct World {
    service: Service<Bot>,
    said: i64,
}

impl World {
    /// Ines trains, is hurt, and has a target; Tomas and both coaches are known.
    async fn new() -> Self {
        let store = Store::open("sqlite::memory:").await.expect("a store");
        let service = Service::new(store, Bot::new(config::built_in()));
        let mut world = Self { service, said: 0 };
        for (team, author, coach, text) in [
            (TEAM, "ines", false, "squat 77.5x8, 2 left"),
            (TEAM, "ines", false, "sharp pain in my knee on squats"),
            (TEAM, "tomas", false, "bench 60x8, 2 left"),
            (TEAM, "adair", true, "/target Ines chest 12-13"),
            (OTHER_TEAM, "maren", false, "bench 40x8, 2 left"),
            (OTHER_TEAM, "odile", true, "/settings"),
        ] {
            world.say(team, author, coach, text).await;
        }
        world
    }

    async fn say(&mut self, team: &str, author: &str, coach: bool, text: &str) -> Vec<String> {
        self.said += 1;
        let mut name = author.to_owned();
        name[..1].make_ascii_uppercase();
        let event = Event::Message(Message {
            id: format!("m{}", self.said),
            team: team.to_owned(),
            channel: "winter".to_owned(),
            author: author.to_owned(),
            name,
            coach,
            at: start() + Duration::seconds(30 * self.said),
            text: text.to_owned(),
        });
        let out = self.service.one(&event).await.expect("carried out");
        let text = |one: &Outgoing| match one {
            Outgoing::Reply(reply) | Outgoing::Update(reply) => Some(reply.text.clone()),
            Outgoing::Mark(_) => None,
        };
        out.iter().filter_map(text).collect()
    }

    async fn order(&mut self, who: Who, text: &str) -> Vec<String> {
        match who {
            Who::Member => self.say(TEAM, "tomas", false, text).await,
            Who::Coach => self.say(TEAM, "adair", true, text).await,
            Who::Outsider => self.say(OTHER_TEAM, "odile", true, text).await,
        }
    }

    /// All that is stored of a team's members and settings.
    async fn stored(&self, team: &str) -> String {
        let mut tx = self.service.store().begin().await.expect("a transaction");
        let team = tx.team(team).await.expect("readable");
        let members = tx.members(&team).await.expect("readable");
        let mut all = format!("{team:?}");
        for member in members.iter().filter(|member| member.author != "tomas") {
            let set = tx.prescribed_ever(member).await.expect("readable");
            all.push_str(&format!("{member:?}{set:?}"));
        }
        all
    }
}

fn with<F: Future>(future: F) -> F::Output {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build();
    runtime.expect("a runtime").block_on(future)
}

#[test]
fn every_command_is_in_the_matrix() {
    for (word, line) in USAGE {
        let of_word = COMMANDS.iter().filter(|(text, _)| {
            let first = text.split(' ').next();
            first.and_then(|first| first.strip_prefix('/')) == Some(word)
        });
        let of_word: Vec<_> = of_word.collect();
        assert!(!of_word.is_empty(), "{word}");
        let for_coaches = of_word.iter().any(|(_, whom)| *whom != For::All);
        // The line that shows how it goes says so.
        assert_eq!(line.contains("Coaches"), for_coaches, "{line}");
    }
}

/// The word of a command as read; a new command does not compile until it has a place here, and then
/// has to be in the matrix.
fn word_of(command: &Command) -> Option<&'static str> {
    Some(match command {
        Command::Next { .. } => "next",
        Command::Rest(_) => "rest",
        Command::Today(_) => "today",
        Command::WarmUp(_) => "warmup",
        Command::Fit { .. } => "fit",
        Command::Week(..) => "week",
        Command::Volume(_) => "volume",
        Command::Accuracy(_) => "accuracy",
        Command::Undo => "undo",
        Command::Units(_) => "units",
        Command::Rack(_) => "rack",
        Command::Bodyweight(_) => "bodyweight",
        Command::Experience(_) => "experience",
        Command::Plan(_) => "plan",
        Command::Block(_) => "block",
        Command::Target(_) => "target",
        Command::Catalogue(_) => "catalogue",
        Command::Digest(_) => "digest",
        Command::Team(_) => "team",
        Command::Attention(_) => "attention",
        Command::Review { .. } => "review",
        Command::Note { .. } => "note",
        Command::Clear { .. } => "clear",
        Command::Settings(_) => "settings",
        Command::Import { .. } => "import",
        Command::Export => "export",
        Command::Forget(_) => "forget",
        Command::Help(_) => "help",
        Command::History(_) => "history",
        Command::Best(_) => "best",
        Command::Summary(_) => "summary",
        Command::Misused(_) | Command::Unknown(..) => return None,
    })
}

#[test]
fn every_form_of_the_matrix_is_the_command_that_it_looks_like() {
    for (text, _) in COMMANDS {
        let read = command::read(text).expect("a command");
        let first = text
            .split([' ', '\n'])
            .next()
            .and_then(|w| w.strip_prefix('/'));
        assert_eq!(word_of(&read), first, "{text}");
        assert!(USAGE.iter().any(|(word, _)| Some(*word) == first), "{text}");
    }
}

#[test]
fn members_get_nothing_that_is_for_coaches() {
    with(async {
        for &(text, whom) in COMMANDS {
            let mut world = World::new().await;
            let before = world.stored(TEAM).await;
            let said = world.order(Who::Member, text).await.join("\n");
            assert_eq!(said == COACH_ONLY, whom == For::Coaches, "{text}: {said}");
            // Nothing of others is shown or changed, whatever the command.
            assert!(
                !SECRETS.iter().any(|secret| said.contains(secret)),
                "{text}: {said}"
            );
            assert_eq!(world.stored(TEAM).await, before, "{text}");
        }
    });
}

#[test]
fn coaches_may_all() {
    with(async {
        for &(text, _) in COMMANDS {
            let mut world = World::new().await;
            let said = world.order(Who::Coach, text).await.join("\n");
            assert!(!said.is_empty() && said != COACH_ONLY, "{text}: {said}");
            assert!(!said.contains("no member"), "{text}: {said}");
        }
    });
}

#[test]
fn coaches_of_other_teams_reach_nobody() {
    with(async {
        for &(text, _) in COMMANDS {
            let mut world = World::new().await;
            let before = world.stored(TEAM).await;
            let said = world.order(Who::Outsider, text).await.join("\n");
            // Something set is set for an Ines whom the own team may come to have.
            let nobody = said.contains("no member `ines`")
                || said.contains("Nobody called ines has posted yet");
            assert_eq!(
                nobody,
                text.to_lowercase().contains("ines"),
                "{text}: {said}"
            );
            let told = said.replace("`ines`", "");
            assert!(
                !SECRETS.iter().any(|secret| told.contains(secret)),
                "{text}: {said}"
            );
            assert_eq!(world.stored(TEAM).await, before, "{text}");
        }
    });
}
