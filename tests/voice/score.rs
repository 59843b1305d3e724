//! How much of what was said was heard.

/// Words and readings, counted.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Score {
    pub(crate) words: usize,
    /// Substitutions, deletions and insertions.
    pub(crate) wrong_words: usize,
    pub(crate) readings: usize,
    pub(crate) right: usize,
    /// Not sure: asked again.
    pub(crate) asked: usize,
    /// Wrong, and said to be sure.
    pub(crate) sure_and_wrong: usize,
}

impl Score {
    pub(crate) fn count(&mut self, said: &str, heard: &str, sure: bool) {
        let (said, heard) = (plain(said), plain(heard));
        let wrong = edits(&said, &heard);
        self.words += said.len();
        self.wrong_words += wrong;
        self.readings += 1;
        self.right += usize::from(wrong == 0);
        self.asked += usize::from(!sure);
        self.sure_and_wrong += usize::from(sure && wrong > 0);
    }

    pub(crate) fn add(&mut self, other: Self) {
        self.words += other.words;
        self.wrong_words += other.wrong_words;
        self.readings += other.readings;
        self.right += other.right;
        self.asked += other.asked;
        self.sure_and_wrong += other.sure_and_wrong;
    }

    /// 1 − (S + D + I)/N, percent.
    pub(crate) fn word_accuracy(&self) -> f64 {
        100.0 * (1.0 - self.wrong_words as f64 / self.words as f64)
    }

    /// Whole readings, percent.
    pub(crate) fn reading_accuracy(&self) -> f64 {
        100.0 * self.right as f64 / self.readings as f64
    }

    /// One cell of the table.
    pub(crate) fn cell(&self) -> String {
        let asked = 100.0 * self.asked as f64 / self.readings as f64;
        format!("{:6.1} {:6.1} {:6.1} {:4}", self.word_accuracy(), self.reading_accuracy(), asked, self.sure_and_wrong)
    }
}

/// Words, singular and plural alike: "one sixteenth" is said with the word taught as "sixteenths".
fn plain(text: &str) -> Vec<&str> {
    let word = |word| match word {
        "sixteenth" => "sixteenths",
        "quarters" => "quarter",
        word => word,
    };
    text.split_whitespace().map(word).collect()
}

/// Levenshtein's distance.
fn edits(a: &[&str], b: &[&str]) -> usize {
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, y) in b.iter().enumerate() {
            let next = (diagonal + usize::from(x != y)).min(row[j] + 1).min(row[j + 1] + 1);
            diagonal = row[j + 1];
            row[j + 1] = next;
        }
    }
    row[b.len()]
}

/// From memory: the textbook example of the distance.
#[test]
fn kitten_to_sitting_is_three() {
    let letters = |word: &'static str| word.split("").filter(|letter| !letter.is_empty()).collect::<Vec<_>>();
    assert_eq!(edits(&letters("kitten"), &letters("sitting")), 3);
    let mut score = Score::default();
    score.count("three quarters", "three quarter", true);
    score.count("two two", "two", true);
    assert_eq!((score.words, score.wrong_words, score.right, score.sure_and_wrong), (4, 1, 1, 1));
}
