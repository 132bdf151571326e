//! Chooses one callout, or none, for every hole at once: the least total cost under the callouts' counts.

use super::evidence::{self, Candidate, Pair, UNPAIRED};
use super::flow::{self, Offer};
use super::rings::same_diameter;
use super::scene::Scene;
use super::{CostTerm, PairedBy, confidence};

/// The callout of a hole and why.
#[derive(Debug, Clone)]
pub(super) struct Taken {
    /// Index into the candidates.
    pub(super) candidate: usize,
    pub(super) by: PairedBy,
    /// What it costs, if that was asked for.
    pub(super) terms: Box<[CostTerm]>,
    pub(super) confidence: f64,
}

/// Callouts and what each hole took.
#[derive(Debug)]
pub(super) struct Assignment {
    pub(super) candidates: Vec<Candidate>,
    /// For each spot.
    pub(super) taken: Vec<Option<Taken>>,
    /// The spots of each candidate.
    pub(super) holes: Vec<Vec<usize>>,
}

impl Assignment {
    /// Forgets what was weighed against what.
    pub(super) fn forget_pairs(&mut self) {
        self.candidates.iter_mut().for_each(Candidate::forget_pairs);
    }
}

/// Assigns all holes of a drawing; `reasoned` with the terms of what they took.
pub(super) fn assign(scene: &Scene<'_>, reasoned: bool) -> Assignment {
    let mut candidates = evidence::collect(scene);
    let outside = outside(&candidates, scene.spots.len());
    let chosen = choose(&candidates, &outside, scene.spots.len());
    let rivals = Rivals::new(&candidates, scene.spots.len());
    let mut taken: Vec<Option<Taken>> = chosen
        .iter()
        .enumerate()
        .map(|(spot, choice)| choice.map(|(c, e)| take(scene, &candidates, &rivals, &chosen, spot, c, e)))
        .collect();
    for (taken, choice) in taken.iter_mut().zip(&chosen).filter(|_| reasoned) {
        if let (Some(taken), Some((c, e))) = (taken, choice) {
            taken.terms = candidates[*c].take_terms(*e).into();
        }
    }
    repeated(scene, &candidates, &mut taken);
    let mut holes = by_candidate(candidates.len(), &taken);
    if surplus(scene, &candidates, &holes, &mut taken) {
        repeated(scene, &candidates, &mut taken);
        holes = by_candidate(candidates.len(), &taken);
    }
    Assignment { candidates, taken, holes }
}

/// Candidate and pair of it.
type Choice = (usize, usize);

/// The cheapest pair of each hole with a callout of unlimited reach, if it is cheaper than none.
fn outside(candidates: &[Candidate], spots: usize) -> Vec<(f64, Option<Choice>)> {
    let mut best: Vec<(f64, Option<Choice>)> = vec![(UNPAIRED, None); spots];
    for (c, candidate) in candidates.iter().enumerate().filter(|(_, c)| c.capacity.is_none()) {
        for (e, pair) in candidate.pairs().enumerate() {
            if pair.cost < best[pair.spot].0 - 1e-12 {
                best[pair.spot] = (pair.cost, Some((c, e)));
            }
        }
    }
    best
}

fn choose(candidates: &[Candidate], outside: &[(f64, Option<Choice>)], spots: usize) -> Vec<Option<Choice>> {
    let limited = || candidates.iter().enumerate().filter(|(_, c)| c.capacity.is_some());
    let mut offers = Vec::with_capacity(limited().map(|(_, c)| c.len()).sum());
    // Where those of each callout begin.
    let mut starts = vec![0; candidates.len()];
    for (c, candidate) in limited() {
        starts[c] = offers.len();
        let offer = |pair: Pair| Offer::new(c, pair.spot, outside[pair.spot].0 - pair.cost);
        offers.extend(candidate.pairs().map(offer));
    }
    let capacity: Vec<u32> = candidates.iter().map(|c| c.capacity.unwrap_or(0)).collect();
    let solved = flow::solve(&capacity, spots, &offers);
    let choice = |o: usize| (offers[o].callout(), o - starts[offers[o].callout()]);
    solved.iter().zip(outside).map(|(offer, other)| offer.map(choice).or(other.1)).collect()
}

/// The pairs of each hole, to see what else it could have taken.
struct Rivals {
    /// Where those of each hole begin in `pairs`; one more for the end.
    starts: Vec<usize>,
    /// Those of a hole in the order of the candidates: the candidate, and which of its pairs it is.
    pairs: Vec<(u32, u32)>,
}

