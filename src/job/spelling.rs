//! Which known word a misspelt one was meant to be.

/// Returns the known word nearest to a misspelt one, if it is near enough to be meant.
pub(super) fn nearest<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let allowed = (word.chars().count() / 3).clamp(1, 4);
    known
        .map(|candidate| (distance(&word.to_lowercase(), candidate), candidate))
        .min_by_key(|(distance, _)| *distance)
        .filter(|(distance, _)| *distance <= allowed)
        .map(|(_, candidate)| candidate)
}

/// The fewest letters to insert, delete or replace (Levenshtein's distance).
fn distance(left: &str, right: &str) -> usize {
    let right: Vec<char> = right.chars().collect();
    let mut row: Vec<usize> = (0..=right.len()).collect();
    for (index, letter) in left.chars().enumerate() {
        let mut next = vec![index + 1];
        let mut before = index + 1;
        for ((other, diagonal), above) in right.iter().zip(&row).zip(row.iter().skip(1)) {
            before = (before + 1).min(above + 1).min(diagonal + usize::from(letter != *other));
            next.push(before);
        }
        row = next;
    }
    row.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand: "radus" lacks one letter of "radius".
    #[test]
    fn a_slip_is_recognised_and_a_foreign_word_is_not() {
        assert_eq!(distance("radus", "radius"), 1);
        assert_eq!(distance("kitten", "sitting"), 3);
        let known = ["radius", "depth", "tip_depth"];
        assert_eq!(nearest("radus", known.into_iter()), Some("radius"));
        assert_eq!(nearest("Tip_Depth", known.into_iter()), Some("tip_depth"));
        assert_eq!(nearest("colour", known.into_iter()), None);
    }
}
