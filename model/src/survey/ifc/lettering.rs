//! Lettering as the text form of IFC writes it: letters beyond ASCII stand behind backslashes.
//!
//! `\X\E9` and `\S\i` are letters of ISO 8859-1, `\X2\00E900EA\X0\` and `\X4\0001F3E0\X0\` runs of Unicode
//! (ISO 10303-21, 6.4.3, from memory). Many programs write plain UTF-8 instead, which is taken as it is.

/// The letters between two apostrophes of a file.
pub(super) fn text_of(bytes: &[u8]) -> String {
    let written = match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes.iter().copied().map(char::from).collect(),
    };
    let mut text = String::with_capacity(written.len());
    let mut rest = written.as_str();
    while let Some(at) = rest.find(['\\', '\'']) {
        text.push_str(&rest[..at]);
        let (letters, after) = special(&rest[at..]);
        text.push_str(&letters);
        rest = after;
    }
    text.push_str(rest);
    text
}

/// What the characters behind a backslash or apostrophe mean, and what follows them.
fn special(rest: &str) -> (String, &str) {
    if let Some(after) = rest.strip_prefix("''") {
        return ("'".to_owned(), after);
    }
    if let Some(after) = rest.strip_prefix("\\\\") {
        return ("\\".to_owned(), after);
    }
    for (mark, digits) in [("\\X2\\", 4), ("\\X4\\", 8)] {
        let Some(after) = rest.strip_prefix(mark) else { continue };
        let end = after.find("\\X0\\").unwrap_or(after.len());
        return (run_of_codes(&after[..end], digits), after[end..].strip_prefix("\\X0\\").unwrap_or(""));
    }
    if let Some(after) = rest.strip_prefix("\\X\\")
        && let Some(code) = after.get(..2).and_then(|hex| u8::from_str_radix(hex, 16).ok())
    {
        return (char::from(code).to_string(), &after[2..]);
    }
    if let Some(after) = rest.strip_prefix("\\S\\")
        && let Some(letter) = after.chars().next()
        && letter.is_ascii()
    {
        return (char::from(letter as u8 | 0x80).to_string(), &after[1..]);
    }
    // `\PA\` chooses another part of ISO 8859; nearly every file stays with the first.
    if rest.get(..4).is_some_and(|mark| mark.starts_with("\\P") && mark.ends_with('\\')) {
        return (String::new(), &rest[4..]);
    }
    let (first, after) = rest.split_at(1);
    (first.to_owned(), after)
}

/// Hexadecimal codes of that many digits each; 16-bit ones may be halves of a surrogate pair.
fn run_of_codes(hex: &str, digits: usize) -> String {
    let codes: Vec<u32> = hex
        .as_bytes()
        .chunks_exact(digits)
        .filter_map(|code| u32::from_str_radix(std::str::from_utf8(code).ok()?, 16).ok())
        .collect();
    if digits == 4 {
        let halves: Vec<u16> = codes.iter().map(|code| *code as u16).collect();
        return String::from_utf16_lossy(&halves);
    }
    codes.into_iter().map(|code| char::from_u32(code).unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_beyond_ascii_are_read_in_every_spelling() {
        for (written, read) in [
            ("K\\X2\\00FC\\X0\\che", "Küche"),
            ("K\\X\\FCche", "Küche"),
            ("K\\S\\|che", "Küche"),
            ("Küche", "Küche"),
            ("it''s", "it's"),
            ("a\\\\b", "a\\b"),
            ("\\X4\\0001F3E0\\X0\\", "🏠"),
            ("\\X2\\D83CDFE0\\X0\\", "🏠"),
            ("\\PA\\x", "x"),
            ("\\X2\\00F", ""),
            ("\\X\\zz", "\\X\\zz"),
            ("end\\", "end\\"),
        ] {
            assert_eq!(text_of(written.as_bytes()), read, "{written}");
        }
        assert_eq!(text_of(b"K\xFCche"), "Küche");
    }
}
