//! Pictures and other bytes that go with a plan, kept once by their content.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::sync::Arc;

use sha2::{Digest, Sha256};

/// Bytes by name; a name is the SHA-256 of the content in hexadecimal, a dot and an ending.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Media {
    blobs: BTreeMap<String, Arc<[u8]>>,
}

impl Media {
    /// Keeps bytes and returns their name. The same bytes are kept once.
    pub fn keep(&mut self, bytes: impl Into<Arc<[u8]>>, ending: &str) -> String {
        let bytes = bytes.into();
        let name = name_of(&bytes, ending);
        self.blobs.insert(name.clone(), bytes);
        name
    }

    /// The bytes of that name.
    pub fn get(&self, name: &str) -> Option<&Arc<[u8]>> {
        self.blobs.get(name)
    }

    /// Those of them that are named; nothing is copied.
    pub fn only(&self, wanted: impl Fn(&str) -> bool) -> Self {
        Self {
            blobs: self
                .blobs
                .iter()
                .filter(|(name, _)| wanted(name))
                .map(|(name, bytes)| (name.clone(), bytes.clone()))
                .collect(),
        }
    }

    /// All names with their bytes, in the order of names.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Arc<[u8]>)> {
        self.blobs.iter().map(|(name, bytes)| (name.as_str(), bytes))
    }
}

/// The name that bytes have among media.
pub fn name_of(bytes: &[u8], ending: &str) -> String {
    format!("{}.{ending}", digest_of(bytes))
}

/// The SHA-256 of bytes in hexadecimal.
pub fn digest_of(bytes: &[u8]) -> String {
    let mut digest = String::with_capacity(64);
    for byte in Sha256::digest(bytes) {
        let _ = write!(digest, "{byte:02x}");
    }
    digest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_name_is_the_published_digest() {
        // FIPS 180-4 example: SHA-256 of "abc".
        let name = name_of(b"abc", "png");
        assert_eq!(name, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad.png");
    }
}
