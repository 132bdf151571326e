//! The list of what was wrong with a file, bounded in length without hiding that something was lost.

use super::bounds::MAX_PROBLEMS;
use crate::drawing::Problem;

/// Problems met while reading.
#[derive(Debug, Default)]
pub(super) struct Problems {
    list: Vec<Problem>,
    /// How many were not listed any more, and whether one of them was a loss.
    beyond: u64,
    beyond_loss: bool,
}

impl Problems {
    /// Adds one, or counts it where the list is full.
    pub(super) fn push(&mut self, problem: Problem) {
        if self.list.len() < MAX_PROBLEMS {
            self.list.push(problem);
        } else {
            self.beyond += 1;
            self.beyond_loss |= problem.loss;
        }
    }

    /// Adds one from its parts.
    pub(super) fn add(&mut self, line: u64, offset: u64, message: impl Into<String>, loss: bool) {
        self.push(Problem { line, offset, message: message.into(), loss });
    }

    /// Takes over another list.
    pub(super) fn absorb(&mut self, other: Problems) {
        for problem in other.list {
            self.push(problem);
        }
        self.beyond += other.beyond;
        self.beyond_loss |= other.beyond_loss;
    }

    /// The list by place.
    pub(super) fn finish(mut self) -> Vec<Problem> {
        self.list.sort_by_key(|p| p.offset);
        // What is read a second time (a spline after a first look) has its faults a second time.
        self.list.dedup();
        if self.beyond > 0 {
            let last = self.list.last().map_or((0, 0), |p| (p.line, p.offset));
            self.list.push(Problem {
                line: last.0,
                offset: last.1,
                message: format!("{} more problems; only the first {MAX_PROBLEMS} are listed", self.beyond),
                loss: self.beyond_loss,
            });
        }
        self.list
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_list_still_tells_of_losses() {
        let mut problems = Problems::default();
        for n in 0..MAX_PROBLEMS as u64 + 5 {
            problems.add(n, n, "x", n == MAX_PROBLEMS as u64 + 3);
        }
        let list = problems.finish();
        assert_eq!(list.len(), MAX_PROBLEMS + 1);
        assert!(list[MAX_PROBLEMS].loss && list[MAX_PROBLEMS].message.starts_with("5 more"));
    }
}
