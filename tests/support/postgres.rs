//! A throwaway PostgreSQL for tests.
//!
//! With `CHALKBELL_TEST_POSTGRES_URL` its server is used (the role must be allowed to make
//! databases); without, a cluster is made in a temporary folder, on loopback and a free port, by
//! the programs found on this machine, as a user other than root, once for all tests of a binary. It is
//! stopped and removed when the binary has ended, however it ended. Each test gets a database of its own.
//!
//! Where PostgreSQL is missing, that is said on standard error, past the capture of test output;
//! with `CHALKBELL_REQUIRE_POSTGRES=1` it is a failure.

use std::io::Write as _;
use std::net::TcpListener;
use std::os::unix::fs::MetadataExt as _;
use std::os::unix::process::CommandExt as _;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::str::FromStr as _;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Once, OnceLock};

use sqlx::postgres::PgConnectOptions;
use sqlx::{AssertSqlSafe, ConnectOptions as _, Connection as _, Executor as _, PgConnection};
use tempfile::TempDir;

/// A database for one test; dropped with it.
pub struct Database {
    server: &'static Server,
    name: String,
}

/// Where databases can be made.
pub enum Server {
    Given(String),
    /// With the process that stops it when its input closes, as the system does when this one ends.
    Own(Cluster, Child),
}

/// A cluster of our own; stopped when dropped, also by a panicking test.
pub struct Cluster {
    folder: TempDir,
    programs: PathBuf,
    port: u16,
}

impl Database {
    /// A new, empty database; `None` where there is no PostgreSQL and none is required.
    pub async fn new() -> Option<Self> {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let server = server()?;
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let name = format!("chalkbell_test_{}_{count}", std::process::id());
        let database = Self { server, name };
        let make = format!("create database {}", database.name);
        execute(&database.server.url("postgres"), make).await;
        Some(database)
    }

    /// Its URL.
    pub fn url(&self) -> String {
        self.server.url(&self.name)
    }

    /// Takes it away; only a given server would keep it otherwise.
    pub async fn remove(self) {
        let drop = format!("drop database if exists {} with (force)", self.name);
        execute(&self.server.url("postgres"), drop).await;
    }
}

async fn execute(url: &str, statement: String) {
    let mut connection = PgConnection::connect(url).await.expect("connects");
    let done = connection.execute(AssertSqlSafe(statement)).await;
    done.expect("runs");
    connection.close().await.expect("closes");
}

impl Server {
    fn url(&self, database: &str) -> String {
        match self {
            Self::Own(cluster, _) => {
                format!("postgres://chalkbell@127.0.0.1:{}/{database}", cluster.port)
            }
            Self::Given(url) => {
                let options = PgConnectOptions::from_str(url).expect("a URL");
                options.database(database).to_url_lossy().to_string()
            }
        }
    }
}

/// The one server of all tests of this binary.
fn server() -> Option<&'static Server> {
    static SHARED: OnceLock<Option<Server>> = OnceLock::new();
    let shared = SHARED.get_or_init(|| match variable("CHALKBELL_TEST_POSTGRES_URL") {
        Some(url) => Some(Server::Given(url)),
        None => {
            let cluster = Cluster::start(programs()?);
            let watcher = cluster.watcher();
            Some(Server::Own(cluster, watcher))
        }
    });
    shared.as_ref().map_or_else(missing, Some)
}

fn missing<T>() -> Option<T> {
    static ONCE: Once = Once::new();
    let text = "PostgreSQL was not found: the tests on it were LEFT OUT. Install it (on Debian: \
                `apt-get install postgresql`) or name a server in CHALKBELL_TEST_POSTGRES_URL.";
    assert!(
        variable("CHALKBELL_REQUIRE_POSTGRES").as_deref() != Some("1"),
        "{text}"
    );
    ONCE.call_once(|| {
        // Written to the stream itself: the print macros are captured when a test passes.
        writeln!(std::io::stderr(), "\n*** {text} ***\n").expect("standard error is open");
    });
    None
}

#[expect(
    clippy::disallowed_methods,
    reason = "the settings of the tests themselves"
)]
fn variable(name: &str) -> Option<String> {
    std::env::var(name).ok().filter(|value| !value.is_empty())
}

/// The folder with `initdb` and `pg_ctl`: the newest of Debian's, else where the path leads.
fn programs() -> Option<PathBuf> {
    let versions = std::fs::read_dir("/usr/lib/postgresql")
        .into_iter()
        .flatten();
    let mut folders: Vec<PathBuf> = versions
        .filter_map(|version| Some(version.ok()?.path().join("bin")))
        .collect();
    folders.sort_by_key(|folder| version(folder));
    let path = variable("PATH").unwrap_or_default();
    folders
        .into_iter()
        .rev()
        .chain(std::env::split_paths(&path))
        .find(|folder| folder.join("initdb").exists() && folder.join("pg_ctl").exists())
}

fn version(folder: &Path) -> Option<u32> {
    folder.parent()?.file_name()?.to_str()?.parse().ok()
}

impl Cluster {
    /// A cluster for a test that stops it; `None` where there is no PostgreSQL and none is required.
    /// A server that was given is not for stopping.
    pub fn alone() -> Option<Self> {
        match programs() {
            Some(programs) => Some(Self::start(programs)),
            None => missing(),
        }
    }

