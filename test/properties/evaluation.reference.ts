import type { Verdict } from '#libs/conformity';
import type { Requirement, SourcedValue } from '#libs/strip';

/**
 * Evaluation the plain way, for a small part of it: single values known outright, in the unit of the limits, simple
 * acceptance, compared unrounded. Decimal texts are compared digit by digit; nothing of the library is used.
 */
export function verdictOf(requirements: readonly Requirement[], values: readonly SourcedValue[]): Verdict {
  const verdicts = requirements.flatMap((requirement): Verdict[] => {
    const own = values.filter(({ characteristic, analysis }) => characteristic === requirement.characteristic && analysis === requirement.analysis);
    return own.length === 0 ? ['not-reported'] : own.map(({ printed }) => (isInside(printed, requirement) ? 'conforms' : 'does-not-conform'));
  });
  if (verdicts.includes('does-not-conform')) return 'does-not-conform';
  return verdicts.includes('not-reported') ? 'not-reported' : 'conforms';
}

function isInside(printed: string, { min, max }: Requirement): boolean {
  return (min === null || !isLess(printed, min)) && (max === null || !isLess(max, printed));
}

/** Of two decimals that are not negative: the longer whole part is the larger, then digit by digit. */
function isLess(one: string, other: string): boolean {
  const [a, b] = [one, other].map((text) => {
    const [whole = '', fraction = ''] = text.split('.');
    return whole.padStart(20, '0') + fraction.padEnd(20, '0');
  });
  return a! < b!;
}
