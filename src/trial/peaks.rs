//! What a trace of torque over angle says: forming peak, seating rise and failure peak.
//!
//! While the thread is formed the torque moves slowly, over turns; once the head is seated it climbs within part of a
//! turn until something fails. So:
//!
//! 1. The samples are put on an even grid of angles, `GRID` degrees apart, each point the mean of its samples; gaps
//!    are bridged by a straight line. A median of three points takes single spikes away.
//! 2. The failure peak is the greatest torque, a mean over [`PEAK`] degrees round each point. Behind it the torque must
//!    fall by [`FALL`] of it, or the trace ended before the joint failed; a screw that breaks may end the trace.
//! 3. The steepest climb before the failure peak is found, over [`CLIMB`] degrees. Going back from there, the seating
//!    rise begins where the slope is first below [`FOOT`] of the steepest; the foot is put where the steepest line
//!    meets the level found there. The climb must be [`CLEAR`] times as steep as the torque of forming is on average,
//!    and at least [`FORMED`] degrees must have been turned before it.
//! 4. The forming peak is the greatest torque before the foot, a mean over [`FORMING`] degrees round each point, so
//!    that noise on a long plateau does not count as a peak.

use super::Mode;
use super::trace::Trace;

/// Degrees between two points of the even grid.
const GRID: f64 = 2.0;
/// Degrees that a failure peak is the mean of.
const PEAK: f64 = 6.0;
/// Degrees that a forming peak is the mean of.
const FORMING: f64 = 30.0;
/// Degrees that a slope is taken over.
const CLIMB: f64 = 20.0;
/// Share of the steepest slope below which the climb has not begun.
const FOOT: f64 = 0.2;
/// Share of the failure peak that the torque falls by behind it.
const FALL: f64 = 0.1;
/// How many times steeper the seating rise is than forming on average.
const CLEAR: f64 = 4.0;
/// Degrees turned before the seating rise, at least.
const FORMED: f64 = 180.0;

/// More points than this are a wrong unit of angle, not a joint: 400 turns.
const MOST_POINTS: usize = 72_000;

/// What was found on a trace; torques in N·m, angles in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peaks {
    /// Greatest torque of forming.
    pub drive: f64,
    /// Where that is.
    pub drive_at: f64,
    /// Where the seating rise begins.
    pub seat_at: f64,
    /// Torque there.
    pub seat: f64,
    /// Torque of failure.
    pub failure: f64,
    /// Where that is.
    pub failure_at: f64,
}

/// Finds the peaks of a trace.
///
/// # Errors
/// What could not be told from it, and what to do instead.
pub(super) fn find(trace: &Trace, mode: Option<Mode>) -> Result<Peaks, String> {
    let curve = Curve::new(trace)?;
    let smooth = curve.mean(PEAK);
    let top = greatest(&smooth).ok_or("the trace is empty")?;
    let failure = smooth[top];
    let after = smooth[top..].iter().copied().fold(f64::INFINITY, f64::min);
    if after > (1.0 - FALL) * failure && mode != Some(Mode::ScrewBreak) {
        return Err("the trace ends before its torque falls, so the failure is not on it".to_owned());
    }
    let foot = foot(&smooth, top)?;
    let slow = curve.mean(FORMING);
    // A mean that reaches beyond the foot would count the climb as forming.
    let half = (FORMING / GRID / 2.0) as usize;
    let formed = &slow[..(foot.saturating_sub(half)).max(1)];
    let peak = greatest(formed).ok_or("nothing was turned before the seating rise")?;
    Ok(Peaks {
        drive: slow[peak],
        drive_at: curve.angle(peak),
        seat_at: curve.angle(foot),
        seat: smooth[foot],
        failure,
        failure_at: curve.angle(top),
    })
}

/// Index at which the seating rise begins.
fn foot(smooth: &[f64], top: usize) -> Result<usize, String> {
    let step = (CLIMB / GRID) as usize;
    let formed = (FORMED / GRID) as usize;
    let unclear = || "no seating rise can be told from forming; state drive and failure instead".to_owned();
    let slope = |i: usize| (smooth[i + step] - smooth[i]) / step as f64;
    let last = top.checked_sub(step).filter(|last| *last > formed).ok_or_else(unclear)?;
    let steepest = (0..=last).max_by(|&a, &b| slope(a).total_cmp(&slope(b))).ok_or_else(unclear)?;
    let below = (0..steepest).rev().find(|&i| slope(i) < FOOT * slope(steepest)).ok_or_else(unclear)?;
    // Where the steepest line, drawn downwards, meets the level in front of the climb.
    let level = smooth[below];
    let back = (smooth[steepest] - level) / slope(steepest);
    let foot = (steepest as f64 - back).round().clamp(below as f64, steepest as f64) as usize;
    let on_average = (smooth[foot] / foot.max(1) as f64).max(0.0);
    if foot < formed || slope(steepest) < CLEAR * on_average {
        return Err(unclear());
    }
    Ok(foot)
}

/// Torque over an even grid of angles.
struct Curve {
    from: f64,
    torque: Vec<f64>,
}

impl Curve {
    fn new(trace: &Trace) -> Result<Curve, String> {
        let angles = || trace.samples.iter().map(|s| s.0);
        let (from, to) = (angles().fold(f64::INFINITY, f64::min), angles().fold(f64::NEG_INFINITY, f64::max));
        let points = ((to - from) / GRID).floor() + 1.0;
        if points.is_nan() || points < 2.0 {
            return Err("the angle does not change over the trace".to_owned());
        }
        if points > MOST_POINTS as f64 {
            return Err(format!("the angle runs from {from:.0}° to {to:.0}°; is it in degrees?"));
        }
        let mut sums = vec![(0.0, 0_u32); points as usize];
        for &(angle, torque) in &trace.samples {
            if let Some(sum) = sums.get_mut(((angle - from) / GRID) as usize) {
                *sum = (sum.0 + torque, sum.1 + 1);
            }
        }
        let means = sums.iter().map(|&(sum, count)| (count > 0).then(|| sum / f64::from(count))).collect();
        Ok(Curve { from, torque: despiked(&bridged(means)) })
    }

