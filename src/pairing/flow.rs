//! Assigns holes to callouts of limited capacity at the greatest total benefit: successive shortest augmenting
//! paths over each connected component. Knows only numbers.

use std::collections::VecDeque;

/// A possible pair and what it is worth over leaving the hole without it. Large sheets have hundreds of thousands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Offer {
    callout: u32,
    hole: u32,
    /// Greater than 0; offers worth nothing are never taken.
    benefit: f64,
}

impl Offer {
    /// What a hole is worth to a callout. A drawing has no more of either than an index of them can hold.
    pub(super) fn new(callout: usize, hole: usize, benefit: f64) -> Offer {
        Offer { callout: callout as u32, hole: hole as u32, benefit }
    }

    pub(super) fn callout(&self) -> usize {
        self.callout as usize
    }

    fn hole(&self) -> usize {
        self.hole as usize
    }
}

/// A benefit that is worth nothing but for rounding, and a difference of benefits that is none.
const NOTHING: f64 = 1e-9;
const EQUAL: f64 = 1e-12;

/// Beyond this many edge visits a component is settled greedily, best offer first, so that no sheet takes long.
const WORK_LIMIT: usize = 20_000_000;

/// For each hole the index of the offer that it takes. Ties go to the offer that stands first.
pub(super) fn solve(capacity: &[u32], holes: usize, offers: &[Offer]) -> Vec<Option<usize>> {
    let mut taken = vec![None; holes];
    let (order, roots) = components(capacity.len(), holes, offers);
    let root_of = |offer: u32| roots[offers[offer as usize].callout()];
    for component in order.chunk_by(|&a, &b| root_of(a) == root_of(b)) {
        if !take_all(capacity, offers, component, &mut taken) {
            settle(capacity, offers, component, &mut taken);
        }
    }
    taken
}

/// Indices of the offers worth anything, those of each connected component together and in their order, and the least
/// callout of the component of each callout.
fn components(callouts: usize, holes: usize, offers: &[Offer]) -> (Vec<u32>, Vec<usize>) {
    let mut parent: Vec<usize> = (0..callouts + holes).collect();
    for o in offers {
        let (a, b) = (root(&mut parent, o.callout()), root(&mut parent, callouts + o.hole()));
        parent[a.max(b)] = a.min(b);
    }
    let roots: Vec<usize> = (0..callouts).map(|c| root(&mut parent, c)).collect();
    let worthy = || offers.iter().enumerate().filter(|(_, o)| o.benefit > 0.0);
    let mut starts = vec![0; callouts + 1];
    worthy().for_each(|(_, o)| starts[roots[o.callout()] + 1] += 1);
    for c in 1..starts.len() {
        starts[c] += starts[c - 1];
    }
    let mut order = vec![0; starts[callouts]];
    for (i, o) in worthy() {
        let place = &mut starts[roots[o.callout()]];
        order[*place] = i as u32;
        *place += 1;
    }
    (order, roots)
}

