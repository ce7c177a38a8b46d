/**
 * Every tolerance of core and desk, with its reason. Lengths are in sheet units (longer side of the sheet = 1), angles in
 * radians. Settings of a method (damping, weights, where an iteration ends) stand with the method. From small to large:
 * - ROUNDING < CLOSED < SNAP < MISS
 * - angles: CLOSED < FOLDED_FLAT < ARRIVED < STIRRED < TURNED < MOVED < MISS < TRACK_STEP < PRESSED < JUMP
 * - lengths: ROUNDING < STILL < COPLANAR < ON_LINE < TOUCH < UNSEEN < TIGHT < VISIBLE_GAP < SAME_PLANE < SCAR < OFF_PLANE
 * - areas: NO_AREA < SLIVER, SAME_AREA
 * - moments: SAME_MOMENT < NEXT_MOMENT
 */

/** What double precision leaves after a few thousand operations on numbers near 1. */
export const ROUNDING = 1e-12;

/** A pose closes when no vertex is left with more rotation than this. Reached poses are usually at 1e-14. */
export const CLOSED = 1e-9;

/** True-up stops when every vertex condition holds to this. */
export const TRUE = 1e-12;

/**
 * Ends of lines nearer to each other than this are one vertex: 0.02 mm on a 200 mm sheet, a tenth of the finest
 * pencil line, and a hundred times the rounding of a file written to six decimals. Each snap is reported.
 */
export const SNAP = 1e-4;

/** A drive has arrived when it is within this of its target: 0.01 degrees, below what an eye can see. */
export const ARRIVED = (0.01 * Math.PI) / 180;

/** A stage that ends with a drive further than this from its target has failed: 1 degree. */
export const MISS = Math.PI / 180;

/**
 * A state stands for scaled angles when it is no further from them than this share of how far the flat sheet is, both as
 * roots of sums of squares. Sound patterns miss half-way angles by up to 0.69 of it; where only part of a pattern can
 * fold at all, as one straight line through a corner of six valleys, it is 0.82.
 */
export const NEARBY = 0.75;

/** A crease counts as turned when its angle changes by more than this: a tenth of a degree, above ARRIVED, below MISS. */
export const TURNED = 0.0017;

/** Neighbouring poses of a track differ by no more than this in any crease: 4 degrees; else the track is subdivided. */
export const TRACK_STEP = (4 * Math.PI) / 180;

/** A change between neighbouring poses that is still above this after subdivision is a jump: 12 degrees. */
export const JUMP = (12 * Math.PI) / 180;

/**
 * Points this near to the straight line between their neighbours are no corners: a file written to six decimals
 * leaves half of that. Well above rounding, a hundredth of SNAP, so that a finely drawn curve keeps its shape.
 */
export const STRAIGHT = 1e-6;

/**
 * A crease within this of flat, or of folded flat, is a hair open: a hand presses it shut without a thought. 10 degrees;
 * what runs deeper into other paper than that paper gives is told as crossing however little it is open.
 */
export const PRESSED = (10 * Math.PI) / 180;

/**
 * Closure derivatives weaker than this count as none when freedoms are counted: far above rounding of the squared
 * matrix (1e-15), and a corner must be folded by more than a thousandth of a degree before its third condition bites.
 */
export const SINGULAR = 3.7e-6;

/**
 * A drawn corner obeys the rule for its angles when it misses by no more than this, in radians: what coordinates
 * written to six decimals leave at the end of a crease a tenth of the sheet long. Larger than CLOSED, which poses meet.
 */
export const DRAWN = 1e-5;

/**
 * Two creases run straight on through a vertex when the vertex lies no further than this from the straight line:
 * rounding to 0.1 mm on a sheet of 100 mm leaves that. A bend meant as one is wider, or part of a longer curve.
 */
export const COLLINEAR = 1.5e-3;

/** A corner is out of place when it lies off by no more than this, sheet units; beyond it the drawing means something else. */
export const OUT_OF_PLACE = 0.05;

/**
 * A pose, or a drawing whose points have a height, lies flat when no corner is further than this from the plane, sheet
 * units: 0.2 micrometres on 200 mm.
 */
export const LEVEL = 1e-6;

/**
 * Numbers of a file count as zero beside its largest when they are smaller by this factor: control points
 * beside the chord of a curve that is a straight line. Programs write 6 to 15 digits.
 */
export const FILE_ROUNDING = 1e-9;

/**
 * Angles are written with four decimals or more, 1e-6 radians. No movement of vertices mends an angle that is off by
 * as much, so conditions that hold to this hold as well as the drawing says; what is left is stated.
 */
export const GIVEN_ANGLES = 5e-6;

/**
 * Panels nearer to one plane than this (sheet units; for normals the same as a number) lie in it: a hundred times the
 * rounding of a placed sheet, a thousandth of a sheet of paper's thickness.
 */
export const COPLANAR = 1e-7;

/**
 * Contact. Paper nearer than this touches and does not cross, sheet units: 4 micrometres on 200 mm. Angles beside a half
 * turn close only to the root of CLOSED (3e-5), so panels that lie on each other along a track stand off by as much.
 */
export const TOUCH = 2e-5;

