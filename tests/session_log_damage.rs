//! Damaged logs: every cut, every flipped bit, line surgery, random damage, and sound hashes over unsound text.
//!
//! The long version of the random damage (100 million) is ignored:
//! `cargo test --release --test session_log_damage -- --ignored`
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "session_log_support/sample.rs"]
mod sample;

use sample::{Dice, damage, line_starts, lines, sample, verdict};
use setwright::session_log::Class;

#[test]
fn every_cut_leaves_the_longest_good_part() {
    let text = sample(200);
    let starts = line_starts(&text);
    for length in 0..=text.len() {
        let found = verdict(&text[..length]);
        let whole = starts.iter().filter(|start| **start <= length).count() - 1;
        let is_unterminated = starts.contains(&(length + 1));
        let class = if is_unterminated {
            Class::Unterminated
        } else if starts.contains(&length) {
            Class::Clean
        } else {
            Class::Torn
        };
        let count = whole + usize::from(is_unterminated);
        assert_eq!((found.class, found.count), (class, count as u64), "cut at {length}");
        let valid = if is_unterminated { length } else { starts[whole] };
        assert_eq!(found.valid_len, valid as u64, "cut at {length}");
    }
}

#[test]
fn every_flipped_bit_is_found_in_the_event_it_lies_in() {
    let text = sample(60);
    let starts = line_starts(&text);
    let mut flips = 0;
    for at in 0..text.len() {
        let line = starts.iter().filter(|start| **start <= at).count();
        for bit in 0..8 {
            let mut bad = text.clone();
            bad[at] ^= 1 << bit;
            let found = verdict(&bad);
            let problem = found.problem.unwrap_or_else(|| panic!("bit {bit} of byte {at} was not found"));
            assert_eq!(problem.line, line as u64, "bit {bit} of byte {at}");
            assert_eq!(found.count, line as u64 - 1);
            flips += 1;
        }
    }
    assert!(flips >= 110_000, "{flips}");
}

/// Line surgery: only a log cut at a line end may pass as clean, and its head tells on it.
#[test]
fn line_surgery_passes_only_as_a_shorter_log() {
    let text = sample(50);
    let all = lines(&text);
    let whole = verdict(&text).head;
    let mut edits = 0;
    let mut judge = |bad: Vec<u8>, what: String| {
        edits += 1;
        let found = verdict(&bad);
        let is_shorter = bad.len() < text.len() && text.starts_with(&bad) && bad.ends_with(b"\n");
        assert_eq!(found.class == Class::Clean, is_shorter || bad.is_empty(), "{what}");
        assert_ne!((found.class, found.head), (Class::Clean, whole), "{what}: --expect must tell");
    };
    for one in 0..all.len() {
        judge([&all[..one], &all[one + 1..]].concat().concat(), format!("line {one} deleted"));
        judge([&all[..=one], &all[one..]].concat().concat(), format!("line {one} doubled"));
        judge([&all[..one], &[b"\n"], &all[one..]].concat().concat(), format!("a line feed before line {one}"));
        judge([&all[..one], &[b"\xef\xbb\xbf"], &all[one..]].concat().concat(), format!("a mark before line {one}"));
        judge([&all[..one], &[b" "], &all[one..]].concat().concat(), format!("a blank before line {one}"));
        let line = all[one].strip_suffix(b"\n").unwrap();
        judge([&all[..one], &[line, b"\r\n"], &all[one + 1..]].concat().concat(), format!("CR LF at line {one}"));
        judge([&all[..one], &[line], &all[one + 1..]].concat().concat(), format!("no line end at {one}"));
        for other in one + 1..all.len() {
            let mut swapped = all.clone();
            swapped.swap(one, other);
            judge(swapped.concat(), format!("lines {one} and {other} swapped"));
            if one + 1 < other {
                judge([&all[..one], &all[other..]].concat().concat(), format!("lines {one} to {other} cut out"));
            }
        }
    }
    judge(text.replace_all(b"\n", b"\r\n"), "CR LF everywhere".to_owned());
    judge([&text[..], b"\n"].concat(), "a line feed at the end".to_owned());
    judge([&text[..], b"\0"].concat(), "a NUL at the end".to_owned());
    judge([&text[..], &vec![0; 700]].concat(), "700 NUL at the end".to_owned());
    assert!(edits > 2500, "{edits}");
}

trait ReplaceAll {
    fn replace_all(&self, from: &[u8], to: &[u8]) -> Vec<u8>;
}

impl ReplaceAll for [u8] {
    fn replace_all(&self, from: &[u8], to: &[u8]) -> Vec<u8> {
        self.split(|byte| *byte == from[0]).collect::<Vec<_>>().join(to)
    }
}

/// Tries so many randomly damaged logs; none may pass as whole unless it is a shorter log or the same one.
fn random_damage(seed: u64, tries: u64) -> u64 {
    let text = sample(6);
    let starts = line_starts(&text);
    let mut dice = Dice(seed);
    let mut judged = 0;
    while judged < tries {
        let mut bad = text.clone();
        for _ in 0..=dice.below(3) {
            if !bad.is_empty() {
                damage(&mut bad, &mut dice);
            }
        }
        if text.starts_with(&bad) && starts.contains(&bad.len()) {
            continue;
        }
        let found = verdict(&bad);
        let same = text.iter().zip(&bad).take_while(|(one, other)| one == other).count();
        let untouched = starts.iter().filter(|start| **start <= same).count() as u64 - 1;
        assert_ne!(found.class, Class::Clean, "seed {seed}, try {judged}");
        assert!(found.count >= untouched, "seed {seed}, try {judged}: good events lost");
        assert!(found.count <= untouched + 1, "seed {seed}, try {judged}: changed events taken");
        judged += 1;
    }
    judged
}

#[test]
fn half_a_million_randomly_damaged_logs_are_all_found() {
    assert_eq!(random_damage(0x5e7_3219, 500_000), 500_000);
}

#[test]
fn another_half_million_randomly_damaged_logs_are_all_found() {
    assert_eq!(random_damage(0xdead_beef, 500_000), 500_000);
}

#[test]
#[ignore = "a hundred million tries take most of an hour; see the head of this file for the command"]
fn a_hundred_million_randomly_damaged_logs_are_all_found() {
    let halves: Vec<_> = [3, 7].map(|seed| std::thread::spawn(move || random_damage(seed, 50_000_000))).into();
    assert_eq!(halves.into_iter().map(|half| half.join().unwrap()).sum::<u64>(), 100_000_000);
}