fn root(parent: &mut [usize], mut i: usize) -> usize {
    while parent[i] != i {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    i
}

/// One component with its own dense numbering.
struct Net {
    /// Its offers, those of a callout together and in their order, numbered as the callouts and holes here are.
    offers: Vec<Offer>,
    /// Where those of each callout begin; one more for the end.
    starts: Vec<usize>,
    room: Vec<u32>,
    /// The offer that each hole takes.
    taken: Vec<Option<usize>>,
    paths: Paths,
}

/// Takes all offers of a component of one callout with room for all of them, as most are; false for any other.
fn take_all(capacity: &[u32], offers: &[Offer], component: &[u32], taken: &mut [Option<usize>]) -> bool {
    let callout = component.first().map_or(0, |&i| offers[i as usize].callout());
    let room = component.len() <= capacity[callout] as usize;
    if !room || component.iter().any(|&i| offers[i as usize].callout() != callout) {
        return false;
    }
    for i in component.iter().map(|&i| i as usize) {
        let (hole, benefit) = (offers[i].hole(), offers[i].benefit);
        let better = taken[hole].is_none_or(|before: usize| benefit > offers[before].benefit + EQUAL);
        if benefit > NOTHING && better {
            taken[hole] = Some(i);
        }
    }
    true
}

fn settle(capacity: &[u32], offers: &[Offer], component: &[u32], taken: &mut [Option<usize>]) {
    let mut callouts: Vec<usize> = component.iter().map(|&i| offers[i as usize].callout()).collect();
    callouts.sort_unstable();
    callouts.dedup();
    let mut holes: Vec<usize> = component.iter().map(|&i| offers[i as usize].hole()).collect();
    holes.sort_unstable();
    holes.dedup();
    let total: usize = callouts.iter().map(|&c| capacity[c] as usize).sum();
    if total.min(holes.len()).saturating_mul(component.len()) > WORK_LIMIT {
        greedy(capacity, offers, component, taken);
        return;
    }
    let mut order: Vec<usize> = component.iter().map(|&i| i as usize).collect();
    order.sort_by_key(|&i| offers[i].callout());
    let mut net = Net::new(capacity, offers, &order, &callouts, &holes);
    net.take_freely();
    while net.augment() {}
    for (&hole, offer) in holes.iter().zip(&net.taken) {
        taken[hole] = offer.map(|o| order[o]);
    }
}

impl Net {
    /// The net of some offers in the order of their callouts.
    fn new(capacity: &[u32], offers: &[Offer], order: &[usize], callouts: &[usize], holes: &[usize]) -> Net {
        let dense = |known: &[usize], number: usize| known.binary_search(&number).unwrap_or_default();
        let numbered = |&i: &usize| {
            let offer = &offers[i];
            Offer::new(dense(callouts, offer.callout()), dense(holes, offer.hole()), offer.benefit)
        };
        let offers: Vec<Offer> = order.iter().map(numbered).collect();
        let starts = (0..=callouts.len()).map(|c| offers.partition_point(|o| o.callout() < c)).collect();
        let room = callouts.iter().map(|&c| capacity[c]).collect();
        let paths = Paths {
            to_hole: vec![f64::INFINITY; holes.len()],
            via: vec![usize::MAX; holes.len()],
            gave_up: vec![usize::MAX; callouts.len()],
            to_callout: vec![0.0; callouts.len()],
            queue: VecDeque::new(),
        };
        Net { offers, starts, room, taken: vec![None; holes.len()], paths }
    }

    /// Takes the best offers one after another for as long as every callout has room. Until then the callout that took a
    /// hole is the one that it is worth most to, so that no hole changes hands and nothing is to be searched for.
    fn take_freely(&mut self) {
        if self.room.contains(&0) {
            return;
        }
        let Net { offers, room, taken, paths, .. } = self;
        for (o, offer) in offers.iter().enumerate() {
            let (hole, cost) = (offer.hole(), -offer.benefit);
            if cost < paths.to_hole[hole] - EQUAL {
                (paths.to_hole[hole], paths.via[hole]) = (cost, o);
            }
        }
        while let Some(hole) = best_free(taken, paths) {
            let offer = paths.via[hole];
            taken[hole] = Some(offer);
            let room = &mut room[offers[offer].callout()];
            *room -= 1;
            if *room == 0 {
                return;
            }
        }
    }

    /// Takes the most valuable path from a callout with room to a free hole; false if none is worth anything.
    fn augment(&mut self) -> bool {
        if self.room.iter().all(|&room| room == 0) {
            return false;
        }
        self.search();
        let Net { offers, room, paths, taken, .. } = self;
        let Some(mut h) = best_free(taken, paths) else { return false };
        // Walk back: each hole takes its new offer from a callout that gave up the hole before it.
        for _ in 0..=taken.len() {
            let offer = paths.via[h];
            let c = offers[offer].callout();
            taken[h] = Some(offer);
            if paths.gave_up[c] == usize::MAX {
                room[c] = room[c].saturating_sub(1);
                break;
            }
            h = paths.gave_up[c];
        }
        true
    }

    /// Cheapest paths from the callouts with room to every hole, over holes that change hands.
    fn search(&mut self) {
        let Net { offers, starts, room, taken, paths } = self;
        paths.begin(room);
        while let Some(c) = paths.queue.pop_front() {
            for o in starts[c]..starts[c + 1] {
                let h = offers[o].hole();
                let cost = paths.to_callout[c] - offers[o].benefit;
                if taken[h] == Some(o) || cost >= paths.to_hole[h] - EQUAL {
                    continue;
                }
                paths.to_hole[h] = cost;
                paths.via[h] = o;
                // A taken hole passes the search on to the callout that would have to give it up.
                let Some(old) = taken[h] else { continue };
                let (back, cost) = (offers[old].callout(), cost + offers[old].benefit);
                if cost < paths.to_callout[back] - EQUAL {
                    paths.to_callout[back] = cost;
                    paths.gave_up[back] = h;
                    paths.queue.push_back(back);
                }
            }
        }
    }
}

/// The free hole that the most valuable path leads to; none if no path is worth anything.
fn best_free(taken: &[Option<usize>], paths: &Paths) -> Option<usize> {
    let mut best: Option<usize> = None;
    for (h, offer) in taken.iter().enumerate() {
        let free = offer.is_none() && paths.to_hole[h] < -NOTHING;
        if free && best.is_none_or(|b| paths.to_hole[h] < paths.to_hole[b] - EQUAL) {
            best = Some(h);
        }
    }
    best
}

/// What a search found.
struct Paths {
    to_hole: Vec<f64>,
    /// The offer that each hole was reached by.
    via: Vec<usize>,
    /// The hole that each callout gave up to be reached; none for those with room.
    gave_up: Vec<usize>,
    to_callout: Vec<f64>,
    /// Callouts whose offers are to be looked at.
    queue: VecDeque<usize>,
}

impl Paths {
    /// Nothing found, and all callouts with room still to be looked at.
    fn begin(&mut self, room: &[u32]) {
        self.to_hole.fill(f64::INFINITY);
        self.via.fill(usize::MAX);
        self.gave_up.fill(usize::MAX);
        self.queue.clear();
        for (c, &room) in room.iter().enumerate() {
            self.to_callout[c] = if room > 0 { 0.0 } else { f64::INFINITY };
            if room > 0 {
                self.queue.push_back(c);
            }
        }
    }
}

fn greedy(capacity: &[u32], offers: &[Offer], component: &[u32], taken: &mut [Option<usize>]) {
    let mut order: Vec<usize> = component.iter().map(|&i| i as usize).collect();
    order.sort_by(|&a, &b| offers[b].benefit.total_cmp(&offers[a].benefit).then(a.cmp(&b)));
    let mut room = capacity.to_vec();
    for i in order {
        let o = offers[i];
        if taken[o.hole()].is_none() && room[o.callout()] > 0 {
            taken[o.hole()] = Some(i);
            room[o.callout()] -= 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn offer(callout: usize, hole: usize, benefit: f64) -> Offer {
        Offer::new(callout, hole, benefit)
    }

    fn worth(offers: &[Offer], taken: &[Option<usize>]) -> f64 {
        taken.iter().flatten().map(|&o| offers[o].benefit).sum()
    }

    #[test]
    fn gives_up_the_best_single_pair_for_the_best_whole() {
        // Greedy takes 5 and then 0.1, together 5.1; the best is 4 + 4 (hand calculation).
        let offers = [offer(0, 0, 5.0), offer(0, 1, 4.0), offer(1, 0, 4.0), offer(1, 1, 0.1)];
        let taken = solve(&[1, 1], 2, &offers);
        assert_eq!(taken, vec![Some(2), Some(1)]);
    }

    // Two offers for one hole, a second callout that is worth nothing, and equal benefits, by hand: the first callout takes
    // hole 3 for 2.5 and, with room for two, hole 0, which stands before hole 1.
    #[test]
    fn one_callout_takes_its_best_holes() {
        let offers =
            [offer(0, 3, 1.0), offer(0, 1, 2.0), offer(0, 3, 2.5), offer(0, 0, 2.0), offer(1, 2, 0.0)];
        assert_eq!(solve(&[2, 1], 4, &offers), vec![Some(3), None, None, Some(2)]);
        assert_eq!(solve(&[9, 1], 4, &offers), vec![Some(3), Some(1), None, Some(2)]);
    }

    #[test]
    fn respects_capacity() {
        let offers = [offer(0, 0, 1.0), offer(0, 1, 3.0), offer(0, 2, 2.0)];
        assert_eq!(solve(&[2], 3, &offers), vec![None, Some(1), Some(2)]);
    }

    /// Best total by trying everything.
    fn brute(capacity: &mut [u32], hole: usize, holes: usize, offers: &[Offer]) -> f64 {
        if hole == holes {
            return 0.0;
        }
        let mut best = brute(capacity, hole + 1, holes, offers);
        for o in offers.iter().filter(|o| o.hole() == hole) {
            if capacity[o.callout()] > 0 {
                capacity[o.callout()] -= 1;
                best = best.max(o.benefit + brute(capacity, hole + 1, holes, offers));
                capacity[o.callout()] += 1;
            }
        }
        best
    }

    proptest! {
        // The expected total comes from exhaustive search.
        #[test]
        fn is_as_good_as_exhaustive_search(
            mut capacity in proptest::collection::vec(0_u32..3, 3),
            worths in proptest::collection::vec(proptest::option::of(1_u32..100), 15),
        ) {
            let offers: Vec<Offer> = worths.iter().enumerate()
                .filter_map(|(i, w)| w.map(|w| offer(i % 3, i / 3, f64::from(w) / 10.0)))
                .collect();
            let taken = solve(&capacity, 5, &offers);
            for (c, &room) in capacity.iter().enumerate() {
                let used = taken.iter().flatten().filter(|&&o| offers[o].callout() == c).count();
                prop_assert!(used <= room as usize);
            }
            let best = brute(&mut capacity, 0, 5, &offers);
            prop_assert!((worth(&offers, &taken) - best).abs() < 1e-6);
        }
    }
}
