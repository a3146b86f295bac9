import type { Verdict } from '#libs/conformity';
import type { Requirement, SourcedValue } from '#libs/strip';
import { scaled } from './conformity.reference.js';

/**
 * Evaluation the plain way, for a part of it: values known outright or in doubt, in the unit of the limits, simple
 * acceptance, compared unrounded. Impact tests have a lone minimum, yield ratios and carbon equivalents a lone maximum; a
 * carbon equivalent follows from one analysis that has each element once. Nothing of the library is used.
 */
export function verdictsOf(requirements: readonly Requirement[], values: readonly SourcedValue[]): Verdict[] {
  return requirements.map((requirement) => {
    const own = values.filter(({ characteristic, analysis }) => characteristic === requirement.characteristic && analysis === requirement.analysis);
    const others = requirements.filter((one) => one !== requirement && one.characteristic === requirement.characteristic);
    const reported = own.map((one) => (requirement.temperatureC === null ? plainly(requirement, one) : impact(requirement, others, own, one)));
    return worstOf([...reported, ...following(requirement, own, values)].filter((one) => one !== null));
  });
}

export function verdictOf(requirements: readonly Requirement[], values: readonly SourcedValue[]): Verdict {
  return worstOf(verdictsOf(requirements, values));
}

function worstOf(verdicts: readonly Verdict[]): Verdict {
  if (verdicts.length === 0) return 'not-reported';
  return (['does-not-conform', 'not-reported', 'not-comparable'] as const).find((one) => verdicts.includes(one)) ?? 'conforms';
}

function plainly({ min, max }: Requirement, { printed, doubt }: SourcedValue): Verdict {
  if (doubt !== null) return 'not-comparable';
  const isInside = (min === null || scaled(printed) >= scaled(min)) && (max === null || scaled(printed) <= scaled(max));
  return isInside ? 'conforms' : 'does-not-conform';
}

/** What one test says of a least energy; null where it says nothing, as there are better ones: as asked, or colder for a warmer one. */
function impact(requirement: Requirement, others: readonly Requirement[], own: readonly SourcedValue[], one: SourcedValue): Verdict | null {
  if (one.temperatureC === null) return 'not-comparable';
  const [asked, tested] = [Number(requirement.temperatureC), Number(one.temperatureC)];
  if (tested === asked) return plainly(requirement, one);
  const hasBetter = own.map(({ temperatureC }) => (temperatureC === null ? NaN : Number(temperatureC))).some((other) => other === asked || (tested > asked && other < asked));
  const isAnswerToOther = others.some(({ temperatureC }) => Number(temperatureC) === tested);
  if (one.doubt !== null) return hasBetter && isAnswerToOther ? null : 'not-comparable';
  const reaches = plainly(requirement, one) === 'conforms';
  if (tested > asked) return reaches && hasBetter ? null : 'not-comparable';
  if (hasBetter) return null;
  return reaches ? 'conforms' : 'not-comparable';
}

function following(requirement: Requirement, own: readonly SourcedValue[], values: readonly SourcedValue[]): (Verdict | null)[] {
  if (requirement.characteristic === 'Y/T') {
    return values.filter(({ characteristic }) => characteristic === 'ReH' || characteristic === 'Rp0.2').map((one) => ratioOf(requirement, one, values));
  }
  return requirement.characteristic === 'CE(IIW)' ? [equivalentOf(requirement, own.length > 0, values)] : [];
}

/** Yield over tensile strength of one test, for the largest and the least tensile strength that stand there. */
function ratioOf({ max }: Requirement, strength: SourcedValue, values: readonly SourcedValue[]): Verdict | null {
  const test = values.filter(({ source, location, direction }) => source.label === strength.source.label && location === strength.location && direction === strength.direction);
  const tensiles = test.filter(({ characteristic }) => characteristic === 'Rm');
  const isReported = test.some(({ characteristic }) => characteristic === 'Y/T');
  if (tensiles.length === 0 && isReported && strength.doubt === null) return null;
  if (tensiles.length === 0 || [strength, ...tensiles].some(({ doubt }) => doubt !== null)) return 'not-comparable';
  const within = tensiles.map(({ printed }) => scaled(strength.printed) * scaled('1') <= scaled(max!) * scaled(printed));
  if (within.every(Boolean)) return 'conforms';
  return within.some(Boolean) ? 'not-comparable' : 'does-not-conform';
}

/** Thirty times each element's part of C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15. */
const THIRTIETHS: Readonly<Record<string, bigint>> = { C: 30n, Mn: 5n, Cr: 6n, Mo: 6n, V: 6n, Ni: 2n, Cu: 2n };

function equivalentOf({ max }: Requirement, isReported: boolean, values: readonly SourcedValue[]): Verdict | null {
  const elements = values.filter(({ characteristic }) => characteristic in THIRTIETHS);
  if (elements.length === 0) return null;
  const known = elements.filter(({ doubt }) => doubt === null);
  const sum = known.reduce((total, { characteristic, printed }) => total + THIRTIETHS[characteristic]! * scaled(printed), 0n);
  if (sum > 30n * scaled(max!)) return 'does-not-conform';
  if (known.length === Object.keys(THIRTIETHS).length) return 'conforms';
  return isReported && known.length === elements.length ? null : 'not-comparable';
}