    /// The port it listens on.
    pub const fn port(&self) -> u16 {
        self.port
    }

    /// Stops it: `fast` ends all connections, `immediate` is as if its machine had failed.
    pub fn stop(&self, mode: &str) {
        self.run("pg_ctl", &["stop", "-m", mode, "-w"]);
    }

    /// Starts it, at the same port as before.
    pub fn go_on(&self) {
        let started = self.serve();
        let said = String::from_utf8_lossy(&started.stderr);
        assert!(started.status.success(), "pg_ctl: {said}");
    }
}

impl Cluster {
    /// Starts a process that stops the cluster and removes it when its input closes. What
    /// all tests share is never dropped, and a binary that is killed drops nothing at all.
    fn watcher(&self) -> Child {
        let stop = self.command("pg_ctl", &["stop", "-m", "immediate", "-w"]);
        let watch = r#"read -r nothing; folder=$1; shift; "$@"; rm -rf "$folder""#;
        let mut watcher = Command::new("sh");
        watcher
            .args(["-c", watch, "sh"])
            .arg(self.folder.path())
            .arg(stop.get_program())
            .args(stop.get_args())
            .current_dir(self.folder.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            // An interrupt from the terminal is for the tests; it goes on to stop the cluster.
            .process_group(0);
        watcher.spawn().expect("a shell")
    }

    fn serve(&self) -> Output {
        let options = format!(
            "-c listen_addresses=127.0.0.1 -c port={} -c unix_socket_directories=''",
            self.port
        );
        let log = self.folder.path().join("log");
        let log = log.to_str().expect("a plain path");
        self.try_run("pg_ctl", &["start", "-w", "-l", log, "-o", &options])
    }

    fn start(programs: PathBuf) -> Self {
        let folder = tempfile::Builder::new()
            .prefix("chalkbell-postgres-")
            .tempdir()
            .expect("a temporary folder");
        if let Some((user, group)) = lesser_user() {
            std::os::unix::fs::chown(folder.path(), Some(user), Some(group))
                .expect("may give away");
        }
        let mut cluster = Self {
            folder,
            programs,
            port: 0,
        };
        cluster.run(
            "initdb",
            &["-U", "chalkbell", "-A", "trust", "-E", "UTF8", "--no-sync"],
        );
        // Somebody may take the free port before PostgreSQL does.
        for _ in 0..3 {
            cluster.port = free_port();
            if cluster.serve().status.success() {
                return cluster;
            }
        }
        let log = std::fs::read_to_string(cluster.folder.path().join("log"));
        panic!("PostgreSQL does not start: {log:?}");
    }

    fn run(&self, program: &str, args: &[&str]) {
        let output = self.try_run(program, args);
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "{program}: {said}");
    }

    /// One of PostgreSQL's programs with these arguments, for this cluster.
    fn command(&self, program: &str, args: &[&str]) -> Command {
        let program = self.programs.join(program);
        let mut command = match lesser_user() {
            Some((user, group)) => as_user(user, group, &program),
            None => Command::new(program),
        };
        command.args(args);
        command.arg("-D").arg(self.folder.path().join("data"));
        // Started elsewhere: the user may not be allowed into the folder of this process.
        command.current_dir(self.folder.path());
        command
    }

    fn try_run(&self, program: &str, args: &[&str]) -> Output {
        // What the server inherits must not be a pipe, or waiting for its end waits for the server's.
        let said = std::fs::File::create(self.folder.path().join("said")).expect("writes");
        let status = self
            .command(program, args)
            .stdin(Stdio::null())
            .stdout(said.try_clone().expect("one more handle"))
            .stderr(said)
            .status()
            .expect("can be run");
        Output {
            status,
            stdout: Vec::new(),
            stderr: std::fs::read(self.folder.path().join("said")).unwrap_or_default(),
        }
    }
}

impl Drop for Cluster {
    fn drop(&mut self) {
        self.try_run("pg_ctl", &["stop", "-m", "immediate", "-w"]);
    }
}

/// PostgreSQL refuses to run as root: then the user and group to run it as.
fn lesser_user() -> Option<(u32, u32)> {
    let root = std::fs::metadata("/proc/self").is_ok_and(|myself| myself.uid() == 0);
    root.then(|| {
        ["postgres", "nobody"]
            .into_iter()
            .find_map(|name| Some((id("-u", name)?, id("-g", name)?)))
            .expect("a user other than root")
    })
}

fn id(option: &str, name: &str) -> Option<u32> {
    let output = Command::new("id").args([option, name]).output().ok()?;
    String::from_utf8(output.stdout).ok()?.trim().parse().ok()
}

fn as_user(user: u32, group: u32, program: &Path) -> Command {
    let mut command = Command::new("setpriv");
    command.args([
        format!("--reuid={user}"),
        format!("--regid={group}"),
        "--clear-groups".to_owned(),
        "--".to_owned(),
    ]);
    command.arg(program);
    command
}

fn free_port() -> u16 {
    let listener = TcpListener::bind("127.0.0.1:0").expect("loopback");
    listener.local_addr().expect("an address").port()
}
