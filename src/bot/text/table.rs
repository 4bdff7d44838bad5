//! What stands monospaced, narrow enough for a phone; and lists that wrap by themselves.
//!
//! A table is for numbers under each other. Everything with names in it is a list: a phone wraps a
//! sentence well, and a row of columns badly.

/// Widest line of a monospaced block, columns. A phone shows some 40 before it wraps a line (common
/// practice, no source).
pub const WIDTH: usize = 38;

/// Lines that are shown monospaced.
pub fn block(lines: &[String]) -> String {
    format!("```\n{}\n```", lines.join("\n"))
}

/// Words in lines of a block, the further ones indented; a word that is wider than a line is broken.
pub fn wrapped(text: &str, indent: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    let mut empty = true;
    let words = text.split_whitespace().flat_map(|word| {
        let letters: Vec<char> = word.chars().collect();
        let parts = letters.chunks(WIDTH - indent);
        parts.map(String::from_iter).collect::<Vec<String>>()
    });
    for word in words {
        if !empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
            lines.push(std::mem::replace(&mut line, " ".repeat(indent)));
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(&word);
        empty = false;
    }
    lines.push(line);
    lines
}

/// `a, b and c`.
pub fn and(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_line_is_broken_at_spaces_and_a_long_word_anywhere() {
        let lines = wrapped("one two three four five six seven eight nine ten", 2);
        assert_eq!(
            lines,
            ["one two three four five six seven", "  eight nine ten"]
        );
        let lines = wrapped(&"x".repeat(100), 2);
        assert!(lines.iter().all(|line| line.len() <= WIDTH), "{lines:?}");
        assert_eq!(lines.concat().matches('x').count(), 100);
    }
}
