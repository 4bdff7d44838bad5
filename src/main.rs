//! The program: reads settings, opens the log, the store and the channel, and wires them.

use std::io::{IsTerminal, Write as _};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use anyhow::Context as _;
use chalkbell::channel::discord::options::{Base, Options, Shards, Token, channels};
use chalkbell::channel::gallery::Gallery;
use chalkbell::channel::status::Status;
use chalkbell::channel::{demo, discord, local, pipe, read, train, upkeep};
use chalkbell::domain::lifter::prior_learner::FEWEST;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::message::Reader;
use chalkbell::service::metrics::Metrics;
use chalkbell::service::{Bot, Service};
use chalkbell::settings::{self, Settings};
use chalkbell::store::Store;
use chalkbell::store::private::own_folder;
use chrono::{DateTime, Utc};
use clap::{Args, CommandFactory as _, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use tokio::task::JoinSet;

/// A chat-bot assistant for group strength training: post a set, get the next load and rest.
///
/// Without a command it opens a channel in this terminal.
#[derive(Parser)]
#[command(version, args_conflicts_with_subcommands = true)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
    #[command(flatten)]
    local: LocalArgs,
}

#[derive(Subcommand)]
enum Command {
    /// Opens a channel in this terminal (as without a command).
    Local(LocalArgs),
    /// Serves programs: JSON objects, one a line, from standard input to standard output.
    Pipe(PipeArgs),
    /// Serves a team's channel on Discord; see docs/discord.md for the first steps.
    Discord(DatabaseArgs),
    /// Plays a week of an invented rowing club and prints the conversation.
    Demo(DemoArgs),
    /// Prints what each line of standard input reads as, one JSON object a line.
    Read(ReadArgs),
    /// Learns the weights of the reader's decisions from labelled messages; see DEVELOPERS.md.
    #[command(hide = true)]
    Train(TrainArgs),
    /// Looks a database through: rows that should not be, and whether what was learned is what the
    /// log teaches.
    Check(CheckArgs),
    /// Learns from all logs what lifters have in common, as a file for CHALKBELL_PRIORS; nothing of any
    /// one member stands in it.
    Prior(PriorArgs),
    /// Writes a copy of a SQLite database to a new file, also while the bot runs.
    Backup(BackupArgs),
    /// Copies everything from one database into another, empty one, of either engine. Stop the bot
    /// first.
    Move(MoveArgs),
    /// Prints what your shell needs to complete chalkbell's commands; for bash:
    /// `chalkbell completions bash > ~/.local/share/bash-completion/completions/chalkbell`.
    Completions {
        /// Your shell.
        #[arg(value_enum)]
        shell: Shell,
    },
    /// Prints the manual page; read it with `chalkbell man | man -l -`.
    Man,
    /// Prints how to run it as a service: a systemd unit, or a Containerfile.
    Unit {
        /// What to print.
        #[arg(value_enum, default_value = "systemd")]
        kind: UnitKind,
    },
}

#[derive(Clone, Copy, ValueEnum)]
enum UnitKind {
    /// For systemd.
    Systemd,
    /// For building a container.
    Container,
}

#[derive(Args)]
struct CheckArgs {
    #[command(flatten)]
    database: DatabaseArgs,
    /// Makes anew what follows from the log, and takes out what hangs on nothing.
    #[arg(long)]
    repair: bool,
}

#[derive(Args)]
struct PriorArgs {
    #[command(flatten)]
    database: DatabaseArgs,
    /// Fewest members that a figure is taken from.
    #[arg(long, value_name = "N", default_value_t = FEWEST, value_parser = at_least_the_fewest)]
    least: usize,
    /// Where the figures are put [default: standard output].
    #[arg(long, value_name = "FILE")]
    into: Option<PathBuf>,
}

fn at_least_the_fewest(text: &str) -> Result<usize, String> {
    let number = text.parse().ok().filter(|number| *number >= FEWEST);
    number.ok_or_else(|| format!("write a number from {FEWEST} on"))
}

#[derive(Args)]
struct BackupArgs {
    /// The new file.
    file: PathBuf,
    #[command(flatten)]
    database: DatabaseArgs,
}

