//! The command line.

use std::io;

use chalkbell::channel::read::read_lines;
use chalkbell::config;
use chalkbell::domain::mass::Unit;
use chalkbell::message::Reader;
use clap::{Parser, Subcommand};

#[derive(Parser)]
#[command(version, about)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Read messages from standard input, one a line, and print what each was read as.
    Read {
        /// The member's own unit: kg or lb.
        #[arg(long, default_value = "kg", value_parser = unit)]
        unit: Unit,
        /// The lines are one member's messages, a minute apart.
        #[arg(long)]
        thread: bool,
    },
}

fn unit(word: &str) -> Result<Unit, String> {
    Unit::from_symbol(word).ok_or_else(|| "write kg or lb".to_owned())
}

fn main() -> anyhow::Result<()> {
    let Command::Read { unit, thread } = Arguments::parse().command;
    let reader = Reader::new(config::built_in());
    let output = io::BufWriter::new(io::stdout().lock());
    read_lines(&reader, io::stdin().lock(), output, unit, thread)?;
    Ok(())
}
