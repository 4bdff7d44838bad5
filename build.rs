//! Tells cargo to build again when a migration is added: the files are embedded.

fn main() {
    println!("cargo:rerun-if-changed=migrations");
}
