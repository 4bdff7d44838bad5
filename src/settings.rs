//! What differs from one installation to the next: read once at start, from the command line, the
//! environment and `.env`, in this order of weight.

use std::fmt;
use std::path::PathBuf;

/// The settings of one run.
#[derive(Clone, PartialEq, Eq)]
pub struct Settings {
    /// Where the database is: `sqlite:FILE`, `sqlite::memory:` or `postgres://…`.
    pub database: String,
    /// Whether the database stands in the user's data folder, and the folder is to be made.
    pub own_folder: Option<PathBuf>,
    /// Where files of replies lie until they are fetched.
    pub files: Option<PathBuf>,
    /// What to log, as `tracing` filters have it.
    pub log: String,
    /// Log lines are JSON objects.
    pub json_log: bool,
    /// Figures of the population learned from a database, in place of the published ones.
    pub priors: Option<PathBuf>,
    /// Where operators may ask how things stand, an address of this machine's own.
    pub status: Option<String>,
}

impl fmt::Debug for Settings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // The URL may carry a password.
        f.debug_struct("Settings")
            .field("log", &self.log)
            .finish_non_exhaustive()
    }
}

/// Why there are no settings.
#[derive(Debug, thiserror::Error)]
pub enum SettingsError {
    /// No home, so no data folder.
    #[error("no folder for user data is known here; name a database with --database sqlite:FILE")]
    NoDataFolder,
    /// `.env` cannot be read.
    #[error("the file .env cannot be read: {0}; mend or remove it")]
    DotEnv(String),
}

impl Settings {
    /// The settings, with `database` as given on the command line.
    ///
    /// # Errors
    /// [`SettingsError`] when `.env` is broken, or no database is named and no data folder known.
    pub fn load(database: Option<String>) -> Result<Self, SettingsError> {
        match dotenvy::dotenv() {
            Err(fault) if !fault.not_found() => return Err(SettingsError::DotEnv(plain(&fault))),
            _ => {}
        }
        let log = variable("CHALKBELL_LOG").unwrap_or_else(|| "warn".to_owned());
        let (database, own_folder) = match database.or_else(|| variable("DATABASE_URL")) {
            Some(url) => (url, None),
            None => {
                let folder = data_folder().ok_or(SettingsError::NoDataFolder)?;
                (
                    crate::store::file_url(&folder.join("chalkbell.sqlite")),
                    Some(folder),
                )
            }
        };
        let files = variable("CHALKBELL_FILES").map(PathBuf::from);
        Ok(Self {
            database,
            own_folder,
            files: files.or_else(|| data_folder().map(|folder| folder.join("files"))),
            log,
            json_log: variable("CHALKBELL_LOG_FORMAT").is_some_and(|format| format == "json"),
            priors: variable("CHALKBELL_PRIORS").map(PathBuf::from),
            status: variable("CHALKBELL_STATUS"),
        })
    }
}

/// What is wrong with `.env`, without what stands in it: that may be a password.
fn plain(fault: &dotenvy::Error) -> String {
    match fault {
        dotenvy::Error::LineParse(..) => {
            "a line is not NAME=VALUE; put a value with spaces, # or quotes between single quotes"
                .to_owned()
        }
        fault => fault.to_string(),
    }
}

/// The platform's folder for this program's user data.
pub fn data_folder() -> Option<PathBuf> {
    use etcetera::BaseStrategy as _;
    let folders = etcetera::base_strategy::choose_native_strategy().ok()?;
    Some(folders.data_dir().join("chalkbell"))
}

#[expect(
    clippy::disallowed_methods,
    reason = "the one place that reads the environment"
)]
fn variable(name: &str) -> Option<String> {
    std::env::var(name).ok().filter(|value| !value.is_empty())
}

/// Whether the user wants no colour (`NO_COLOR`, an open convention).
pub fn no_colour() -> bool {
    variable("NO_COLOR").is_some()
}

/// The settings of the team channel, as text: read once, checked where the channel is opened.
pub struct DiscordSettings {
    /// The bot's token.
    pub token: Option<String>,
    /// Another server that speaks the platform's protocol.
    pub api: Option<String>,
    /// Gateway connections of this process, `FIRST-LAST/TOTAL`.
    pub shards: Option<String>,
    /// Channels to bind at start, with commas.
    pub channels: Option<String>,
}

impl fmt::Debug for DiscordSettings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // The token is nobody's business.
        f.debug_struct("DiscordSettings").finish_non_exhaustive()
    }
}

/// Reads the settings of the team channel. `.env` must have been loaded, as by [`Settings::load`].
pub fn discord() -> DiscordSettings {
    DiscordSettings {
        token: variable("CHALKBELL_DISCORD_TOKEN").or_else(|| variable("DISCORD_TOKEN")),
        api: variable("CHALKBELL_DISCORD_API"),
        shards: variable("CHALKBELL_DISCORD_SHARDS"),
        channels: variable("CHALKBELL_DISCORD_CHANNELS"),
    }
}
