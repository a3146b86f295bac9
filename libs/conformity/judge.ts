import { decimal } from '#libs/exact';
import { type Judgement, judgementOf, notCompared } from './judgement.js';
import { type Bounds, cut, parseReading, type Reading } from './reading.js';
import { keyOfTexts, remembering } from './remembering.js';
import { type ConformityRules, type JudgeOptions, type Limits, readRequirement } from './requirement.js';
import { type Ruling, rulingFor } from './ruling.js';
import { isEmpty } from './zone.js';

/** Papers repeat values: the same few hundred digits come back coil after coil. */
const ANSWERS_KEPT = 4096;
/** A ruling belongs to a unit and an uncertainty; there are few of either. */
const RULINGS_KEPT = 64;

/**
 * Judges readings against limits:
 * 1. The value is read, and its multiplier taken out.
 * 2. It is converted exactly into the unit of the limits.
 * 3. Absolute method (ASTM E29): it is compared as it is. Rounding method: it is first rounded to the place of the last
 *    digit of the limit it is compared with, or to the place that the specification states; half to even.
 * 4. The decision rule says where it conforms and where it does not. Limits belong to what conforms. A guard band is
 *    w = r·U, U from the reading or else from the options; the rounded value is compared with the guarded limits.
 * 5. A value known only between bounds conforms, or does not, when all that it can be does; else it is not comparable.
 * All of it is exact; only the probability is not.
 *
 * Under the rounding method a limit printed with fewer digits can pass what a wider one with more digits refuses: 0.0254
 * fails max 0.0252 and meets max 0.025. That is the method, not a fault; a stated place avoids it.
 *
 * The function remembers its answers by content. Throws SyntaxError or RangeError as `readRequirement` says; a reading
 * never throws.
 */
export function judge(limits: Limits, rules: ConformityRules, options: JudgeOptions): (reading: Reading) => Judgement {
  const requirement = readRequirement(limits, rules, options);
  const rulingOf = remembering(
    ({ unit, expandedU }: Reading): Ruling => rulingFor(requirement, unit, expandedU === null ? null : decimal(expandedU)),
    ({ unit, expandedU }) => keyOfTexts(unit, expandedU),
    RULINGS_KEPT,
  );
  const judged = (reading: Reading): Judgement => {
    const bounds = parseReading(reading);
    if (!('fault' in bounds)) return judgementOf(rulingOf(reading), bounds, reading.unit);
    return notCompared(rulingOf({ ...reading, expandedU: null }), cut(reading.printed), bounds.fault);
  };
  return remembering(judged, ({ printed, unit, multiplier, expandedU }) => keyOfTexts(printed, unit, multiplier, expandedU), ANSWERS_KEPT);
}

/**
 * Judges quantities that are known between two bounds, in `unit`, by the same rules: a carbon equivalent with elements
 * that nobody reported has no upper bound. Throws as `judge` does, and RangeError on bounds with nothing between them.
 */
export function judgeBounds(limits: Limits, rules: ConformityRules, options: JudgeOptions): (bounds: Bounds, unit: string) => Judgement {
  const requirement = readRequirement(limits, rules, options);
  const rulingOf = remembering((unit: string): Ruling => rulingFor(requirement, unit, null), (unit) => unit, RULINGS_KEPT);
  return (bounds, unit) => {
    if (isEmpty(bounds)) throw new RangeError('there is no value between the bounds');
    return judgementOf(rulingOf(unit), bounds, unit);
  };
}
