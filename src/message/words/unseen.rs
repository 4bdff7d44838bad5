//! Characters that are not seen: they join, part or turn the text around them. The one list of
//! them; what is done about them is decided where they are met.
//!
//! Source: Unicode Standard Annex #9, section 2 (explicit formatting characters of the
//! bidirectional algorithm); the Unicode Character Database, general category Cf, for the others.

/// Whether it opens or closes a run of text that is shown in another order than it is written:
/// embeddings, overrides and isolates.
#[must_use]
pub const fn reorders(c: char) -> bool {
    matches!(c, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Whether it has a say in the direction of the text around it: what [`reorders`], and the three
/// marks that stand for a letter of either direction.
#[must_use]
pub const fn turns_direction(c: char) -> bool {
    reorders(c) || matches!(c, '\u{061C}' | '\u{200E}' | '\u{200F}')
}

/// Whether nothing is seen of it: direction marks, and those that join or part.
#[must_use]
pub const fn is_unseen(c: char) -> bool {
    turns_direction(c)
        || matches!(c, '\u{AD}' | '\u{200B}'..='\u{200D}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_list_holds_the_one_before() {
        let all = || ('\0'..='\u{ffff}').filter(|c| is_unseen(*c));
        assert_eq!(all().filter(|c| reorders(*c)).count(), 9);
        assert_eq!(all().filter(|c| turns_direction(*c)).count(), 12);
        assert!(('\0'..='\u{ffff}').all(|c| is_unseen(c) || !turns_direction(c)));
        assert!(!all().any(char::is_alphanumeric));
    }
}
