//! The files of replies, in a folder of this program's own: written before the commit, since a reply
//! that is committed must find its files. What an event that was not stored left behind is removed
//! with what is old. Pictures are drawn by the channels; here is said what they are called, so that
//! those of a member are found who is forgotten.

use std::fs;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use crate::bot::figure::Figure;
use crate::bot::reply::{File, Outgoing, Reply};
use crate::service::ServiceError;
use crate::store::atomic;
use crate::store::private::own_folder;

/// A file is kept for so long after the newest was written: nobody asks for a reply again after that.
const KEPT: Duration = Duration::from_secs(24 * 3600);

/// The folders.
#[derive(Clone, Debug)]
pub(super) struct Files {
    /// Of files that replies hold; it is made when the first is written.
    pub(super) own: PathBuf,
    /// Of pictures, where a channel puts them into one.
    pub(super) pictures: Option<PathBuf>,
}

impl Default for Files {
    fn default() -> Self {
        let name = format!("chalkbell-files-{}", std::process::id());
        Self {
            own: std::env::temp_dir().join(name),
            pictures: None,
        }
    }
}

impl Files {
    /// Removes what was written for a member, and the pictures that show them or may show them among
    /// others.
    pub(super) fn forget(&self, team: &str, author: &str) {
        let own = format!("{:016x}-", mixed([team, author]));
        remove(&self.own, |name| name.starts_with(&own));
        if let Some(pictures) = &self.pictures {
            let theirs = [author, ALL].map(|whose| format!("-{:016x}-", mixed([team, whose])));
            remove(pictures, |name| {
                theirs.iter().any(|part| name.contains(part))
            });
        }
    }

    /// Writes the files of these replies to a member, and says in the replies where they lie.
    pub(super) fn put(&self, author: &str, out: &mut [Outgoing]) -> Result<(), ServiceError> {
        for one in out {
            let (Outgoing::Reply(reply) | Outgoing::Update(reply)) = one else {
                continue;
            };
            for place in 0..reply.files.len() {
                let path = self.place_of(author, reply, place);
                let Some(file) = reply.files.get_mut(place) else {
                    continue;
                };
                if let Some(content) = file.content.take() {
                    self.write(&path, &content).map_err(|fault| {
                        tracing::error!(%fault, "a file of a reply cannot be written");
                        let folder = self.own.display();
                        ServiceError::Refused(format!(
                            "the folder {folder} for files cannot be written ({fault}); \
                             make room or mend its permissions"
                        ))
                    })?;
                    file.path = path.to_string_lossy().into_owned();
                }
            }
        }
        Ok(())
    }

    /// The same for the same file of the same reply, and nobody else's.
    fn place_of(&self, author: &str, reply: &Reply, place: usize) -> PathBuf {
        let half = |salt: u8| {
            let mut hasher = DefaultHasher::new();
            (salt, &reply.team, &reply.id, place).hash(&mut hasher);
            hasher.finish()
        };
        let ending = reply.files.get(place).and_then(|file| {
            let (_, ending) = file.name.rsplit_once('.')?;
            let plain = ending.chars().all(|c| c.is_ascii_alphanumeric());
            (plain && ending.len() <= 8).then_some(ending)
        });
        let ending = ending.unwrap_or("file");
        let whose = mixed([&reply.team, author]);
        let name = format!("{whose:016x}-{:016x}{:016x}.{ending}", half(0), half(1));
        self.own.join(name)
    }

    fn write(&self, path: &Path, content: &[u8]) -> std::io::Result<()> {
        own_folder(&self.own)?;
        atomic::write(path, content)?;
        self.remove_old(fs::metadata(path)?.modified()?)
    }

    fn remove_old(&self, newest: SystemTime) -> std::io::Result<()> {
        for entry in fs::read_dir(&self.own)? {
            let entry = entry?;
            let written = entry.metadata().and_then(|about| about.modified());
            let age = written.ok().and_then(|at| newest.duration_since(at).ok());
            if age.is_some_and(|age| age > KEPT) {
                drop(fs::remove_file(entry.path()));
            }
        }
        Ok(())
    }
}

/// Removes the files in this folder that are called so.
fn remove(folder: &Path, is_meant: impl Fn(&str) -> bool) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        if is_meant(&entry.file_name().to_string_lossy()) {
            drop(fs::remove_file(entry.path()));
        }
    }
}

/// In place of a member: everybody of the team.
const ALL: &str = "";

/// What the file of a picture is called: `week-2026-11-23-WHOSE-WHICH.png`, the same for the same
/// reply of the same team. Ids of teams, members and replies may hold what no file name may, and
/// say who they are.
pub fn picture_name(reply: &Reply, file: &File, figure: &Figure) -> String {
    let whose = match figure {
        Figure::Week(week) if week.whose.is_none() => reply.to.as_deref(),
        Figure::Lift(_) => reply.to.as_deref(),
        Figure::Week(_) | Figure::Team(_) => None,
    };
    let whose = mixed([&reply.team, whose.unwrap_or(ALL)]);
    let which = mixed([&reply.team, &reply.id]);
    let stem = file.name.trim_end_matches(".png");
    let safe = |c: char| if c.is_alphanumeric() { c } else { '-' };
    let stem: String = stem.chars().map(safe).take(60).collect();
    format!("{stem}-{whose:016x}-{which:016x}.png")
}

