//! Embeds the migrations: for each engine a list of the files in its folder, and a build anew when one is added.
//!
//! The driver has a macro for it, which takes the whole driver, with both engines, to be built a second time
//! for the compiler's own use.

use std::error::Error;
use std::fmt::Write as _;
use std::path::Path;
use std::{env, fs};

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo:rerun-if-changed=migrations");
    let made = env::var_os("OUT_DIR").ok_or("cargo names the folder for what is made")?;
    for engine in ["sqlite", "postgres"] {
        let list = list(&Path::new("migrations").join(engine))?;
        fs::write(Path::new(&made).join(engine).with_extension("rs"), list)?;
    }
    Ok(())
}

/// `[(1, "first", "CREATE TABLE …"), …]` of the files in a folder: their text, so that what is built does not
/// depend on where it lay.
fn list(folder: &Path) -> Result<String, Box<dyn Error>> {
    let mut files = fs::read_dir(folder)?.collect::<Result<Vec<_>, _>>()?;
    files.sort_by_key(fs::DirEntry::file_name);
    let mut list = String::from("[");
    for file in files {
        let name = file
            .file_name()
            .into_string()
            .map_err(|_| "a name in UTF-8")?;
        let (number, rest) = name
            .split_once('_')
            .ok_or("a name such as 0001_first.sql")?;
        let number: i64 = number.parse()?;
        let title = rest
            .strip_suffix(".sql")
            .ok_or("a file of SQL")?
            .replace('_', " ");
        let text = fs::read_to_string(file.path())?;
        write!(list, "({number}, {title:?}, {text:?}),")?;
    }
    list.push(']');
    Ok(list)
}