impl Rivals {
    fn new(candidates: &[Candidate], spots: usize) -> Rivals {
        let all = || {
            let of = |(c, candidate): (usize, &'_ Candidate)| (0..candidate.len()).map(move |e| (c, e));
            candidates.iter().enumerate().flat_map(of)
        };
        let spot = |(c, e): Choice| candidates[c].pair(e).spot;
        let mut starts = vec![0; spots + 1];
        all().for_each(|choice| starts[spot(choice) + 1] += 1);
        for s in 1..starts.len() {
            starts[s] += starts[s - 1];
        }
        let mut next = starts.clone();
        let mut pairs = vec![(0, 0); starts[spots]];
        for choice in all() {
            let place = &mut next[spot(choice)];
            pairs[*place] = (choice.0 as u32, choice.1 as u32);
            *place += 1;
        }
        Rivals { starts, pairs }
    }

    fn of(&self, spot: usize) -> impl Iterator<Item = Choice> {
        let own = &self.pairs[self.starts[spot]..self.starts[spot + 1]];
        own.iter().map(|&(candidate, pair)| (candidate as usize, pair as usize))
    }
}

/// The choice of a hole, how sure it is, and as yet without its terms.
fn take(
    scene: &Scene<'_>,
    candidates: &[Candidate],
    rivals: &Rivals,
    chosen: &[Option<Choice>],
    spot: usize,
    c: usize,
    e: usize,
) -> Taken {
    let pair = candidates[c].pair(e);
    let callout = &scene.statements[candidates[c].statement].callout;
    let other_callout = rivals
        .of(spot)
        .filter(|(o, _)| {
            *o != c && !evidence::same_words(&scene.statements[candidates[*o].statement].callout, callout)
        })
        .map(|(o, k)| candidates[o].pair(k).cost)
        .fold(UNPAIRED, f64::min);
    let mut margin = other_callout - pair.cost;
    if matches!(pair.by, PairedBy::Nearest) {
        // The same callout could as well mean another hole that took nothing better.
        let other_hole = candidates[c]
            .pairs()
            .filter(|o| o.spot != spot && chosen[o.spot].is_none())
            .map(|o| o.cost)
            .fold(UNPAIRED, f64::min);
        margin = margin.min(other_hole - pair.cost);
    }
    Taken {
        candidate: c,
        by: pair.by,
        terms: Box::default(),
        confidence: confidence::of_pair(pair.by, candidates[c].written(e), margin, candidates[c].read),
    }
}

/// A hole that two views show has one callout, whichever of them carries it.
fn repeated(scene: &Scene<'_>, candidates: &[Candidate], taken: &mut [Option<Taken>]) {
    // From the views that repeat to the ones repeated, then back, so that all views of a hole learn of it.
    let pairs = || scene.twin.iter().enumerate().filter_map(|(s, twin)| twin.map(|of| (s, of)));
    let both = pairs().chain(pairs().map(|(s, of)| (of, s)));
    for (from, to) in both {
        if taken[to].is_some() {
            continue;
        }
        let Some((candidate, sure)) = taken[from].as_ref().map(|t| (t.candidate, t.confidence)) else {
            continue;
        };
        let detail = "the same hole in another view carries the callout".into();
        let terms = vec![CostTerm { name: "same-hole-in-other-view", cost: 0.8, detail }];
        let read = candidates[candidate].read;
        let confidence = confidence::of_pair(PairedBy::Count, &terms, 1.0, read).min(sure);
        taken[to] = Some(Taken { candidate, by: PairedBy::Count, terms: terms.into(), confidence });
    }
}

/// Holes left over that look like those of a counted callout that is full keep to it, so that the count is seen to
/// be wrong. Whether there are any.
fn surplus(
    scene: &Scene<'_>,
    candidates: &[Candidate],
    holes: &[Vec<usize>],
    taken: &mut [Option<Taken>],
) -> bool {
    if taken.iter().all(Option::is_some) {
        return false;
    }
    let mut full: Vec<(usize, f64, Vec<usize>)> = Vec::new();
    for (c, candidate) in candidates.iter().enumerate() {
        let counted = scene.statements[candidate.statement].callout.count.is_some_and(|n| n > 1);
        let all = candidate.capacity.is_some_and(|n| holes[c].len() >= n as usize);
        if let (true, true, Some(like)) = (counted && !holes[c].is_empty(), all, candidate.like) {
            let mut views: Vec<usize> = holes[c].iter().map(|&h| scene.spots[h].view).collect();
            views.sort_unstable();
            views.dedup();
            full.push((c, like, views));
        }
    }
    let mut any = false;
    for (spot, slot) in taken.iter_mut().enumerate() {
        if slot.is_some() {
            continue;
        }
        let place = &scene.spots[spot];
        let nearest = full
            .iter()
            .filter(|(_, like, views)| same_diameter(*like, place.drawn) && views.contains(&place.view))
            .map(|(c, _, _)| (scene.statements[candidates[*c].statement].bounds.distance(place.at), *c))
            .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        if let Some((_, c)) = nearest {
            let detail = "drawn like the holes that the callout counts, beyond its number".into();
            let terms = vec![CostTerm { name: "count-left", cost: 1.5, detail }];
            let confidence = confidence::of_pair(PairedBy::Count, &terms, 1.0, candidates[c].read);
            *slot = Some(Taken { candidate: c, by: PairedBy::Count, terms: terms.into(), confidence });
            any = true;
        }
    }
    any
}

/// The spots that took each candidate.
fn by_candidate(candidates: usize, taken: &[Option<Taken>]) -> Vec<Vec<usize>> {
    let mut counts = vec![0; candidates];
    taken.iter().flatten().for_each(|t| counts[t.candidate] += 1);
    let mut holes: Vec<Vec<usize>> = counts.into_iter().map(Vec::with_capacity).collect();
    for (spot, t) in taken.iter().enumerate() {
        if let Some(t) = t {
            holes[t.candidate].push(spot);
        }
    }
    holes
}
