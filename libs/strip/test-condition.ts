import type { Judgement } from '#libs/conformity';
import { compare, decimal } from '#libs/exact';
import type { Requirement } from './requirement.js';
import type { SourcedValue } from './sourced-value.js';

/**
 * How a value was taken, beside what a requirement means, in words where it is not as asked. `harder` is a colder impact
 * test: what reaches a lone minimum there reaches it at the temperature asked for too, and what falls short there says
 * nothing. `easier` is a warmer one: what reaches the minimum there says nothing, and what falls short there, as `shortWords`
 * say, would fall short at the temperature asked for too. Common practice, no published source.
 */
export type TestCondition =
  | { readonly kind: 'as-asked'; readonly words: null }
  | { readonly kind: 'harder' | 'other' | 'not-stated'; readonly words: string }
  | { readonly kind: 'easier'; readonly words: string; readonly shortWords: string };

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
  const where = `at ${testedC} °C, ${order < 0 ? 'colder' : 'warmer'} than the ${askedC} °C asked for`;
  const words = `tested ${where}`;
  if (min === null || max !== null) return { kind: 'other', words };
  return order < 0 ? { kind: 'harder', words } : { kind: 'easier', words, shortWords: `falls short even ${where}` };
}

function baseCondition(askedMm: string, measuredMm: string | null): TestCondition {
  if (measuredMm === null) return { kind: 'not-stated', words: `no base length is stated; asked for is ${askedMm} mm` };
  if (compare(decimal(measuredMm), decimal(askedMm)) === 0) return AS_ASKED;
  return { kind: 'other', words: `measured over ${measuredMm} mm; the limit is over ${askedMm} mm` };
}

/** What the margin of an easier test says of the minimum there; it may be neither where the value is not known outright. */
export const fallsShort = ({ margin }: Pick<Judgement, 'margin'>): boolean => margin?.startsWith('-') === true;
export const isReached = ({ margin }: Pick<Judgement, 'margin'>): boolean => margin?.startsWith('-') === false;

/** Why an easier test is no answer, by how it was judged against the minimum asked for. */
export function easierWords({ words, shortWords }: TestCondition & { kind: 'easier' }, judgement: Pick<Judgement, 'margin' | 'reason'>): string {
  if (fallsShort(judgement)) return shortWords;
  return isReached(judgement) || judgement.reason === null ? words : `${words}; ${judgement.reason}`;
}

/**
 * The values that speak of a requirement, of those of its characteristic: where some were taken as asked for, what was taken
 * otherwise is no answer to it, as is a specification that asks at two temperatures; else the harder tests; else all. A
 * value that does not state how it was taken always counts: it may be the one that falls short. So does
 * one taken otherwise of which `isAgainst` holds.
 */
export function valuesAsAsked(
  requirement: Requirement, values: readonly SourcedValue[], isAgainst: (value: SourcedValue, condition: TestCondition) => boolean,
): readonly SourcedValue[] {
  if (values.length < 2 || (requirement.temperatureC === null && requirement.baseMm === null)) return values;
  const known = values.map((value) => ({ value, condition: testCondition(requirement, value) }));
  const best = (['as-asked', 'harder'] as const).find((kind) => known.some(({ condition }) => condition.kind === kind));
  if (best === undefined) return values;
  const speaks = ({ value, condition }: typeof known[number]): boolean =>
    condition.kind === best || condition.kind === 'not-stated' || isAgainst(value, condition);
  return known.filter(speaks).map(({ value }) => value);
}
