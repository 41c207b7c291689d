//! Every tolerance of the program, on one page. All of them concern the
//! solver: outside this folder there are only whole numbers.

/// Reductions that HiGHS is told to leave out before short solves, one bit each:
/// the aggregator (12), which fills the sparse rows of running totals.
pub const REDUCTIONS_LEFT_OUT: i32 = 1 << 12;

/// Rounds after which HiGHS drops a cut that is not in use. With its own
/// choice, 10, the search for cuts by residues took four fifths of the time on
/// these programs; 2 halved the time of the slow windows.
pub const ROUNDS_A_CUT_MAY_IDLE: i32 = 2;

/// A relative gap would call a night "best" that is not: none is allowed.
pub const RELATIVE_GAP: f64 = 0.0;

/// Every level counts in whole units, so a gap below one proves the value best.
pub const ABSOLUTE_GAP: f64 = 0.9;

/// How far from whole a column may be; the point is then rounded and every row
/// checked in whole numbers, so nothing rests on this.
pub const WHOLE: f64 = 1e-6;

/// A bound this little above a whole number is that number: the solver's own
/// arithmetic is no finer. It only ever weakens a bound.
pub const BOUND: f64 = 1e-4;

/// What a relaxation says may be this much too high for each unit of its largest coefficient: rows are kept to 1e-7, and a
/// row is worth about what the sum counts in it. It only ever weakens a bound.
pub const RELAXED: f64 = 1e-6;