#[derive(Args)]
struct MoveArgs {
    /// The database as it is.
    #[arg(long, value_name = "URL")]
    from: String,
    /// An empty database, or a file that is not there yet.
    #[arg(long, value_name = "URL")]
    to: String,
}

#[derive(Args)]
struct DatabaseArgs {
    /// Where the log is kept: sqlite:FILE, sqlite::memory: or postgres://… [default: a file in your
    /// user data folder].
    #[arg(long, value_name = "URL")]
    database: Option<String>,
}

#[derive(Args)]
struct PictureArgs {
    /// Where pictures are put [default: a folder `pictures` in your user data folder].
    #[arg(long, value_name = "DIR")]
    pictures: Option<PathBuf>,
}

impl PictureArgs {
    fn gallery(self) -> Gallery {
        let usual = || settings::data_folder().map(|folder| folder.join("pictures"));
        Gallery::new(self.pictures.or_else(usual))
    }
}

#[derive(Args)]
struct PipeArgs {
    #[command(flatten)]
    database: DatabaseArgs,
    #[command(flatten)]
    pictures: PictureArgs,
}

#[derive(Args)]
struct LocalArgs {
    #[command(flatten)]
    database: DatabaseArgs,
    #[command(flatten)]
    pictures: PictureArgs,
    /// Who speaks at first.
    #[arg(long = "as", value_name = "NAME", default_value = "you")]
    member: String,
    /// Who coaches the team; may be given several times.
    #[arg(long, value_name = "NAME", default_values = ["you", "coach"])]
    coach: Vec<String>,
    /// Start at this time instead of now and let time pass only by lines like `+2:30`.
    /// A local time like `2026-11-23 18:00`, `18:00`, `today`, `+2:30`; or one with its zone.
    #[arg(long, value_name = "TIME", value_parser = local::start_time)]
    at: Option<DateTime<Utc>>,
}

#[derive(Args)]
struct DemoArgs {
    /// Keep the database here to explore afterwards, for example with `--database sqlite:demo.sqlite`
    /// [default: in memory].
    #[arg(long, value_name = "URL", default_value = "sqlite::memory:")]
    database: String,
    #[command(flatten)]
    pictures: PictureArgs,
}

#[derive(Args)]
struct ReadArgs {
    /// The member's own unit.
    #[arg(long, value_name = "kg|lb", default_value = "kg", value_parser = unit)]
    unit: Unit,
    /// The lines are one member's messages in order, a minute apart.
    #[arg(long)]
    thread: bool,
    /// Each line is a coach's plan.
    #[arg(long, conflicts_with = "thread")]
    plan: bool,
}

#[derive(Args)]
struct TrainArgs {
    /// Files of labelled messages.
    #[arg(required_unless_present = "judge")]
    files: Vec<PathBuf>,
    /// Public vectors of words. Without them the network stays as it is.
    #[arg(long, value_name = "FILE")]
    words: Option<PathBuf>,
    /// Where the weights are put.
    #[arg(long, value_name = "DIR", default_value = "config")]
    into: PathBuf,
    /// Learn which messages report sets, not which report pain.
    #[arg(long, conflicts_with = "questions")]
    reports: bool,
    /// Learn what asks the bot, not what tells of pain.
    #[arg(long)]
    questions: bool,
    /// The files are conversations, labelled with what each message does to the log: learn `carry_on.weights`.
    #[arg(long, conflicts_with_all = ["questions", "reports"])]
    conversations: bool,
    /// Print how these messages are decided by what was learned, and write nothing; of pain and without files to
    /// learn from, by the weights that are there.
    #[arg(long, value_name = "FILE")]
    judge: Vec<PathBuf>,
}

fn unit(text: &str) -> Result<Unit, String> {
    Unit::from_symbol(text)
        .filter(|unit| *unit != Unit::Pin)
        .ok_or_else(|| "write kg or lb".to_owned())
}

fn main() -> ExitCode {
    let cli = Cli::parse();
    // What is kept of people is for the owner alone to read, in every file that is made from here on.
    nix::sys::stat::umask(nix::sys::stat::Mode::from_bits_truncate(0o077));
    match run(cli.command.unwrap_or(Command::Local(cli.local))) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            let _ = writeln!(std::io::stderr(), "chalkbell: {fault:#}");
            ExitCode::FAILURE
        }
    }
}

