//! A SQLite file that cannot be written, or is not what it should be: one clear sentence that names
//! the remedy, no damage, and, where the fault goes away, everything is stored as if nothing had been.
//!
//! Disks are made in a mount namespace of the program's own (`unshare -rm`, no rights needed), so that
//! they hold for root, too. Where the system allows none, that is said on standard error, and a limit on
//! the size of files stands in for the full disk.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a test may fail where it stands, and this one waits"
)]

use std::io::{BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStderr, ChildStdin, Command, Output, Stdio};
use std::sync::mpsc;
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use crate::support::evening;
use crate::support::run::run;
use chalkbell::store::{Store, file_url};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{AssertSqlSafe, Connection as _, SqliteConnection};
use tempfile::TempDir;

const PROGRAM: &str = env!("CARGO_BIN_EXE_chalkbell");
const PATIENCE: Duration = Duration::from_secs(60);

/// Whether the system lets anybody make mounts of their own; says so where it does not.
fn has_mounts() -> bool {
    let made = Command::new("unshare").args(["-rm", "true"]).output();
    let has = made.is_ok_and(|made| made.status.success());
    if !has {
        let text =
            "*** no mount namespaces here: the tests on full and read-only disks were LEFT OUT ***";
        writeln!(std::io::stderr(), "\n{text}\n").expect("standard error is open");
    }
    has
}

