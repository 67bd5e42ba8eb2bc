//! A picture of single bits made smaller by counting them, sixty-four at a time: the largest scans are of this
//! sort, and looking at bits one by one would take too long.

use pattress_model::survey::Greyscale;

/// Counts the set bits of squares of 2, 4 or 8 by as many.
pub struct BitCounts {
    width: usize,
    height: usize,
    times: usize,
    /// The tones of a clear and of a set bit.
    tones: [u32; 2],
    rows_in: usize,
    /// For each place of a square within a byte, and each eight bytes of a row: counts, one a byte.
    counts: Vec<Vec<u64>>,
    done: Vec<u8>,
}

impl BitCounts {
    /// For a picture of that size. `None` where so many don't divide a byte.
    pub fn new(width: usize, height: usize, times: usize, tones: [u8; 2]) -> Option<Self> {
        let words = width.div_ceil(64);
        matches!(times, 2 | 4 | 8).then(|| Self {
            width,
            height,
            times,
            tones: tones.map(u32::from),
            rows_in: 0,
            counts: vec![vec![0; words]; 8 / times],
            done: Vec::with_capacity(width.div_ceil(times) * height.div_ceil(times)),
        })
    }

    /// Adds a row, whose first bit is the highest of its byte.
    pub fn add_row(&mut self, row: &[u8]) {
        let lowest = u64::from_le_bytes([if self.times == 8 { u8::MAX } else { (1 << self.times) - 1 }; 8]);
        for (index, bytes) in row.chunks(8).take(self.width.div_ceil(64)).enumerate() {
            let mut eight = [0; 8];
            eight[..bytes.len()].copy_from_slice(bytes);
            let counted = counted(u64::from_le_bytes(eight) & self.within(index), self.times);
            for (place, counts) in self.counts.iter_mut().enumerate() {
                // No count passes 64, so that none flows over into its neighbour.
                counts[index] += (counted >> (8 - self.times * (place + 1))) & lowest;
            }
        }
        self.rows_in += 1;
        match self.rows_in % self.times {
            0 => self.end_squares(self.times),
            rest if self.rows_in == self.height => self.end_squares(rest),
            _ => {}
        }
    }

    /// The bits of the eight bytes of that index that lie within the picture.
    fn within(&self, index: usize) -> u64 {
        let left = self.width - index * 64;
        if left >= 64 {
            return u64::MAX;
        }
        let mut bytes = [0_u8; 8];
        for (place, byte) in bytes.iter_mut().enumerate() {
            let there = left.saturating_sub(place * 8).min(8);
            *byte = !(0xFF_u16 >> there) as u8;
        }
        u64::from_le_bytes(bytes)
    }

    fn end_squares(&mut self, rows: usize) {
        let across = self.width.div_ceil(self.times);
        let places = self.counts.len();
        let [clear, set] = self.tones;
        let tone = |ones: u32, bits: u32| (ones * set + (bits - ones) * clear) / bits;
        // Nearly all squares are whole: theirs are looked up.
        let bits = (self.times * rows) as u32;
        let whole: Vec<u8> = (0..=bits).map(|ones| tone(ones, bits) as u8).collect();
        let begins = self.done.len();
        for word in 0..self.width.div_ceil(64) {
            let counts: Vec<[u8; 8]> = self.counts.iter().map(|counts| counts[word].to_le_bytes()).collect();
            for byte in 0..8 {
                for counts in &counts {
                    self.done.push(whole[usize::from(counts[byte])]);
                }
            }
        }
        self.done.truncate(begins + across);
        let there = self.width - (across - 1) * self.times;
        if there < self.times {
            let (word, place) = ((across - 1) / places / 8, (across - 1) % places);
            let ones = self.counts[place][word].to_le_bytes()[(across - 1) / places % 8];
            self.done[begins + across - 1] = tone(ones.into(), (there * rows) as u32) as u8;
        }
        self.counts.iter_mut().for_each(|counts| counts.fill(0));
    }

    /// The smaller picture. `None` where rows are missing.
    pub fn finish(self) -> Option<Greyscale> {
        Greyscale::new(self.width.div_ceil(self.times), self.height.div_ceil(self.times), self.done)
    }
}

/// The set bits of each 2, 4 or 8, as a number in their place: pairs first, then fours, then eights.
fn counted(bits: u64, of: usize) -> u64 {
    const PAIRS: u64 = 0x5555_5555_5555_5555;
    const FOURS: u64 = 0x3333_3333_3333_3333;
    const EIGHTS: u64 = 0x0F0F_0F0F_0F0F_0F0F;
    let pairs = (bits & PAIRS) + ((bits >> 1) & PAIRS);
    let fours = if of > 2 { (pairs & FOURS) + ((pairs >> 2) & FOURS) } else { pairs };
    if of > 4 { (fours & EIGHTS) + ((fours >> 4) & EIGHTS) } else { fours }
}

#[cfg(test)]
mod tests {
    use super::super::grey::Sums;
    use super::*;

    #[test]
    fn counted_bits_give_the_same_means_as_their_tones() {
        for times in [2_usize, 4, 8] {
            for (width, height) in [(1_usize, 1_usize), (37, 9), (64, 8), (131, 5), (200, 16)] {
                let rows: Vec<Vec<u8>> = (0..height)
                    .map(|y| (0..width.div_ceil(8)).map(|x| ((x * 73) ^ (y * 29) ^ (x * y)) as u8).collect())
                    .collect();
                let mut counted = BitCounts::new(width, height, times, [10, 200]).unwrap();
                let mut summed = Sums::new(width, height, times);
                for row in &rows {
                    counted.add_row(row);
                    let tones: Vec<u8> = (0..width)
                        .map(|x| if row[x / 8] >> (7 - x % 8) & 1 == 1 { 200 } else { 10 })
                        .collect();
                    summed.add_row(&tones);
                }
                assert_eq!(counted.finish(), summed.finish(), "{width} × {height}, {times}");
            }
        }
        assert!(BitCounts::new(8, 8, 3, [0, 255]).is_none());
    }
}