/// FNV-1a, 64 bits, over both with a nought between: the same in every run.
fn mixed([one, other]: [&str; 2]) -> u64 {
    let bytes = one.bytes().chain([0]).chain(other.bytes());
    bytes.fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bot::figure::{LiftFigure, TeamFigure, WeekFigure};
    use chrono::NaiveDate;

    fn files_in(own: PathBuf) -> Files {
        Files {
            own,
            pictures: None,
        }
    }

    fn week(whose: Option<&str>) -> Figure {
        let day = NaiveDate::default();
        Figure::Week(WeekFigure {
            whose: whose.map(str::to_owned),
            from: day,
            to: day,
            sets: 0,
            not_counted: 0,
            muscles: Vec::new(),
        })
    }

    fn lift() -> Figure {
        Figure::Lift(LiftFigure {
            exercise: "dip".to_owned(),
            unit: "kg".to_owned(),
            points: Vec::new(),
            sets: Vec::new(),
        })
    }

    fn team() -> Figure {
        let day = NaiveDate::default();
        Figure::Team(TeamFigure {
            mean_of: None,
            weeks_of: None,
            from: day,
            to: day,
            page: (1, 1),
            muscles: Vec::new(),
            members: Vec::new(),
        })
    }

    fn picture(team: &str, id: &str, to: &str, figure: &Figure) -> String {
        let reply = Reply {
            id: id.to_owned(),
            team: team.to_owned(),
            to: Some(to.to_owned()),
            ..Reply::default()
        };
        let file = File {
            name: "week.png".to_owned(),
            ..File::default()
        };
        picture_name(&reply, &file, figure)
    }

    #[test]
    fn pictures_are_called_by_team_and_reply_and_leave_no_folder() {
        let one = picture("club", "m1.1", "ann", &week(None));
        assert!(one.starts_with("week-") && one.ends_with(".png"), "{one}");
        assert_eq!(one, picture("club", "m1.1", "ann", &week(None)));
        assert_ne!(one, picture("clubm", "1.1", "ann", &week(None)));
        assert_ne!(one, picture("club", "m1.2", "ann", &week(None)));
        let file = File {
            name: "../../.ssh/x".to_owned(),
            ..File::default()
        };
        let odd = picture_name(&Reply::default(), &file, &team());
        assert!(
            !odd.contains(['/', '\\']) && odd.matches('.').count() == 1,
            "{odd}"
        );
    }

    #[test]
    fn pictures_that_may_show_who_is_forgotten_go_and_no_others() {
        let folder = tempfile::tempdir().expect("a folder");
        let [gone, kept] = [
            [
                picture("club", "m1.1", "ann", &week(None)),
                picture("club", "m2.1", "ann", &lift()),
                picture("club", "m3.1", "coach", &week(Some("Ann"))),
                picture("club", "m4.1", "coach", &team()),
            ],
            [
                picture("club", "m5.1", "ben", &week(None)),
                picture("crew", "m6.1", "ann", &week(None)),
                picture("crew", "m7.1", "coach", &team()),
                "holiday-ann.png".to_owned(),
            ],
        ];
        for name in gone.iter().chain(&kept) {
            fs::write(folder.path().join(name), "x").expect("writable");
        }
        let files = Files {
            own: folder.path().join("files"),
            pictures: Some(folder.path().to_owned()),
        };
        files.forget("club", "ann");
        for (names, there) in [(&gone, false), (&kept, true)] {
            for name in names {
                assert_eq!(folder.path().join(name).exists(), there, "{name}");
            }
        }
    }

    fn reply(id: &str, content: Option<&[u8]>) -> Vec<Outgoing> {
        let file = File {
            name: "log.csv".to_owned(),
            content: content.map(<[u8]>::to_vec),
            ..File::default()
        };
        vec![Outgoing::Reply(Reply {
            id: id.to_owned(),
            files: vec![file],
            ..Reply::default()
        })]
    }

    fn path(out: &[Outgoing]) -> PathBuf {
        match out {
            [Outgoing::Reply(reply)] => PathBuf::from(&reply.files[0].path),
            other => panic!("no reply: {other:?}"),
        }
    }

    #[test]
    fn content_is_written_for_its_owner_alone_and_leaves_the_reply() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().expect("a folder");
        let files = files_in(folder.path().join("files"));
        let mut out = reply("m1.1", Some(b"a,b"));
        files.put("ann", &mut out).expect("written");
        let path = path(&out);
        assert_eq!(fs::read(&path).expect("there"), b"a,b");
        let mode = fs::metadata(&path).expect("there").permissions().mode();
        assert_eq!(mode & 0o777, 0o600);
        let kept = serde_json::to_string(&out).expect("JSON");
        assert!(!kept.contains("content"), "{kept}");
        files.forget("", "ben");
        files.forget("club", "ann");
        assert!(path.exists());
        files.forget("", "ann");
        assert!(!path.exists());
    }

    #[test]
    fn replies_of_other_ids_and_teams_have_files_of_their_own() {
        let folder = tempfile::tempdir().expect("a folder");
        let files = files_in(folder.path().to_owned());
        let mut paths: Vec<PathBuf> = ["m1.1", "m1.2"]
            .map(|id| {
                let mut out = reply(id, Some(b"x"));
                files.put("ann", &mut out).expect("written");
                path(&out)
            })
            .into();
        paths.dedup();
        assert_eq!(paths.len(), 2);
    }
}
