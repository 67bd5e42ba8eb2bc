//! Spoils sound drawings at random, the same for the same number: bits flipped, parts lost, doubled or mixed up,
//! numbers made outrageous. Sums that would give the damage away are set right again now and then, so that it
//! reaches deeper.

/// Throws numbers, the same for the same seed (xorshift64*, Vigna 2016).
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    /// Dice that begin with a number.
    pub fn new(seed: u64) -> Self {
        Self(seed | 1)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// One of so many, from 0; 0 where there are none.
    pub fn below(&mut self, many: usize) -> usize {
        if many == 0 { 0 } else { (self.next() >> 33) as usize % many }
    }
}

/// What is written in the place of sound numbers and words.
const OUTRAGEOUS: &[&str] = &[
    "0",
    "-1",
    "1e9",
    "1e-9",
    "99999999999",
    "-2147483648",
    "0.00001",
    "NaN",
    "[",
    "]",
    "<<",
    ">>",
    "(",
    ")",
    "/",
    "'",
    "<g>",
    "</g>",
    "#1",
    "#99999",
    "$",
    "*",
    "()",
    "R",
    "obj",
    "stream",
    "q ",
    "Q ",
    "Do ",
    "Tj ",
    "re W n ",
    "url(#c)",
];

/// A drawing with one to four things wrong.
pub fn spoilt(seeds: &[Vec<u8>], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = seeds[dice.below(seeds.len())].clone();
    for _ in 0..=dice.below(4) {
        spoil_once(&mut bytes, seeds, dice);
    }
    if bytes.starts_with(b"\x89PNG") && dice.below(4) > 0 {
        set_sums_right(&mut bytes);
    }
    bytes
}

fn spoil_once(bytes: &mut Vec<u8>, seeds: &[Vec<u8>], dice: &mut Dice) {
    let at = dice.below(bytes.len());
    let end = (at + 1 + dice.below(40)).min(bytes.len());
    match dice.below(9) {
        0 if !bytes.is_empty() => bytes[at] ^= 1 << dice.below(8),
        1 if !bytes.is_empty() => bytes[at] = dice.below(256) as u8,
        2 => drop(bytes.drain(at.min(end)..end)),
        3 => {
            let part = bytes[at.min(end)..end].to_vec();
            let times = 1 + dice.below(20);
            bytes.splice(at..at, part.repeat(times));
        }
        4 => {
            let other = &seeds[dice.below(seeds.len())];
            let from = dice.below(other.len());
            let part = other[from..(from + 1 + dice.below(60)).min(other.len())].to_vec();
            bytes.splice(at.min(end)..end, part);
        }
        5 if dice.below(4) == 0 => bytes.truncate(at),
        6 if end >= at + 4 => {
            let claims = [0, 1, 0x7FFF_FFFF, u32::MAX, 70_000];
            bytes[at..at + 4].copy_from_slice(&claims[dice.below(claims.len())].to_be_bytes());
        }
        _ => swap_a_number(bytes, at, dice),
    }
}

/// Puts something outrageous in the place of the first number from here on, or here where none follows.
fn swap_a_number(bytes: &mut Vec<u8>, at: usize, dice: &mut Dice) {
    let is_part = |byte: &u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'-');
    let begins =
        bytes[at.min(bytes.len())..].iter().take(100).position(is_part).map_or(at, |further| at + further);
    let begins = begins.min(bytes.len());
    let length = bytes[begins..].iter().take_while(|byte| is_part(byte)).count();
    let word = OUTRAGEOUS[dice.below(OUTRAGEOUS.len())];
    bytes.splice(begins..begins + length, word.bytes());
}

/// Writes the sums of a PNG's chunks anew (ISO/IEC 15948, 5.3 and annex D).
fn set_sums_right(bytes: &mut [u8]) {
    let mut at = 8;
    while let Some(head) = bytes.get(at..at + 8) {
        let length = u32::from_be_bytes([head[0], head[1], head[2], head[3]]) as usize;
        let Some(end) = at.checked_add(8 + length).filter(|end| end + 4 <= bytes.len()) else { return };
        let mut sum = u32::MAX;
        for byte in &bytes[at + 4..end] {
            sum ^= u32::from(*byte);
            for _ in 0..8 {
                sum = if sum & 1 == 1 { 0xEDB8_8320 ^ (sum >> 1) } else { sum >> 1 };
            }
        }
        bytes[end..end + 4].copy_from_slice(&(!sum).to_be_bytes());
        at = end + 4;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawings;

    #[test]
    fn the_same_number_spoils_the_same_and_another_otherwise() {
        let seeds = [drawings::room_as_pdf(), drawings::room_as_svg()];
        let all = |seed| -> Vec<Vec<u8>> {
            let mut dice = Dice::new(seed);
            (0..200).map(|_| spoilt(&seeds, &mut dice)).collect()
        };
        assert_eq!(all(7), all(7));
        assert_ne!(all(7), all(8));
        assert!(all(7).iter().filter(|bytes| seeds.contains(bytes)).count() < 5);
    }

    #[test]
    fn sums_set_right_are_right() {
        let sound = drawings::frame_as_pictures().swap_remove(0);
        let mut anew = sound.clone();
        anew[29..33].fill(0);
        set_sums_right(&mut anew);
        assert_eq!(anew, sound);
    }
}
