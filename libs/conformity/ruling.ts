import { ratio, times } from '#libs/exact';
import type { Ratio } from '#libs/exact';
import { type Conversion, conversionBetween } from './conversion.js';
import { decisionZones, type DecisionZones } from './guard-band.js';
import type { Requirement } from './requirement.js';
import { beforeRounding } from './rounding.js';
import { limitTexts, type LimitTexts, noneConformsText, ruleText } from './wording.js';
import { isEmpty, type Zone } from './zone.js';

/** What a requirement says of all values that come in one unit and with one uncertainty. */
export interface Ruling {
  readonly requirement: Requirement;
  readonly conversion: Conversion | { readonly fault: string };
  /** In the unit of the limits; null when neither the reading nor the requirement states it. */
  readonly expandedU: Ratio | null;
  /** w, in the unit of the limits; null when it rests on an uncertainty that is not known. */
  readonly guardBand: Ratio | null;
  /** For values as they come, before any rounding; null when the guard band is not known and the rule does not decide without. */
  readonly zones: DecisionZones | null;
  readonly acceptance: LimitTexts;
  readonly rule: string;
  /** Why no value at all can conform; null when one can. */
  readonly noneConforms: string | null;
}

/** The ruling for values in `unit` with `expandedU` (in that unit; null: the requirement's own is taken). */
export function rulingFor(requirement: Requirement, unit: string, expandedU: Ratio | null): Ruling {
  const conversion = conversionBetween(unit, requirement.unit);
  const stated = expandedU !== null && !('fault' in conversion) ? times(expandedU, conversion.factor) : null;
  const uncertainty = stated ?? requirement.expandedU;
  const guardBand = guardBandOf(requirement, uncertainty);
  const { min, max, rules } = requirement;
  const printed = decisionZones(min && min.value, max && max.value, guardBand, rules.decision);
  const accepted = printed && printed.acceptance;
  const acceptance = accepted && unrounded(accepted, requirement);
  return {
    requirement,
    conversion,
    expandedU: uncertainty,
    guardBand,
    zones: printed && { acceptance, tolerance: unrounded(printed.tolerance, requirement) },
    acceptance: Object.freeze(limitTexts(requirement, accepted, guardBand)),
    rule: ruleText(requirement, 'fault' in conversion ? requirement.unit : unit, { zones: printed, guardBand, expandedU: uncertainty }),
    noneConforms: accepted && acceptance && isEmpty(acceptance) ? noneConformsText(requirement, accepted, guardBand) : null,
  };
}

/** w = r·U (ILAC-G8:09/2019, 4.2); 0 for simple acceptance. */
function guardBandOf({ guardFactor }: Requirement, expandedU: Ratio | null): Ratio | null {
  if (guardFactor === null) return ratio(0n);
  return expandedU && times(guardFactor, expandedU);
}

/** With a guard band under the rounding method the value is rounded first, and then compared with the guarded limits. */
function unrounded(zone: Zone, { min, max }: Requirement): Zone {
  return beforeRounding(zone, min && min.place, max && max.place);
}
