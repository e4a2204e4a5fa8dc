//! Seeded draws that anyone can repeat.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// How draws are made, in words.
pub const IN_WORDS: &str = "ChaCha8 of the crate rand_chacha 0.10, seeded by seed_from_u64 with the seed; stream 2g draws the workers of group g \
    (from 0), stream 2g + 1 its times; a number below n is a 64-bit word reduced modulo n, words at or above the largest multiple of n left out";

/// A source of draws.
pub struct Draw(ChaCha8Rng);

impl Draw {
    /// The source of a seed and a stream.
    pub fn new(seed: u64, stream: u64) -> Draw {
        let mut source = ChaCha8Rng::seed_from_u64(seed);
        source.set_stream(stream);
        Draw(source)
    }

    /// A number below `n`, each with the same chance; 0 where `n` is 0.
    pub fn below(&mut self, n: usize) -> usize {
        let n = n as u64;
        if n == 0 {
            return 0;
        }
        let end = u64::MAX - u64::MAX % n;
        loop {
            let word = self.0.next_u64();
            if word < end {
                return (word % n) as usize;
            }
        }
    }

    /// `count` different numbers from 1 to `population`, in the order drawn.
    pub fn members(&mut self, population: usize, count: usize) -> Vec<usize> {
        let mut roster: Vec<usize> = (1..=population).collect();
        let count = count.min(population);
        for place in 0..count {
            let other = place + self.below(population - place);
            roster.swap(place, other);
        }
        roster.truncate(count);
        roster
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn members_are_different_and_the_same_for_the_same_seed() {
        let drawn = Draw::new(7, 0).members(11, 8);
        let mut sorted = drawn.clone();
        sorted.sort_unstable();
        sorted.dedup();
        assert_eq!(sorted.len(), 8);
        assert!(sorted.iter().all(|m| (1..=11).contains(m)));
        assert_eq!(drawn, Draw::new(7, 0).members(11, 8));
        assert_ne!(drawn, Draw::new(8, 0).members(11, 8));
        assert_ne!(drawn, Draw::new(7, 1).members(11, 8));
    }

    #[test]
    fn all_are_drawn_where_all_are_asked_for() {
        let mut all = Draw::new(1, 0).members(5, 9);
        all.sort_unstable();
        assert_eq!(all, [1, 2, 3, 4, 5]);
    }

    /// 20,000 draws of one in five: each 4,000 times, give or take 5 standard deviations of 56.6.
    #[test]
    fn every_member_has_the_same_chance() {
        let mut draw = Draw::new(20_260_101, 0);
        let mut counts = [0_i64; 5];
        (0..20_000).for_each(|_| counts[draw.below(5)] += 1);
        assert!(counts.iter().all(|count| (count - 4000).abs() < 283), "{counts:?}");
    }
}
