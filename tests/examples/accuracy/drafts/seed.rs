//! Numbers by a fixed seed.

/// splitmix64 (Steele, Lea, Flood 2014; public domain).
pub struct Seed(u64);

impl Seed {
    pub fn new(seed: u64) -> Seed {
        Seed(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let word = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let word = (word ^ (word >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        word ^ (word >> 31)
    }

    /// From 0 to `end`, `end` left out; 0 where that is 0.
    pub fn below(&mut self, end: usize) -> usize {
        if end == 0 { 0 } else { (self.next() % end as u64) as usize }
    }

    /// From `first` to `last`, both included.
    pub fn between(&mut self, first: usize, last: usize) -> usize {
        first + self.below(last.saturating_sub(first) + 1)
    }

    pub fn coin(&mut self) -> bool {
        self.next().is_multiple_of(2)
    }
}
