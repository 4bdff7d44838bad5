//! Texts as they may stand in a channel: nothing in them notifies, links, disguises or overflows.
//!
//! The bot's own texts use backticks and nothing else of the platform's markup, so that whatever
//! else looks like markup came from a member, and is shown as written.

use std::fmt::Write as _;

/// Marks that may stack on one letter; more of them climb into the lines around.
const MARKS_ON_A_LETTER: usize = 2;
/// Shows nothing, and parts what stands on both sides.
const PART: char = '\u{200B}';

/// The text with everything in it escaped. Inside backticks the platform shows text as it is, so
/// only what would break out of them, or reach out of the line, is changed there.
pub fn escape(text: &str) -> String {
    let mut shown = String::with_capacity(text.len() + 16);
    let mut code = Code::Off;
    for (place, line) in text.split('\n').enumerate() {
        if place > 0 {
            shown.push('\n');
        }
        if line.trim_end() == "```" {
            code = if code == Code::Block {
                Code::Off
            } else {
                Code::Block
            };
            shown.push_str("```");
            continue;
        }
        if code == Code::Inline {
            // A line that left a backtick open took none with it.
            code = Code::Off;
        }
        code = show_line(line, code, &mut shown);
    }
    if code == Code::Block {
        shown.push_str("\n```");
    }
    shown
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Code {
    Off,
    Inline,
    Block,
}

fn show_line(line: &str, mut code: Code, shown: &mut String) -> Code {
    let paired = line.matches('`').count().is_multiple_of(2);
    let mut marks = 0;
    let mut before = '\n';
    for c in line.chars().filter(|&c| !hides(c)) {
        marks = if stacks(c) { marks + 1 } else { 0 };
        if marks > MARKS_ON_A_LETTER {
            continue;
        }
        match (c, code) {
            ('`', Code::Off) if paired => code = Code::Inline,
            ('`', Code::Inline) => code = Code::Off,
            ('`', _) => {
                // In a block, or one that nothing closes.
                shown.push('\'');
                before = c;
                continue;
            }
            ('*' | '_' | '~' | '|' | '\\' | '[' | ']', Code::Off) => shown.push('\\'),
            ('#' | '>' | '-', Code::Off) if before == '\n' => shown.push('\\'),
            _ => {}
        }
        if before == ':' && c == '/' {
            shown.push(PART);
        }
        shown.push(c);
        if matches!(c, '@' | '<') {
            shown.push(PART);
        }
        before = c;
    }
    code
}

/// Characters that turn the order of what stands around them, or show nothing. Source: Unicode
/// Standard Annex #9, section 2, and the general categories Cc and Cf.
const fn hides(c: char) -> bool {
    matches!(c,
        '\0'..='\x09' | '\x0B'..='\x1F' | '\x7F'..='\u{9F}' | '\u{AD}' | '\u{061C}'
        | '\u{180E}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}'
        | '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}' | '\u{E0000}'..='\u{E007F}')
}

/// Combining marks (the blocks that stack without end).
const fn stacks(c: char) -> bool {
    matches!(c,
        '\u{0300}'..='\u{036F}' | '\u{0483}'..='\u{0489}' | '\u{1AB0}'..='\u{1AFF}'
        | '\u{1DC0}'..='\u{1DFF}' | '\u{20D0}'..='\u{20FF}' | '\u{FE20}'..='\u{FE2F}')
}

/// The text in parts of at most `most` characters, broken between lines where that is possible; a
/// monospaced block that is broken is closed and opened again.
pub fn parts(text: &str, most: usize) -> Vec<String> {
    let mut parts = Vec::new();
    let mut part = String::new();
    let mut block = false;
    for line in text.split('\n') {
        for piece in pieces(line, most - 12) {
            // A block that is open here may have to be closed here.
            let close = if block || line == "```" { 4 } else { 0 };
            let grown = length(&part) + length(&piece) + 1 + close;
            if grown > most && !part.is_empty() {
                if block {
                    part.push_str("\n```");
                }
                parts.push(std::mem::take(&mut part));
                if block {
                    part.push_str("```");
                }
            }
            if !part.is_empty() {
                part.push('\n');
            }
            part.push_str(&piece);
        }
        block ^= line == "```";
    }
    if !part.trim().is_empty() {
        parts.push(part);
    }
    parts
}

fn length(text: &str) -> usize {
    text.chars().count()
}

/// A line in pieces of at most `most` characters; nearly always the line itself.
fn pieces(line: &str, most: usize) -> Vec<String> {
    let letters: Vec<char> = line.chars().collect();
    if letters.is_empty() {
        return vec![String::new()];
    }
    letters
        .chunks(most)
        .map(|piece| piece.iter().collect())
        .collect()
}

/// The text, cut to at most `most` characters where it is longer.
pub fn cut(text: &str, most: usize) -> String {
    if length(text) <= most {
        return text.to_owned();
    }
    let mut short: String = text.chars().take(most.saturating_sub(1)).collect();
    let _ = write!(short, "…");
    short
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn mentions_of_any_kind_lose_their_force() {
        for text in [
            "@everyone",
            "@here",
            "<@1>",
            "<@!1>",
            "<@&1>",
            "<#1>",
            "</week:1>",
            "<:a:1>",
        ] {
            let shown = escape(text);
            assert!(!shown.contains(text), "{text} became {shown}");
        }
    }

    #[test]
    fn links_and_markup_show_as_written() {
        assert_eq!(escape("http://x.example"), "http:\u{200B}//x.example");
        assert_eq!(escape("**a** __b__"), "\\*\\*a\\*\\* \\_\\_b\\_\\_");
        assert_eq!(escape("[a](b)"), "\\[a\\](b)");
        assert_eq!(escape("# big\n> said"), "\\# big\n\\> said");
    }

    #[test]
    fn code_stays_code_and_cannot_be_broken_out_of() {
        assert_eq!(escape("say `x_9` now"), "say `x_9` now");
        assert_eq!(escape("a ` b"), "a ' b");
        assert_eq!(escape("```\na `*` b\n```\n*"), "```\na '*' b\n```\n\\*");
        assert_eq!(escape("```\nopen"), "```\nopen\n```");
    }

    #[test]
    fn stacked_and_turning_marks_are_thinned_out() {
        let zalgo = format!("a{}", "\u{0301}".repeat(50));
        assert_eq!(escape(&zalgo).chars().count(), 3);
        assert_eq!(escape("\u{202E}abc\u{2066}"), "abc");
    }

    #[test]
    fn long_texts_break_between_lines_and_keep_their_block() {
        let text = format!("```\n{}```", "0123456789\n".repeat(30));
        let parts = parts(&text, 100);
        assert!(parts.len() > 3);
        for part in &parts {
            assert!(part.chars().count() <= 100, "{}", part.chars().count());
            assert_eq!(part.matches("```").count(), 2, "{part}");
        }
        let lines: usize = parts
            .iter()
            .map(|part| part.matches("0123456789").count())
            .sum();
        assert_eq!(lines, 30);
    }

    proptest! {
        #[test]
        fn nothing_notifies_whatever_is_written(text in "(?s).{0,80}|[@<>#!&/:`a-z*\\[\\]\n]{0,40}") {
            let shown = escape(&text);
            prop_assert!(!shown.contains("@everyone") && !shown.contains("@here"));
            for (place, _) in shown.match_indices('@') {
                prop_assert!(shown[place + 1..].starts_with(PART));
            }
            prop_assert!(!shown.contains("://"));
        }

        #[test]
        fn parts_never_exceed_their_length(text in "(?s)(.{0,60}\n|```\n){0,30}", most in 40_usize..200) {
            for part in parts(&escape(&text), most) {
                prop_assert!(part.chars().count() <= most);
                prop_assert!(!part.trim().is_empty());
            }
        }
    }
}