fn run(command: Command) -> anyhow::Result<()> {
    match command {
        Command::Read(args) => {
            let reader = Reader::new(chalkbell::config::built_in());
            let input = std::io::stdin().lock();
            let output = std::io::BufWriter::new(std::io::stdout().lock());
            match args.plan {
                true => read::read_plans(&reader, input, output, args.unit),
                false => read::read_lines(&reader, input, output, args.unit, args.thread),
            }
            .context("the lines cannot be read or printed")
        }
        Command::Train(args) => match (args.reports, args.questions) {
            _ if args.conversations => {
                train::train_conversations(&args.files, &args.into, &args.judge)
            }
            (true, _) => train::train_reports(&args.files, &args.into),
            (_, true) => train::train_questions(&args.files, &args.into, &args.judge),
            _ => train::train(&args.files, args.words.as_deref(), &args.into, &args.judge),
        },
        Command::Local(args) => {
            let settings = begin(args.database.database)?;
            let options = local::Options {
                member: args.member,
                coaches: args.coach,
                at: args.at,
                history: history(&settings),
                gallery: args.pictures.gallery(),
                colour: !settings::no_colour(),
            };
            on_runtime(async {
                let service = open(&settings, &options.gallery).await?;
                local::run(&service, options).await?;
                service.close().await;
                Ok(())
            })
        }
        Command::Pipe(args) => {
            let settings = begin(args.database.database)?;
            let gallery = args.pictures.gallery();
            on_runtime(async {
                let service = open(&settings, &gallery).await?.patient();
                let door = attend(&settings, service.store(), service.metrics()).await?;
                let (input, output) = (tokio::io::stdin(), tokio::io::stdout());
                tokio::select! {
                    served = pipe::run_with_pictures(&service, &gallery, input, output) => served?,
                    // What was not answered yet is taken back, and can be sent again.
                    () = stopped() => {}
                }
                drop(door);
                service.close().await;
                Ok(())
            })
        }
        Command::Discord(args) => {
            let settings = begin(args.database)?;
            let options = discord_options(&settings::discord())?;
            on_runtime(async {
                let store = open_store(&settings).await?;
                let bot = bot(&settings)?;
                let tally = Arc::default();
                let _door = attend(&settings, &store, &tally).await?;
                discord::run(store, bot, options, tally, stopped()).await
            })
        }
        Command::Check(args) => {
            let settings = begin(args.database.database)?;
            on_runtime(async {
                let store = open_store(&settings).await?;
                upkeep::check(store, &bot(&settings)?, args.repair).await
            })
        }
        Command::Prior(args) => {
            let settings = begin(args.database.database)?;
            on_runtime(async {
                let store = upkeep::existing(&settings.database).await?;
                upkeep::prior(store, &bot(&settings)?, args.least, args.into.as_deref()).await
            })
        }
        Command::Backup(args) => {
            let settings = begin(args.database.database)?;
            on_runtime(upkeep::backup(&settings.database, &args.file))
        }
        Command::Move(args) => {
            begin(Some(args.from.clone()))?;
            on_runtime(upkeep::move_all(&args.from, &args.to))
        }
        Command::Completions { shell } => {
            let mut text = Vec::new();
            clap_complete::generate(shell, &mut Cli::command(), "chalkbell", &mut text);
            std::io::stdout().write_all(&text)?;
            Ok(())
        }
        Command::Man => {
            let mut text = Vec::new();
            clap_mangen::Man::new(Cli::command()).render(&mut text)?;
            std::io::stdout().write_all(&text)?;
            Ok(())
        }
        Command::Unit { kind } => {
            let text = match kind {
                UnitKind::Systemd => include_str!("../config/packaging/chalkbell.service"),
                UnitKind::Container => include_str!("../config/packaging/Containerfile"),
            };
            std::io::stdout().write_all(text.as_bytes())?;
            Ok(())
        }
        Command::Demo(args) => {
            let settings = begin(Some(args.database))?;
            let gallery = args.pictures.gallery();
            on_runtime(async {
                let service = open(&settings, &gallery).await?;
                let mut output = std::io::stdout();
                let colour = output.is_terminal() && !settings::no_colour();
                demo::play(&service, &gallery, &mut output, colour).await?;
                service.close().await;
                Ok(())
            })
        }
    }
}

