//! What revision and status codes say, and the cautions that every issued sheet carries.
//!
//! Codes follow the UK national annex of BS EN ISO 19650-2 in its 2021 edition, as tabled by two publishers
//! (secondary sources; the annex itself was not at hand).

/// The codes for which a status word is known, in their order.
const STATUS: [(&str, &str); 9] = [
    ("S0", "work in progress"),
    ("S1", "for coordination"),
    ("S2", "for information"),
    ("S3", "for review and comment"),
    ("S4", "for review and authorization"),
    ("S5", "for review and acceptance"),
    ("A4", "for construction"),
    ("A5", "construction record"),
    ("A6", "handover"),
];

/// The status with its words: `S2 for information`; a code that is not known stays as it is.
pub fn status_words(code: &str) -> String {
    let code = code.trim();
    STATUS
        .iter()
        .find(|(known, _)| known.eq_ignore_ascii_case(code))
        .map_or_else(|| code.to_owned(), |(known, words)| format!("{known} {words}"))
}

/// What a revision code says: `P` for preliminary, `C` for contractual issues.
pub fn revision_words(code: &str) -> &'static str {
    match code.trim().chars().next() {
        Some('P' | 'p') if code.contains('.') => "preliminary, work in progress between issues",
        Some('P' | 'p') => "preliminary issue",
        Some('C' | 'c') => "contractual issue",
        _ => "a revision code of this project",
    }
}

/// Cautions that every sheet carries.
pub const CAUTIONS: [&str; 5] = [
    "A competent person designs, installs and tests the installation to BS\u{a0}7671 and the local code.",
    "The fire detection and alarm system is designed to BS\u{a0}5839-6 by a person competent in it.",
    "Powered gates and doors need protective devices of their own.",
    "Depths, joists and structure are checked on site before anything is cut or drilled.",
    "This drawing is not an installation certificate.",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_read_with_their_words() {
        assert_eq!(status_words("a4"), "A4 for construction");
        assert_eq!(status_words(" S2 "), "S2 for information");
        assert_eq!(status_words("X9"), "X9");
        assert_eq!(revision_words("P01"), "preliminary issue");
        assert_eq!(revision_words("P01.02"), "preliminary, work in progress between issues");
        assert_eq!(revision_words("C02"), "contractual issue");
    }
}
