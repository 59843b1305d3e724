//! How many tests passed and failed, read from what the runners print.

/// Tests that ran.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Counts {
    /// Those that passed.
    pub(crate) passed: u64,
    /// Those that failed, ran out of time, or could not be started.
    pub(crate) failed: u64,
}

impl Counts {
    /// Reads the summaries of `cargo test` ("test result: ok. 3 passed; 1 failed; …", one per binary) and of nextest
    /// ("Summary [ 1.2s] 4 tests run: 3 passed (1 slow), 1 timed out, 0 skipped") among `lines`.
    pub(crate) fn of(lines: &[String]) -> Self {
        let mut counts = Self::default();
        for line in lines.iter().map(|line| line.trim_start()) {
            if line.starts_with("test result: ") || line.starts_with("Summary [") {
                counts.read(line);
            }
        }
        counts
    }

    fn read(&mut self, summary: &str) {
        let words: Vec<&str> = summary.split_whitespace().collect();
        for pair in words.windows(2) {
            let Ok(number) = pair[0].parse::<u64>() else { continue };
            match pair[1].trim_end_matches([';', ',']) {
                "passed" => self.passed += number,
                "failed" | "timed" | "exec" => self.failed += number,
                _ => {}
            }
        }
    }

    /// Adds another runner's counts.
    pub(crate) fn add(&mut self, other: Self) {
        self.passed += other.passed;
        self.failed += other.failed;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Lines as cargo 1.95 and cargo-nextest 0.9 print them.
    #[test]
    fn sums_over_binaries_and_runners() {
        let lines = [
            "running 4 tests",
            "test result: ok. 3 passed; 0 failed; 1 ignored; 0 measured; 0 filtered out; finished in 0.10s",
            "test result: FAILED. 5 passed; 2 failed; 0 ignored; 0 measured; 0 filtered out; finished in 0.20s",
            "     Summary [   0.010s] 12 tests run: 10 passed (1 slow), 1 failed, 1 timed out, 3 skipped",
            "9 passed, by somebody else's words",
        ];
        assert_eq!(Counts::of(&lines.map(str::to_owned)), Counts { passed: 18, failed: 4 });
    }
}