/// Loads the settings and opens the program's own log on standard error.
fn begin(database: Option<String>) -> anyhow::Result<Settings> {
    let settings = Settings::load(database)?;
    let filter = tracing_subscriber::EnvFilter::try_new(&settings.log)
        .context("CHALKBELL_LOG is no filter; write for example `info`")?;
    // Libraries of the team channel would log whole requests, with what members wrote.
    let filter = ["serenity=off", "reqwest=off", "hyper=off", "hyper_util=off"]
        .into_iter()
        .filter_map(|directive| directive.parse().ok())
        .fold(filter, tracing_subscriber::EnvFilter::add_directive);
    let log = tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(std::io::stderr);
    // A journal or a file keeps text, and no colours of it.
    let log = if std::io::stderr().is_terminal() {
        log
    } else {
        log.with_ansi(false)
    };
    match settings.json_log {
        true => log.json().flatten_event(true).init(),
        false => log.init(),
    }
    Ok(settings)
}

/// One thread is enough: everything waits on the database or the outside.
fn on_runtime(work: impl Future<Output = anyhow::Result<()>>) -> anyhow::Result<()> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()?;
    let done = runtime.block_on(work);
    // A thread that still waits for standard input would hold up the end.
    runtime.shutdown_background();
    done
}

fn discord_options(settings: &settings::DiscordSettings) -> anyhow::Result<Options> {
    Ok(Options {
        token: Token::read(settings.token.as_deref())?,
        base: Base::read(settings.api.as_deref())?,
        shards: Shards::read(settings.shards.as_deref())?,
        channels: channels(settings.channels.as_deref())?,
    })
}

/// Returns when the program is asked to stop.
async fn stopped() {
    use tokio::signal::unix::{SignalKind, signal};
    let Ok(mut terminate) = signal(SignalKind::terminate()) else {
        return std::future::pending().await;
    };
    tokio::select! {
        _ = tokio::signal::ctrl_c() => {}
        _ = terminate.recv() => {}
    }
}

/// Opens the door for operators where the settings name one, and attends it until this is dropped.
async fn attend(
    settings: &Settings,
    store: &Store,
    tally: &Arc<Metrics>,
) -> anyhow::Result<JoinSet<()>> {
    let mut attended = JoinSet::new();
    if let Some(at) = &settings.status {
        let door = Status::open(at, store.clone(), Arc::clone(tally)).await?;
        attended.spawn(door.serve());
    }
    Ok(attended)
}

async fn open(settings: &Settings, gallery: &Gallery) -> anyhow::Result<Service<Bot>> {
    let store = open_store(settings).await?;
    let pictures = gallery.folder().map(Path::to_owned);
    Ok(Service::new(
        store,
        bot(settings)?.with_pictures_in(pictures),
    ))
}

fn bot(settings: &Settings) -> anyhow::Result<Bot> {
    let mut catalogue = chalkbell::config::built_in();
    if let Some(file) = &settings.priors {
        let text = std::fs::read_to_string(file)
            .with_context(|| format!("CHALKBELL_PRIORS: {} cannot be read", file.display()))?;
        let learned = chalkbell::config::priors::read(&text)?;
        catalogue = Arc::new(catalogue.as_ref().clone().with_priors(learned));
    }
    let bot = Bot::new(catalogue);
    Ok(match &settings.files {
        Some(folder) => bot.with_files_in(folder.clone()),
        None => bot,
    })
}

async fn open_store(settings: &Settings) -> anyhow::Result<Store> {
    if let Some(folder) = &settings.own_folder {
        own_folder(folder)
            .with_context(|| format!("the folder {} cannot be made", folder.display()))?;
    }
    Ok(Store::open(&settings.database).await?)
}

fn history(settings: &Settings) -> Option<PathBuf> {
    settings
        .own_folder
        .as_ref()
        .map(|folder| folder.join("typed.txt"))
}
