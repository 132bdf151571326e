//! The holes of each view, in one list for all views. Knows views by their numbers alone.

use super::scene::Spot;

/// The spots of each view.
pub(super) struct ByView {
    /// Where those of each view begin in `spots`; one more for the end.
    starts: Vec<usize>,
    spots: Vec<usize>,
}

impl ByView {
    /// Sorts spots by their views, of which there are so many. Those of a view keep their order.
    pub(super) fn new(spots: &[Spot], views: usize) -> ByView {
        let mut starts = vec![0; views + 1];
        for spot in spots {
            starts[spot.view] += 1;
        }
        let mut end = 0;
        for start in &mut starts {
            end += *start;
            *start = end;
        }
        // From the last one back, so that the ends become the beginnings.
        let mut by_view = vec![0; spots.len()];
        for (s, spot) in spots.iter().enumerate().rev() {
            starts[spot.view] -= 1;
            by_view[starts[spot.view]] = s;
        }
        ByView { starts, spots: by_view }
    }

    /// The spots of a view, in their order.
    pub(super) fn of(&self, view: usize) -> &[usize] {
        &self.spots[self.starts[view]..self.starts[view + 1]]
    }

    /// Whether a view has any.
    pub(super) fn any(&self, view: usize) -> bool {
        self.starts[view] < self.starts[view + 1]
    }

    /// How many views there are.
    pub(super) fn views(&self) -> usize {
        self.starts.len() - 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;

    #[test]
    fn each_view_has_its_spots_in_their_order() {
        let spot = |view| Spot { ring: 0, stack: 0, view, space: 0, at: Point::default(), drawn: 1.0 };
        let by_view = ByView::new(&[2, 0, 2, 0, 0].map(spot), 4);
        let all: Vec<&[usize]> = (0..by_view.views()).map(|v| by_view.of(v)).collect();
        assert_eq!(all, [&[1, 3, 4][..], &[], &[0, 2], &[]]);
    }
}