    fn angle(&self, index: usize) -> f64 {
        // The middle of the point's samples.
        self.from + GRID * (index as f64 + 0.5)
    }

    /// The mean of the points within half of `width` degrees of each.
    fn mean(&self, width: f64) -> Vec<f64> {
        let half = (width / GRID / 2.0) as usize;
        let n = self.torque.len();
        (0..n)
            .map(|i| {
                let around = &self.torque[i.saturating_sub(half)..(i + half + 1).min(n)];
                around.iter().sum::<f64>() / around.len() as f64
            })
            .collect()
    }
}

/// Points without samples, on the line between those beside them.
fn bridged(means: Vec<Option<f64>>) -> Vec<f64> {
    let known: Vec<(usize, f64)> = means.iter().enumerate().filter_map(|(i, m)| Some((i, (*m)?))).collect();
    let mut out: Vec<f64> = means.iter().map(|m| m.unwrap_or(0.0)).collect();
    for pair in known.windows(2) {
        let [(a, low), (b, high)] = pair else { continue };
        for (i, value) in out.iter_mut().enumerate().take(*b).skip(a + 1) {
            *value = low + (high - low) * (i - a) as f64 / (b - a) as f64;
        }
    }
    out
}

/// The median of each point and its neighbours; the ends stay.
fn despiked(torque: &[f64]) -> Vec<f64> {
    let mut out = torque.to_vec();
    for (value, three) in out.iter_mut().skip(1).zip(torque.windows(3)) {
        let (a, b, c) = (three[0], three[1], three[2]);
        *value = a.max(b).min(a.min(b).max(c));
    }
    out
}

fn greatest(values: &[f64]) -> Option<usize> {
    (0..values.len()).max_by(|&a, &b| values[a].total_cmp(&values[b]).then(b.cmp(&a)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A curve with known peaks: forming climbs to 1 N·m over 720° and falls to 0.7, at 1800° the head is seated, the
    /// torque climbs to 4 N·m within 120°, stays near it for 30° and falls.
    fn known(angle: f64) -> f64 {
        match angle {
            a if a < 720.0 => a / 720.0,
            a if a < 1800.0 => 1.0 - 0.3 * (a - 720.0) / 1080.0,
            a if a < 1920.0 => 0.7 + 3.3 * (a - 1800.0) / 120.0,
            a if a < 1950.0 => 4.0,
            a => (4.0 - (a - 1950.0) / 30.0).max(0.5),
        }
    }

    /// A spread of numbers between -1 and 1 that is the same in every run (a linear congruential generator).
    fn noise() -> impl FnMut() -> f64 {
        let mut state = 12_345_u64;
        move || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 40) as f64 / f64::from(1_u32 << 23) - 1.0
        }
    }

    fn sampled(step: f64, amount: f64) -> Trace {
        let mut noise = noise();
        let samples = (0..(2100.0 / step) as usize).map(|i| {
            let angle = i as f64 * step;
            (angle, known(angle) + amount * noise())
        });
        Trace { samples: samples.collect() }
    }

    fn assert_known(peaks: &Peaks, torque: f64) {
        assert!((peaks.drive - 1.0).abs() < torque, "{peaks:?}");
        assert!((peaks.drive_at - 720.0).abs() < 60.0, "{peaks:?}");
        assert!((peaks.seat_at - 1800.0).abs() < 10.0, "{peaks:?}");
        assert!((peaks.failure - 4.0).abs() < torque, "{peaks:?}");
        assert!((1915.0..1955.0).contains(&peaks.failure_at), "{peaks:?}");
    }

    #[test]
    fn a_clean_trace_gives_its_peaks() {
        assert_known(&find(&sampled(1.0, 0.0), None).unwrap(), 0.015);
    }

    #[test]
    fn noise_of_a_tenth_and_coarse_samples_move_no_peak_by_more_than_a_few_hundredths() {
        assert_known(&find(&sampled(0.5, 0.1), None).unwrap(), 0.05);
        assert_known(&find(&sampled(5.0, 0.02), None).unwrap(), 0.05);
    }

    #[test]
    fn a_single_spike_is_no_peak() {
        let mut trace = sampled(2.0, 0.0);
        trace.samples[300].1 = 9.0;
        assert_known(&find(&trace, None).unwrap(), 0.015);
    }

    #[test]
    fn what_cannot_be_told_is_said() {
        let cut = Trace { samples: sampled(1.0, 0.0).samples.into_iter().take(1930).collect() };
        assert!(find(&cut, None).unwrap_err().contains("the failure is not on it"));
        assert_known(&find(&cut, Some(Mode::ScrewBreak)).unwrap(), 0.015);
        // A screw that breaks while the thread is formed: one slope from the first turn to the last.
        let forming = Trace { samples: (0..2000).map(|i| (f64::from(i), f64::from(i) / 500.0)).collect() };
        assert!(find(&forming, Some(Mode::ScrewBreak)).unwrap_err().contains("no seating rise"));
        let still = Trace { samples: vec![(5.0, 1.0); 30] };
        assert!(find(&still, None).unwrap_err().contains("does not change"));
    }
}
