import { AFTER_RELEASE } from './after-release.js';
import { SIGNALS } from './channels.js';
import { CONTROL_CHARTS } from './charts.js';
import { CONTROL_PLAN } from './control-plan.js';
import { DELIVERY, ORDERED } from './delivery.js';
import { DEPTHS } from './depths.js';
import { INSPECTIONS } from './inspections.js';
import { INSTRUMENTS_AND_CALIBRATIONS } from './instruments.js';
import { LINE } from './line.js';
import { NEIGHBOUR } from './neighbour.js';
import { NONCONFORMANCES } from './nonconformances.js';
import { PIPE } from './pipe.js';
import { PROCEDURES_AND_PEOPLE } from './procedures-and-people.js';
import { REPAIRS } from './repairs.js';
import { SEAM } from './seam.js';
import { SHIFTS } from './shifts.js';
import type { Step } from './step.js';
import { STRIP } from './strip.js';
import { TESTS } from './tests.js';
import { WELDING } from './welding.js';
import { WELLS } from './wells.js';

/**
 * What happens in this well. Wells, people, firms and figures are invented.
 *
 * Nine coils of four heats, ordered to revision 4 of the strip specification, are received in February 2026. Their
 * certificates are keyed by two people, once with a slip; eight coils are accepted, LM-09 under a concession, and LM-07,
 * which comes without a certificate, is permitted for one string. The first 117.8 m of LM-01
 * become a short trial string in Lindmoor Geothermal 1, on 24 February. The rest and eight more coils become the main
 * string of Lindmoor Geothermal 2, from 2 to 12 March: 1,232 m of pipe, 127.0 × 5.00 mm, with the fold at 598.3 m.
 *
 * - 3 March: the strip edges lap at splice S-3. The splice is cut out (NC-0002, closed).
 * - 5 to 6 March, night: a power dip sets the main counter to zero; the diameter gauge is moved 1.5 m.
 * - 6 March: splice S-5 is in doubt. 7 March: an open seam is cut out; the film of that re-join is still to be read.
 * - 9 March: the line backs up 3.2 m. The shoe is tagged 1.1 m too deep: that tie does not fit its neighbours.
 * - 10 March: nobody sees splice S-7 pass; the viewing lamp fails for 8 m.
 * - 11 March: thin strip of LM-01, in both wells, is accepted under concession (NC-0001).
 * - 14 March, 18:00 UTC: the string is released, with what is known then.
 * - 15 March: a camera sheet of two days before is keyed in, by another person than the one who looked.
 * - 16 March: the wheel of the main counter is taped. It turned out 0.6 % more pipe than counted: every position that
 *   rests on it moves, and splice S-2 with them, from 214.6 to 213.2 m measured depth in the outer wall.
 * - 17 March: a chart of the wall gauge is read again: 4.61 mm, not 4.91. NC-0003 is opened, on pipe between 212 and
 *   214.5 m in the outer wall, where nothing can be repaired any more.
 *
 * - 3 to 5 March: channels of the line are sampled over 415 m. On the 4th the check at the end fails, on the 5th none is made.
 *
 * Welder, seam operator and examiners work by three procedures (splice WP-1, re-join PW-2, seam WP-3), each with its
 * qualification test. Days are those of the site, an hour ahead of UTC.
 *
 * - 5 March: the bead before 505 m is ground and looked at again as sensitively; a scratch ground on 11 March is not.
 * - 5 March, 23:20 UTC, 6 March at the site: Ilka examines the ends of S-5; NDT-118 ran out the day before. So did the
 *   certificate of hardness block RB-250, on which S-5 is read: its step after forming is held.
 * - 4 March: a ring of LM-04 cracks when it is flattened, and two retests pass.
 * - 6 and 7 March: Friday hands over three items, of which Saturday refuses one; what Saturday hands over nobody accepted.
 * - 9 March: the weld of S-6 is 0.4 V above its procedure. Bridge gauge BG-02 is found out, a week after it was good: of
 *   what it measured, the high-low of S-4 was nearer to its limit than the gauge was wrong.
 *
 * - 2 March: a control plan says what every metre and joint needs; ultrasonics are waived for the pipe of that day.
 * - 9 March: four metres are held after the jam, and the hold is lifted by another person. 14 March: Ilka releases 110 m; the
 *   counter's correction reopens them.
 *
 * - 3 March: four control charts are set up, and limits of two signed. One signals at the thin wall before S-2, which nobody answers
 *   until NC-0003 is opened.
 *
 * So the question "what stands at 212.0 to 214.5 m?" has one answer as known on the day of release and another today.
 */
export const STORY: readonly Step[] = [
  ...WELLS, ...ORDERED, ...STRIP, ...DELIVERY, ...NEIGHBOUR, ...LINE, ...DEPTHS, ...PIPE, ...INSPECTIONS, ...NONCONFORMANCES, ...AFTER_RELEASE,
  ...INSTRUMENTS_AND_CALIBRATIONS, ...PROCEDURES_AND_PEOPLE, ...WELDING, ...SEAM, ...REPAIRS, ...TESTS, ...SHIFTS, ...SIGNALS, ...CONTROL_PLAN, ...CONTROL_CHARTS,
];

/** The string that the README and the greeting ask about; ids follow from the story, so a test holds it to that. */
export const MAIN_STRING_ID = '019c6585-4a00-7000-8000-00ec1813f175';
