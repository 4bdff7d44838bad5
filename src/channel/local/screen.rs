//! What a terminal can show: asked of itself, since its name tells nothing.
//!
//! The question is the one for the primary attributes of a device, which nearly every terminal
//! answers, with the one for the window's size in pixels before it, which some leave unanswered. A
//! terminal that draws sixels has 4 among its attributes. One that answers nothing is waited for a
//! moment, once; whatever was typed meanwhile is given back.
//!
//! *Sources*: ECMA-48, fifth edition 1991, 8.3.24 (device attributes); attribute 4 as in Digital
//! Equipment Corporation, *VT330/VT340 Programmer Reference Manual, volume 1: Text Programming*,
//! chapter 11 (from memory); the window's size is common practice, no source.

use std::io::{self, IsTerminal as _, Write as _};
use std::os::fd::AsFd as _;
use std::time::Duration;

use nix::poll::{PollFd, PollFlags, PollTimeout, poll};
use nix::sys::termios::{
    LocalFlags, SetArg, SpecialCharacterIndices, Termios, tcgetattr, tcsetattr,
};
use nix::unistd::read;

/// The window's size in pixels; the primary attributes.
const QUESTION: &[u8] = b"\x1b[14t\x1b[c";
/// The attribute of terminals that draw sixels.
const SIXELS: u32 = 4;
/// How long an answer, or more of it, is waited for.
const PATIENCE: Duration = Duration::from_millis(500);
/// No answer is as long; what is, was pasted.
const LONGEST: usize = 4096;

/// What was learned.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Screen {
    /// It draws sixels, on so many pixels across; 0 where it does not say how many.
    pub sixels: Option<u32>,
    /// What was typed meanwhile.
    pub typed: String,
}

/// Asks the terminal that standard input and output are.
pub fn ask() -> Screen {
    let (input, output) = (io::stdin(), io::stdout());
    if !input.is_terminal() || !output.is_terminal() {
        return Screen::default();
    }
    let Ok(usual) = tcgetattr(&input) else {
        return Screen::default();
    };
    // Nobody is asked who is typing already.
    if is_ready(&input, PollTimeout::ZERO)
        || tcsetattr(&input, SetArg::TCSANOW, &mute(&usual)).is_err()
    {
        return Screen::default();
    }
    let answer = answer(&input, output);
    // It cannot be mended if this fails.
    let _ = tcsetattr(&input, SetArg::TCSANOW, &usual);
    understood(&answer)
}

/// Settings in which an answer is read as it comes, and not shown.
fn mute(usual: &Termios) -> Termios {
    let mut mute = usual.clone();
    mute.local_flags
        .remove(LocalFlags::ICANON | LocalFlags::ECHO);
    for (which, value) in [
        (SpecialCharacterIndices::VMIN, 1),
        (SpecialCharacterIndices::VTIME, 0),
    ] {
        if let Some(setting) = mute.control_chars.get_mut(which as usize) {
            *setting = value;
        }
    }
    mute
}

fn is_ready(input: &io::Stdin, patience: PollTimeout) -> bool {
    let mut waits = [PollFd::new(input.as_fd(), PollFlags::POLLIN)];
    poll(&mut waits, patience).is_ok_and(|ready| ready > 0)
}

/// Everything that comes until the answer is whole, or nothing more comes.
fn answer(input: &io::Stdin, mut output: io::Stdout) -> Vec<u8> {
    let asked = output.write_all(QUESTION).and_then(|()| output.flush());
    let patience = PollTimeout::try_from(PATIENCE).unwrap_or(PollTimeout::ZERO);
    let mut all = Vec::new();
    let mut piece = [0; 256];
    while asked.is_ok()
        && attributes(&all).is_none()
        && all.len() < LONGEST
        && is_ready(input, patience)
    {
        match read(input, &mut piece) {
            Ok(count) if count > 0 => all.extend(piece.iter().take(count)),
            _ => break,
        }
    }
    all
}

/// A control sequence: where it stands, and its numbers.
type Found = (std::ops::Range<usize>, Vec<u32>);

/// `ESC [ ? 62 ; 4 ; 22 c`
fn attributes(bytes: &[u8]) -> Option<Found> {
    sequence(bytes, b"\x1b[?", b'c')
}

/// `ESC [ 4 ; HEIGHT ; WIDTH t`
fn size(bytes: &[u8]) -> Option<Found> {
    sequence(bytes, b"\x1b[4;", b't')
}

/// The first sequence that begins and ends so, with numbers between.
fn sequence(bytes: &[u8], begins: &[u8], ends: u8) -> Option<Found> {
    let starts = bytes.windows(begins.len()).enumerate();
    let starts = starts.filter(|(_, window)| *window == begins);
    let mut found = starts.filter_map(|(start, _)| {
        let inside = bytes.get(start + begins.len()..)?;
        let long = inside
            .iter()
            .position(|byte| !byte.is_ascii_digit() && *byte != b';')?;
        let (numbers, rest) = inside.split_at_checked(long)?;
        let numbers = std::str::from_utf8(numbers).ok()?.split(';');
        let whole = start..start + begins.len() + long + 1;
        let is_it = rest.first() == Some(&ends);
        is_it.then(|| (whole, numbers.filter_map(|n| n.parse().ok()).collect()))
    });
    found.next()
}

/// Reads an answer, with whatever was typed around it.
fn understood(answer: &[u8]) -> Screen {
    let (attributes, size) = (attributes(answer), size(answer));
    let mut typed = answer.to_vec();
    let mut answers: Vec<_> = [&attributes, &size].into_iter().flatten().collect();
    answers.sort_by_key(|(place, _)| std::cmp::Reverse(place.start));
    for (place, _) in answers {
        typed.drain(place.clone());
    }
    let draws = attributes.is_some_and(|(_, numbers)| numbers.contains(&SIXELS));
    let wide = size.and_then(|(_, numbers)| numbers.get(1).copied());
    Screen {
        sixels: draws.then(|| wide.unwrap_or(0)),
        typed: String::from_utf8_lossy(&typed).into_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_are_told_from_what_was_typed() {
        let cases: [(&str, &[u8], Option<u32>, &str); 9] = [
            ("nothing", b"", None, ""),
            ("no sixels", b"\x1b[?62;22c", None, ""),
            ("sixels", b"\x1b[?62;4;22c", Some(0), ""),
            ("sixels alone", b"\x1b[?4c", Some(0), ""),
            ("forty is no four", b"\x1b[?62;40c", None, ""),
            ("its size", b"\x1b[4;900;1440t\x1b[?64;4c", Some(1440), ""),
            (
                "typed around",
                b"be\x1b[4;900;1440tn\x1b[?64;4cch\n",
                Some(1440),
                "bench\n",
            ),
            (
                "typed alone",
                "über 80x10\n".as_bytes(),
                None,
                "über 80x10\n",
            ),
            ("half of it", b"x9\x1b[?62;", None, "x9\x1b[?62;"),
        ];
        for (label, answer, sixels, typed) in cases {
            let typed = typed.to_owned();
            assert_eq!(understood(answer), Screen { sixels, typed }, "{label}");
        }
    }
}