/// The program in the words of a shell, after some preparation, in a mount namespace where `mounts`.
fn after(mounts: bool, preparation: &str, folder: &Path, words: &[&str]) -> Command {
    let mut command = match mounts {
        true => {
            let mut command = Command::new("unshare");
            command.args(["-rm", "sh"]);
            command
        }
        false => Command::new("sh"),
    };
    let script = format!("{preparation}; exec \"$@\"");
    command
        .args(["-euc", &script, "sh", PROGRAM])
        .args(words)
        .env("FOLDER", folder)
        .env_remove("DATABASE_URL")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

/// A pipe that runs out of room, and gets some.
struct Starved {
    child: Child,
    /// Gives back its input, still open, once all is written.
    input: JoinHandle<ChildStdin>,
    log: BufReader<ChildStderr>,
    /// The ids of the messages that are done.
    done: mpsc::Receiver<String>,
}

impl Starved {
    fn begin(mut command: Command, lines: &[String]) -> Self {
        let mut child = command.spawn().expect("it starts");
        let (mut input, all) = (child.stdin.take().unwrap(), lines.concat());
        let input = std::thread::spawn(move || {
            // It fails when the program is killed while there is still something to read.
            let _ = input.write_all(all.as_bytes());
            input
        });
        let output = BufReader::new(child.stdout.take().unwrap());
        let (give, done) = mpsc::channel();
        std::thread::spawn(move || {
            for line in output.lines().map_while(Result::ok) {
                // The last line may have been cut off.
                let Ok(note) = serde_json::from_str::<serde_json::Value>(&line) else {
                    continue;
                };
                assert_ne!(note["type"], "error", "{note}");
                if note["type"] == "done" {
                    // Nobody may want to know.
                    let _ = give.send(note["id"].as_str().unwrap().to_owned());
                }
            }
        });
        let log = BufReader::new(child.stderr.take().unwrap());
        Self {
            child,
            input,
            log,
            done,
        }
    }

    /// Reads what it logs up to a line with these words.
    fn log_to(&mut self, words: &str) -> String {
        let mut log = String::new();
        while !log.contains(words) {
            let read = self.log.read_line(&mut log).unwrap();
            assert!(read > 0, "it ended without `{words}`: {log}");
        }
        log
    }

    /// How many messages are done, up to this many.
    fn done(&self, count: usize) -> usize {
        let until = |_| self.done.recv_timeout(PATIENCE).ok();
        (0..count).map_while(until).count()
    }

    /// Closes its input; it ends well.
    fn end(mut self) {
        drop(self.input.join().unwrap());
        assert!(self.child.wait().unwrap().success());
    }
}

/// How many messages of the file each have one event and one set.
async fn stored(path: &Path) -> usize {
    let mut one = SqliteConnection::connect(&file_url(path)).await.unwrap();
    let mut counts = [0_i64; 3];
    let texts = [
        "select count(*) from event",
        "select count(*) from training_set",
        "select count(distinct message) from training_set join event on event.id = message",
    ];
    for (count, text) in counts.iter_mut().zip(texts) {
        *count = sqlx::query_scalar(text).fetch_one(&mut one).await.unwrap();
    }
    let well: String = sqlx::query_scalar("pragma integrity_check")
        .fetch_one(&mut one)
        .await
        .unwrap();
    assert_eq!(well, "ok");
    one.close().await.unwrap();
    assert!(counts.iter().all(|count| *count == counts[0]), "{counts:?}");
    usize::try_from(counts[0]).unwrap()
}

#[test]
fn full_disk_is_waited_out_and_nothing_is_lost() {
    if !has_mounts() {
        return;
    }
    let folder = TempDir::new().unwrap();
    // Room for the file as it is made, not for an evening; a ballast that can be thrown out.
    let small = "mount -t tmpfs -o size=10m tmpfs \"$FOLDER\"; mkdir \"$FOLDER/d\"
                 head -c 9700000 /dev/zero >\"$FOLDER/ballast\"";
    let database = folder.path().join("d/club.db");
    let url = file_url(&database);
    let words = ["pipe", "--database", &url, "--pictures", "/nonexistent"];
    let lines = evening::lines(0);
    let mut starved = Starved::begin(after(true, small, folder.path(), &words), &lines);
    let log = starved.log_to("nothing can be stored");
    assert!(log.contains("the disk is full; make room"), "{log}");
    // Inside the namespace, as the program sees it.
    let inside = |path: &str| {
        let root = format!("/proc/{}/root", starved.child.id());
        PathBuf::from(root + folder.path().to_str().unwrap()).join(path)
    };
    let (ballast, files) = (inside("ballast"), inside("d"));
    std::fs::remove_file(ballast).unwrap();
    assert_eq!(starved.done(lines.len()), lines.len(), "all is done");
    // Its input is still open: at its end it would take the journal away below the copying.
    let copy = TempDir::new().unwrap();
    for file in std::fs::read_dir(files).unwrap() {
        let file = file.unwrap();
        std::fs::copy(file.path(), copy.path().join(file.file_name())).unwrap();
    }
    starved.log_to("the database answers again");
    starved.end();
    run(async { assert_eq!(stored(&copy.path().join("club.db")).await, lines.len()) });
}

#[test]
fn file_that_may_not_grow_loses_nothing_that_was_acknowledged() {
    let folder = TempDir::new().unwrap();
    // Making the tables takes more room than the first messages do.
    let database = some_database(folder.path());
    let url = file_url(&database);
    let words = ["pipe", "--database", &url, "--pictures", "/nonexistent"];
    let lines = evening::lines(0);
    // In blocks of 512 bytes; without the trap the system ends the program.
    let limit = "trap '' XFSZ; ulimit -f 1000";
    let mut starved = Starved::begin(after(false, limit, folder.path(), &words), &lines);
    let log = starved.log_to("nothing can be stored");
    assert!(log.contains("check the disk"), "{log}");
    starved.child.kill().unwrap();
    let done = starved.done(usize::MAX);
    assert!((1..lines.len()).contains(&done), "{done}");
    run(async {
        let kept = stored(&database).await;
        assert!(kept >= done, "{done} were acknowledged, {kept} are there");
    });
    // With room again the rest is taken, and what was there is answered as before.
    let again = Starved::begin(after(false, "true", folder.path(), &words), &lines);
    assert_eq!(again.done(lines.len()), lines.len());
    again.end();
    run(async { assert_eq!(stored(&database).await, lines.len()) });
}

/// A database with an evening's first messages.
fn some_database(folder: &Path) -> PathBuf {
    let path = folder.join("club.db");
    let url = file_url(&path);
    let words = ["pipe", "--database", &url, "--pictures", "/nonexistent"];
    let lines = evening::lines(0);
    let begun = Starved::begin(after(false, "true", folder, &words), &lines[..40]);
    assert_eq!(begun.done(40), 40);
    begun.end();
    path
}

/// Runs each of the commands that open a database on this one, and expects one sentence.
fn is_refused(preparation: Option<&str>, path: &Path, sentence: &str) {
    let url = file_url(path);
    let folder = path.parent().unwrap();
    let backup = folder.join("copy.db");
    let backup = backup.to_str().unwrap();
    let database = ["--database", url.as_str()];
    for words in [
        &["pipe"][..],
        &["check"],
        &["check", "--repair"],
        &["backup", backup],
        &["discord"],
    ] {
        let words = [words, &database].concat();
        let mut command = after(
            preparation.is_some(),
            preparation.unwrap_or("true"),
            folder,
            &words,
        );
        command
            .env("CHALKBELL_DISCORD_TOKEN", "not.a.token")
            .stdin(Stdio::null());
        let begun = Instant::now();
        let Output { status, stderr, .. } = command.output().unwrap();
        assert!(begun.elapsed() < PATIENCE, "{words:?} took too long");
        let told = String::from_utf8(stderr).unwrap();
        assert_eq!(status.code(), Some(1), "{words:?}: {told}");
        assert_eq!(told.lines().count(), 1, "{words:?}: {told}");
        assert!(told.starts_with("chalkbell: "), "{words:?}: {told}");
        // Where there is no file, there is nothing to back up, whatever the reason.
        let nothing = words[0] == "backup" && !path.exists();
        let sentence = if nothing {
            "name the database that is there"
        } else {
            sentence
        };
        assert!(told.contains(sentence), "{words:?}: {told}");
        assert!(!Path::new(backup).exists(), "{words:?} left a file");
    }
}

/// The same, and the file is afterwards, byte for byte, what it was.
fn is_refused_unharmed(path: &Path, sentence: &str) {
    let before = std::fs::read(path).unwrap();
    is_refused(None, path, sentence);
    assert!(
        std::fs::read(path).unwrap() == before,
        "it was changed: {sentence}"
    );
}

#[test]
fn read_only_file_and_folder_are_said_so() {
    if !has_mounts() {
        return;
    }
    let folder = TempDir::new().unwrap();
    let path = some_database(folder.path());
    let before = std::fs::read(&path).unwrap();
    for what in ["$FOLDER", "$FOLDER/club.db"] {
        let bound =
            format!("mount --bind \"{what}\" \"{what}\"; mount -o remount,bind,ro \"{what}\"");
        is_refused(Some(&bound), &path, "mend its permissions");
    }
    assert!(std::fs::read(&path).unwrap() == before);
    run(async { assert_eq!(stored(&path).await, 40) });
}

async fn edit(path: &Path, statement: &str) {
    let mut one = SqliteConnection::connect(&file_url(path)).await.unwrap();
    sqlx::query(AssertSqlSafe(statement.to_owned()))
        .execute(&mut one)
        .await
        .unwrap();
    one.close().await.unwrap();
}

#[test]
fn file_of_a_later_version_is_left_as_it_is() {
    let folder = TempDir::new().unwrap();
    let path = some_database(folder.path());
    let later = "insert into _sqlx_migrations (version, description, success, checksum,
                 execution_time) select 9999, 'later', success, checksum, 0
                 from _sqlx_migrations where version = 1";
    run(edit(&path, later));
    is_refused_unharmed(&path, "run that version or a newer one");
}

