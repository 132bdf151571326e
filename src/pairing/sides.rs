//! Which points are joined to which by straight sides. Knows no places.

/// The points at the other ends of the sides of each point.
#[derive(Debug)]
pub(super) struct Sides {
    /// Where those of each point begin in `others`, and how many they are.
    begin: Vec<u32>,
    count: Vec<u32>,
    others: Vec<u32>,
}

impl Sides {
    /// The sides of `points` points; one that stands in `pairs` more than once is one.
    pub(super) fn new(points: usize, pairs: &[(u32, u32)]) -> Sides {
        let mut count: Vec<u32> = vec![0; points];
        for &(a, b) in pairs {
            count[a as usize] += 1;
            count[b as usize] += 1;
        }
        let mut begin = Vec::with_capacity(points);
        let mut next = 0;
        for n in count {
            begin.push(next);
            next += n;
        }
        let mut sides = Sides { begin, count: vec![0; points], others: vec![0; 2 * pairs.len()] };
        for &(a, b) in pairs {
            sides.add(a, b);
            sides.add(b, a);
        }
        sides.join_doubles();
        sides
    }

    fn add(&mut self, point: u32, other: u32) {
        let point = point as usize;
        self.others[(self.begin[point] + self.count[point]) as usize] = other;
        self.count[point] += 1;
    }

    fn join_doubles(&mut self) {
        for (&begin, count) in self.begin.iter().zip(&mut self.count).filter(|(_, count)| **count > 1) {
            let own = &mut self.others[begin as usize..(begin + *count) as usize];
            own.sort_unstable();
            let mut kept = 1;
            for k in 1..own.len() {
                if own[k] != own[kept - 1] {
                    own[kept] = own[k];
                    kept += 1;
                }
            }
            *count = kept as u32;
        }
    }

    /// The points that a point is joined to.
    pub(super) fn of(&self, point: usize) -> &[u32] {
        let begin = self.begin[point] as usize;
        &self.others[begin..begin + self.count[point] as usize]
    }

    /// Takes away the sides of points that have only one, until there is no such point.
    pub(super) fn prune(&mut self) {
        let mut ends: Vec<usize> = (0..self.count.len()).filter(|&i| self.count[i] == 1).collect();
        while let Some(end) = ends.pop() {
            let &[next] = self.of(end) else { continue };
            self.count[end] = 0;
            self.remove(next as usize, end as u32);
            if self.count[next as usize] == 1 {
                ends.push(next as usize);
            }
        }
    }

    fn remove(&mut self, point: usize, other: u32) {
        if let Some(at) = self.of(point).iter().position(|&o| o == other) {
            let begin = self.begin[point] as usize;
            self.count[point] -= 1;
            self.others.swap(begin + at, begin + self.count[point] as usize);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn open_ends_fall_away_and_a_ring_stays() {
        // A triangle 0 1 2 with a tail 2 3 4, and a line 5 6 by itself; 1 2 and 5 6 twice.
        let mut sides = Sides::new(7, &[(3, 4), (0, 1), (0, 2), (2, 1), (1, 2), (2, 3), (5, 6), (6, 5)]);
        assert_eq!(sides.of(2), [0, 1, 3]);
        sides.prune();
        assert_eq!((sides.of(0), sides.of(1), sides.of(2)), (&[1, 2][..], &[0, 2][..], &[0, 1][..]));
        assert!((3..7).all(|point| sides.of(point).is_empty()));
    }
}
