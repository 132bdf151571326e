//! Every limit of the reader in one place, each with its reason. Meeting one is a problem that names it, never a
//! hang. This file holds numbers only; what happens at a limit is decided where it is met.

/// Largest file that is read, in bytes: lines, entities and corners are numbered with 32 bits, and a check takes up to three
/// times as much memory. The largest real drawings have some hundred million bytes.
pub const MAX_BYTES: u64 = 2 << 30;

/// Most things that INSERTs may place in one drawing, counted with the empty placements on the way. A dense real
/// drawing places tens of thousands; half a million, all of them lines that join, takes under half a second.
pub(super) const MAX_PLACED: u64 = 500_000;

/// How many of these a text counts as that a block shows: what it says and its box take that much longer than a line.
pub(super) const TEXT_IN_LINES: u64 = 8;

/// Longest text value that is decoded, in bytes. The longest notes of real drawings have some 10 kB.
pub(super) const MAX_TEXT_BYTES: usize = 1 << 20;

/// Most decoded text that placed blocks may repeat, in bytes, so that one long note in a large array cannot fill
/// the memory.
pub(super) const MAX_REPEATED_TEXT_BYTES: usize = 64 << 20;

/// Most vertices of one polyline or leader. Contour lines of maps reach some 100,000.
pub(super) const MAX_VERTICES: usize = 2_000_000;

/// Most control or fit points of a spline that is tried as a circle. Exporters write circles with 7 to 64.
pub(super) const MAX_SPLINE_POINTS: usize = 400;

/// Highest spline degree that is tried as a circle; CAD programs write at most 11, circles 2 to 5.
pub(super) const MAX_SPLINE_DEGREE: usize = 15;

/// Most cells of one table entity; wide tables of real drawings have a few thousand.
pub(super) const MAX_TABLE_CELLS: usize = 200_000;

/// Most problems listed one by one for one drawing; the rest are counted in one more.
pub(super) const MAX_PROBLEMS: usize = 1_000;

/// Deepest nesting of braces in a formatted text that keeps its own font; deeper ones share the outer font.
pub(super) const MAX_FORMAT_DEPTH: usize = 64;

/// Largest coordinate that is believed, so that no sum or product of two overflows.
pub(super) const MAX_COORDINATE: f64 = 1e150;

/// Most work on splines that an uneven scale may make circles, in control points and squares of the degree, for all
/// different placements together: some 400,000 placements of a usual spline, half a second of work.
pub(super) const MAX_OVAL_WORK: usize = 10_000_000;

/// Most ends of lines that are compared at one joint when LINEs are joined to polygons. Where more lines of like length
/// meet in one corner, they are a pattern and no circle.
pub(super) const MAX_JOINED_ENDS: usize = 32;

/// Most corners of the boundary of a viewport; for one with more, the rectangle of the viewport counts. Real ones have
/// four to some dozens, and each callout on the sheet is compared with them.
pub(super) const MAX_CLIP_CORNERS: usize = 4_096;