/**
 * Along a motion no crossing deeper than this is missed: 0.02 mm on 200 mm, a fifth of the thickness of paper. Between
 * poses time is halved until panels can have moved by no more.
 */
export const UNSEEN = 1e-4;

/** Shallower crossings than this are not reported: 0.1 mm on 200 mm, the thickness of paper, which panels have not. */
export const TIGHT = 5e-4;

/** The sheet that a file without a size is judged as, mm: its longer side. Common practice, no source. */
export const USUAL_SHEET = 200;

/** Thickness of plain copy paper, mm, from memory; taken where a lesson does not say. */
export const USUAL_THICKNESS = 0.1;

/**
 * Paper springs back from a bend of this many thicknesses in radius (half a percent of strain) and keeps no trace: 10 mm
 * of copy paper. Common practice, no source. See contact/give.ts for how far a panel gives by it.
 */
export const SPRINGS_BACK = 100;

/**
 * A cutting plane is moved by this (sheet units) off the place asked for, so that it does not run through corners:
 * a thousandth of what can be seen, ten times COPLANAR.
 */
export const SECTION_NUDGE = 1.13e-6;

/**
 * Edges of a model folded flat that lie nearer to each other than this lie on each other: lengths meant to be equal
 * and written to five decimals differ by a quarter of it at most, folded a few times over; 4 micrometres on 200 mm.
 */
export const TOUCHING = 2e-5;

/** Areas (on a sheet of size 1) that differ by less are equal: a thousand roundings. */
export const SAME_AREA = 1e-9;

/** Triangles of less area than this are no panels but points on a straight side; as little as tells areas apart. */
export const SLIVER = 1e-9;

/** Areas below this are the rounding of edges that meet. */
export const NO_AREA = 1e-12;

/** Depths of tucks, sheet units, that differ by less are the same: a thousand roundings, far below TOUCHING. */
export const SAME_DEPTH = 1e-9;

/** Panels that go less than this, sheet units, against each other are at rest together: a hundredth of COPLANAR. */
export const STILL = 1e-9;

/** Places differ by no more than this, sheet units, when they went from a file's frame to the sheet's and back. */
export const REFRAMED = 1e-9;

/**
 * Points nearer to each other or to a line than this are one or lie on it, sheet units: a hundredth of SNAP, ten times
 * COPLANAR.
 */
export const ON_LINE = 1e-6;

/** Shares of a crease or of corners that differ by less are one: ON_LINE on a crease as long as the sheet. */
export const SAME_SHARE = 1e-6;

/** Folded edges nearer to each other than this, sheet units, are one to the hand: 0.02 mm on 200 mm, as SNAP. */
export const SAME_EDGE = 1e-4;

/** A mark lies on a line when it is no further off than this, sheet units: 0.2 mm on 200 mm, ten times SNAP. */
export const MARK = 1e-3;

/** A gape below this, sheet units, is none: 0.2 mm on 200 mm, twice TIGHT. */
export const VISIBLE_GAP = 1e-3;

/** A stretch of a fold shorter than this counts for nothing, as VISIBLE_GAP. Also how far beside it is looked. */
export const SHORT = 1e-3;

/** A panel has moved when it lies further off than this, sheet units: TURNED at the end of the sheet. */
export const SHIFTED = 1.7e-3;

/** A scar shorter than this is not worth a word, sheet units: a millimetre of 200, five times MARK. */
export const SCAR = 5e-3;

/** Planes within this, sheet units, of one another are drawn as one: half a millimetre on 200. */
export const SAME_PLANE = 2.5e-3;

/** A panel counts as having been on one side when it stood this far off, sheet units: beyond SAME_PLANE on both sides. */
export const OFF_PLANE = 6e-3;

/** Given angles within this of a half turn, or of each other, are the same: what counting in degrees leaves. */
export const HALF_TURN = 1e-9;

/** Creases within this of flat or of a half turn count as such; what stands open by more leaves the plane. Above CLOSED. */
export const FOLDED_FLAT = 1e-6;

/** Rays nearer to each other than this, radians, run the same way; as FOLDED_FLAT, which turns them. */
export const SAME_WAY = 1e-6;

/** Directions whose product is below this are square to each other: the same angle as SAME_WAY. */
export const SQUARE = 1e-6;

/** Planes whose normals differ by less, squared (SAME_WAY squared), have no line that could be relied on. */
export const PARALLEL = 1e-12;

/** Motions that differ by less, in every number, are one: well above what closure leaves, far below any fold. */
export const SAME_MOTION = 1e-4;

/** Poses nearer than this are the same, radians: a pose made exact moves by less. Below ARRIVED. */
export const SAME_POSE = 1e-4;

/** A crease that turned by more than this on the way of a step has stirred, radians: a track may have begun. Above ARRIVED. */
export const STIRRED = 1e-3;

/** A crease that stands further than this from where a hand took it has been moved, radians: half a degree, above TURNED. */
export const MOVED = 9e-3;

/** Places of the storyboard nearer than this are one: they come from sums of small moves. In steps. */
export const SAME_MOMENT = 1e-6;

/** From a place so near to a step's end, going on means the next step. In steps, far below a press of an arrow. */
export const NEXT_MOMENT = 1e-3;
