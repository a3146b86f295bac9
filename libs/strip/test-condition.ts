import { compare, decimal } from '#libs/exact';
import type { Requirement } from './requirement.js';
import type { SourcedValue } from './sourced-value.js';

/**
 * How a value was taken, beside what a requirement means. `harder` is a colder impact test: what reaches a minimum there
 * reaches it at the temperature asked for too, and what falls short there says nothing. Common practice, no published source.
 */
export interface TestCondition {
  readonly kind: 'as-asked' | 'harder' | 'other' | 'not-stated';
  /** In words; null for `as-asked`. */
  readonly words: string | null;
}

const AS_ASKED: TestCondition = { kind: 'as-asked', words: null };

/** The condition of a value. Temperatures and lengths are decimal text; throws SyntaxError on anything else. */
export function testCondition(requirement: Requirement, value: SourcedValue): TestCondition {
  const temperature = requirement.temperatureC === null ? AS_ASKED : temperatureCondition(requirement, requirement.temperatureC, value.temperatureC);
  return temperature.kind !== 'as-asked' || requirement.baseMm === null ? temperature : baseCondition(requirement.baseMm, value.baseMm);
}

function temperatureCondition({ min, max }: Requirement, askedC: string, testedC: string | null): TestCondition {
  if (testedC === null) return { kind: 'not-stated', words: `no test temperature is stated; asked for is ${askedC} °C` };
  const order = compare(decimal(testedC), decimal(askedC));
  if (order === 0) return AS_ASKED;
  const isHarder = order < 0 && min !== null && max === null;
  return { kind: isHarder ? 'harder' : 'other', words: `tested at ${testedC} °C, ${order < 0 ? 'colder' : 'warmer'} than the ${askedC} °C asked for` };
}

function baseCondition(askedMm: string, measuredMm: string | null): TestCondition {
  if (measuredMm === null) return { kind: 'not-stated', words: `no base length is stated; asked for is ${askedMm} mm` };
  if (compare(decimal(measuredMm), decimal(askedMm)) === 0) return AS_ASKED;
  return { kind: 'other', words: `measured over ${measuredMm} mm; the limit is over ${askedMm} mm` };
}

/**
 * The values that speak of a requirement, of those of its characteristic: where some were taken as asked for, what was taken
 * otherwise is no answer to it, as is a specification that asks at two temperatures; else the harder tests; else all. A
 * value that does not state how it was taken always counts: it may be the one that falls short.
 */
export function valuesAsAsked(requirement: Requirement, values: readonly SourcedValue[]): readonly SourcedValue[] {
  if (values.length < 2 || (requirement.temperatureC === null && requirement.baseMm === null)) return values;
  const known = values.map((value) => ({ value, kind: testCondition(requirement, value).kind }));
  const best = (['as-asked', 'harder'] as const).find((kind) => known.some((one) => one.kind === kind));
  if (best === undefined) return values;
  return known.filter(({ kind }) => kind === best || kind === 'not-stated').map(({ value }) => value);
}