#[test]
fn file_of_another_kind_is_left_as_it_is() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("club.db");
    std::fs::write(&path, "day,lift\n".repeat(1000)).unwrap();
    is_refused_unharmed(&path, "restore a backup or name another file");
    // A database, but somebody else's.
    let path = folder.path().join("other.db");
    let options = SqliteConnectOptions::new()
        .filename(&path)
        .create_if_missing(true);
    run(async {
        let mut one = SqliteConnection::connect_with(&options).await.unwrap();
        sqlx::query("create table boat (id integer)")
            .execute(&mut one)
            .await
            .unwrap();
        one.close().await.unwrap();
    });
    is_refused_unharmed(&path, "another program's tables");
}

#[test]
fn file_without_its_beginning_is_left_as_it_is() {
    let folder = TempDir::new().unwrap();
    let path = some_database(folder.path());
    let mut bytes = std::fs::read(&path).unwrap();
    bytes[..4096].fill(0xa5);
    std::fs::write(&path, &bytes).unwrap();
    is_refused_unharmed(&path, "restore a backup or name another file");
}

#[test]
fn file_that_another_program_keeps_is_said_so() {
    let folder = TempDir::new().unwrap();
    let path = some_database(folder.path());
    run(async {
        let options = SqliteConnectOptions::new()
            .filename(&path)
            .locking_mode(sqlx::sqlite::SqliteLockingMode::Exclusive);
        let mut keeps = SqliteConnection::connect_with(&options).await.unwrap();
        let hold = "update team set key = key";
        sqlx::query(hold).execute(&mut keeps).await.unwrap();
        let url = file_url(&path);
        let words = ["check", "--database", url.as_str()];
        let told = after(false, "true", folder.path(), &words)
            .output()
            .unwrap();
        let told = String::from_utf8(told.stderr).unwrap();
        assert_eq!(told.lines().count(), 1, "{told}");
        assert!(
            told.contains("is locked by another process; stop that one or try again"),
            "{told}"
        );
        keeps.close().await.unwrap();
        assert_eq!(stored(&path).await, 40);
    });
}

