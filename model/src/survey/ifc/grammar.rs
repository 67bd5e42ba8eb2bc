//! The grammar of a record: numbers, words, lettering, references, and lists of them (ISO 10303-21, clear text
//! encoding, from memory).

/// How deep lists may lie within lists: the standard's deepest need four.
const DEEPEST_LIST: usize = 16;

/// One argument of a record.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Value<'a> {
    /// `$`, `*` or something that no reader here asks for (binary).
    Missing,
    /// A whole or real number.
    Number(f64),
    /// What stands between apostrophes, as written.
    Text(&'a [u8]),
    /// What stands between full stops.
    Word(&'a str),
    /// `#123`.
    Reference(u64),
    /// What stands in brackets.
    List(Vec<Value<'a>>),
    /// A named type around its value: `IFCLENGTHMEASURE(3.2)`.
    Typed(&'a str, Vec<Value<'a>>),
}

impl Value<'_> {
    /// The number, also where a type is written around it.
    pub(super) fn number(&self) -> Option<f64> {
        match self {
            Self::Number(number) => number.is_finite().then_some(*number),
            Self::Typed(_, inside) => match inside.first() {
                Some(Self::Number(number)) => number.is_finite().then_some(*number),
                _ => None,
            },
            _ => None,
        }
    }

    /// The record it points to.
    pub(super) const fn reference(&self) -> Option<u64> {
        if let Self::Reference(number) = self { Some(*number) } else { None }
    }
}

/// Whether bytes begin with the standard's opening words, blanks and comments aside.
pub(super) fn begins_like_step(bytes: &[u8]) -> bool {
    Cursor { bytes, at: 0 }.take_opening()
}

/// The arguments of a record: what stands in its outermost brackets.
pub(super) fn parse(bytes: &[u8]) -> Option<Vec<Value<'_>>> {
    let mut cursor = Cursor { bytes, at: 0 };
    cursor.skip_blank();
    cursor.take(b"(").then(|| cursor.list(0)).flatten()
}

/// A place in the bytes of a file, moved on as they are read.
pub(super) struct Cursor<'a> {
    /// The bytes.
    pub(super) bytes: &'a [u8],
    /// How many of them are behind.
    pub(super) at: usize,
}

impl<'a> Cursor<'a> {
    fn peek(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    fn rest(&self) -> &'a [u8] {
        self.bytes.get(self.at..).unwrap_or(&[])
    }

    /// Moves behind these bytes if they come next.
    pub(super) fn take(&mut self, expected: &[u8]) -> bool {
        let found = self.rest().starts_with(expected);
        if found {
            self.at += expected.len();
        }
        found
    }

    /// The words with which every file begins, behind a byte order mark where there is one.
    pub(super) fn take_opening(&mut self) -> bool {
        self.take(&[0xEF, 0xBB, 0xBF]);
        self.skip_blank();
        self.take(b"ISO-10303-21;")
    }

    /// Blanks, line ends, control characters and comments.
    pub(super) fn skip_blank(&mut self) {
        loop {
            while self.peek().is_some_and(|byte| byte <= b' ') {
                self.at += 1;
            }
            if !self.rest().starts_with(b"/*") {
                return;
            }
            let end = self.rest().windows(2).skip(2).position(|pair| pair == b"*/");
            self.at = end.map_or(self.bytes.len(), |end| self.at + end + 4);
        }
    }

    fn run_of(&mut self, wanted: impl Fn(u8) -> bool) -> &'a str {
        let start = self.at;
        while self.peek().is_some_and(&wanted) {
            self.at += 1;
        }
        self.bytes.get(start..self.at).and_then(|run| std::str::from_utf8(run).ok()).unwrap_or("")
    }

    /// A name of letters, digits and underscores.
    pub(super) fn name(&mut self) -> &'a str {
        self.run_of(|byte| byte.is_ascii_alphanumeric() || byte == b'_' || byte == b'-')
    }

    /// A number of digits alone.
    pub(super) fn whole_number(&mut self) -> Option<u64> {
        self.run_of(|byte| byte.is_ascii_digit()).parse().ok()
    }

    /// Moves behind the next semicolon outside lettering and comments; `false` at the end of the file.
    pub(super) fn skip_statement(&mut self) -> bool {
        let mut lettering = false;
        while let Some(byte) = self.peek() {
            self.at += 1;
            match byte {
                b'\'' => lettering = !lettering,
                b';' if !lettering => return true,
                b'/' if !lettering && self.peek() == Some(b'*') => {
                    self.at -= 1;
                    self.skip_blank();
                }
                _ => {}
            }
        }
        false
    }

    fn list(&mut self, depth: usize) -> Option<Vec<Value<'a>>> {
        if depth > DEEPEST_LIST {
            return None;
        }
        let mut values = Vec::new();
        loop {
            self.skip_blank();
            match self.peek()? {
                b')' => {
                    self.at += 1;
                    return Some(values);
                }
                b',' => self.at += 1,
                _ => values.push(self.value(depth)?),
            }
        }
    }

    fn value(&mut self, depth: usize) -> Option<Value<'a>> {
        match self.peek()? {
            b'$' | b'*' => {
                self.at += 1;
                Some(Value::Missing)
            }
            b'#' => {
                self.at += 1;
                self.whole_number().map(Value::Reference)
            }
            b'(' => {
                self.at += 1;
                self.list(depth + 1).map(Value::List)
            }
            b'.' if !self.rest().get(1).is_some_and(u8::is_ascii_digit) => {
                self.at += 1;
                let word = self.run_of(|byte| byte != b'.' && byte > b' ');
                self.take(b".").then_some(Value::Word(word))
            }
            b'\'' => self.lettering(),
            b'"' => {
                self.at += 1;
                self.run_of(|byte| byte != b'"');
                self.take(b"\"").then_some(Value::Missing)
            }
            // The standard wants a digit before the point, but not every writer does.
            b'+' | b'-' | b'.' | b'0'..=b'9' => {
                let written =
                    self.run_of(|byte| matches!(byte, b'+' | b'-' | b'.' | b'0'..=b'9' | b'E' | b'e'));
                written.parse().ok().map(Value::Number)
            }
            byte if byte.is_ascii_alphabetic() => {
                let name = self.name();
                self.skip_blank();
                self.take(b"(")
                    .then(|| self.list(depth + 1))
                    .flatten()
                    .map(|inside| Value::Typed(name, inside))
            }
            _ => None,
        }
    }

    fn lettering(&mut self) -> Option<Value<'a>> {
        self.at += 1;
        let start = self.at;
        loop {
            let byte = self.peek()?;
            self.at += 1;
            if byte == b'\'' && self.peek() == Some(b'\'') {
                self.at += 1;
            } else if byte == b'\'' {
                return self.bytes.get(start..self.at - 1).map(Value::Text);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_argument_is_read() {
        let arguments =
            parse(b" ( $,*, 1 , -2.5E-1,.5,.TRUE.,#7, 'it''s; so', (1,(2)), IFCLABEL('x'), \"0F\" ) ")
                .unwrap();
        let expected = [
            Value::Missing,
            Value::Missing,
            Value::Number(1.0),
            Value::Number(-0.25),
            Value::Number(0.5),
            Value::Word("TRUE"),
            Value::Reference(7),
            Value::Text(b"it''s; so"),
            Value::List(vec![Value::Number(1.0), Value::List(vec![Value::Number(2.0)])]),
            Value::Typed("IFCLABEL", vec![Value::Text(b"x")]),
            Value::Missing,
        ];
        assert_eq!(arguments, expected);
        for broken in ["", "(", "(1", "('open)", "(.x)", "(#)", "(@)", "(1e)"] {
            assert_eq!(parse(broken.as_bytes()), None, "{broken}");
        }
        assert_eq!(parse("(".repeat(100_000).as_bytes()), None);
    }
}