/// Where only some pages are damaged, it opens: what touches them is told, and nothing is
/// acknowledged that could not be stored.
#[test]
fn damage_in_the_middle_is_told_and_acknowledges_nothing() {
    let folder = TempDir::new().unwrap();
    let path = some_database(folder.path());
    let mut bytes = std::fs::read(&path).unwrap();
    let page = 4096;
    let root: i64 = {
        let mut root = 0;
        run(async {
            let mut one = SqliteConnection::connect(&file_url(&path)).await.unwrap();
            root = sqlx::query_scalar("select rootpage from sqlite_schema where name = 'event'")
                .fetch_one(&mut one)
                .await
                .unwrap();
            one.close().await.unwrap();
        });
        root
    };
    let begin = (usize::try_from(root).unwrap() - 1) * page;
    bytes[begin..begin + page].fill(0xa5);
    std::fs::write(&path, &bytes).unwrap();
    let url = file_url(&path);
    let words = ["pipe", "--database", &url, "--pictures", "/nonexistent"];
    let mut begun = after(false, "true", folder.path(), &words).spawn().unwrap();
    let line = evening::lines(1)[0].clone();
    begun
        .stdin
        .take()
        .unwrap()
        .write_all(line.as_bytes())
        .unwrap();
    let Output { status, stdout, .. } = begun.wait_with_output().unwrap();
    let told = String::from_utf8(stdout).unwrap();
    assert!(status.success(), "{told}");
    assert!(
        told.contains("the database file is damaged; restore a backup"),
        "{told}"
    );
    assert!(!told.contains("\"mark\""), "{told}");
    let words = ["check", "--database", &url];
    let checked = after(false, "true", folder.path(), &words)
        .output()
        .unwrap();
    assert_eq!(checked.status.code(), Some(1), "{checked:?}");
    let told = String::from_utf8(checked.stderr).unwrap();
    assert!(told.contains("restore a backup"), "{told}");
}

#[test]
fn folder_and_missing_folder_are_said_so() {
    let folder = TempDir::new().unwrap();
    std::fs::create_dir(folder.path().join("d")).unwrap();
    is_refused(
        None,
        &folder.path().join("d"),
        "is a folder; name a file in it",
    );
    is_refused(
        None,
        &folder.path().join("none/club.db"),
        "does not exist; make it or name another file",
    );
    run(async {
        let opened = Store::open(&file_url(&folder.path().join("club.db"))).await;
        opened.unwrap().close().await;
    });
}
