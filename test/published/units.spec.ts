import { readFileSync } from 'node:fs';
import { describe, expect, test } from '@jest/globals';
import type { UnitName } from '#libs/units';
import { convert, isUnitName, UNITS } from '#libs/units';

interface Expected {
  readonly name: string;
  readonly value: number | readonly number[];
  readonly printed_decimals: number | null;
  readonly significant_digits?: number | null;
  readonly tolerance?: number;
  readonly exact?: boolean;
  readonly published?: boolean;
}

interface UnitCase {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly from_memory: boolean;
  readonly inputs: Readonly<Record<string, number | string | readonly number[]>>;
  readonly expected: readonly Expected[];
  readonly verified_by: string;
}

const file = new URL('../fixtures/trade/08-units.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: readonly UnitCase[] };

/** Cases that are more than one factor, each with its own check. */
const checks: Readonly<Record<string, (given: UnitCase) => void>> = {
  'api5l-dual-yield': (given) => {
    const psi = numbersOf(given.inputs, 'MPa').map((value) => convert(value, 'MPa', 'psi'));
    expect(psi.map((value) => Math.round(value / 100) * 100)).toEqual(expectedOf(given, 'psi').value);
  },

  fahrenheit: (given) => {
    const celsius = numbersOf(given.inputs, 'F').map((value) => convert(value, 'degF', 'degC'));
    expectPrinted(celsius, expectedOf(given, 'C'));
  },

  'btu-calorie-chain': (given) => {
    expectPrinted([convert(1, 'Btu(IT)', 'cal(th)')], expectedOf(given, 'cal_th'));
  },

  'roundtrip-exact': (given) => {
    const feet = numbersOf(given.inputs, 'ft');
    const metres = feet.map((value) => convert(value, 'ft', 'm'));
    expectPrinted(metres, expectedOf(given, 'm'));
    expect(metres.map((value) => convert(value, 'm', 'ft'))).toEqual(feet);

    const poundsForce = numbersOf(given.inputs, 'lbf');
    const newtons = poundsForce.map((value) => convert(value, 'lbf', 'N'));
    expectPrinted(newtons, verifiedNewtons(given));
    expect(newtons.map((value) => convert(value, 'N', 'lbf'))).toEqual(poundsForce);
  },
};

function titleOf({ id, title, source, from_memory, expected }: UnitCase): string {
  const memory = from_memory ? ' [value from memory]' : '';
  const computed = expected.some(({ published }) => published === false) ? ' [computed, not published]' : '';
  const contradicted = id === 'roundtrip-exact' ? ' [1,086,000 lbf by its verification, which contradicts its value]' : '';
  return `${id}: ${title} - ${source}${memory}${computed}${contradicted}`;
}

/**
 * The file expects 4830768.6742129 N of 1,086,000 lbf, and verifies the case with 4830768.674172903 N, which is the
 * exact product of the definitions. The verification is used for as long as the two contradict each other.
 */
function verifiedNewtons(given: UnitCase): Expected {
  const expected = expectedOf(given, 'N');
  const [one, printed] = [expected.value].flat();
  const verified = Number(/1,086,000 lbf = ([\d.]+) N/.exec(given.verified_by)?.[1]);
  expect(Math.abs(verified - printed!)).toBeGreaterThan(expected.tolerance!);
  return { ...expected, value: [one!, verified] };
}

function numbersOf(inputs: UnitCase['inputs'], name: string): readonly number[] {
  const given = inputs[name];
  if (!Array.isArray(given)) throw new Error(`the case has no list of inputs named ${name}`);
  return given as readonly number[];
}

function expectedOf(given: UnitCase, name: string): Expected {
  const found = given.expected.find((one) => one.name === name);
  if (found === undefined) throw new Error(`the case expects nothing named ${name}`);
  return found;
}

function unitOf(name: unknown): UnitName {
  if (typeof name !== 'string' || !isUnitName(name)) throw new Error(`not a unit: ${String(name)}`);
  return name;
}

/** Half a unit of the last printed place, unless the case states a tolerance. */
function expectPrinted(found: readonly number[], expected: Expected): void {
  const printed = [expected.value].flat();
  expect(found).toHaveLength(printed.length);
  const tolerance = expected.tolerance ?? 0.5 * 10 ** -expected.printed_decimals!;
  found.forEach((value, index) => {
    expect(Math.abs(value - printed[index]!)).toBeLessThanOrEqual(tolerance);
  });
}

/**
 * One factor. Where the table rounds, to its significant digits; otherwise the exact factor must round to every printed
 * digit, and the converted value be the same number (its neighbour, where the factor has no finite decimal).
 */
function checkFactor(given: UnitCase): void {
  const { value, from, to } = given.inputs;
  if (typeof value !== 'number') throw new Error(`no check for case ${given.id}`);
  const [fromUnit, toUnit] = [unitOf(from), unitOf(to)];
  const found = convert(value, fromUnit, toUnit);
  const { value: printed, significant_digits: digits, exact } = expectedOf(given, 'factor');
  if (typeof printed !== 'number') throw new Error(`case ${given.id} has more than one factor`);
  if (digits != null) {
    expect(Number(found.toPrecision(digits))).toBe(printed);
    return;
  }
  const decimals = String(printed).split('.')[1]!.length;
  expect(exactFactor(fromUnit, toUnit, decimals)).toBe(BigInt(String(printed).replace('.', '')));
  expect(Math.abs(found - printed)).toBeLessThanOrEqual(exact === true ? 0 : Number.EPSILON * printed);
}

/** The exact factor times 10^decimals, rounded half up to a whole number. */
function exactFactor(fromUnit: UnitName, toUnit: UnitName, decimals: number): bigint {
  const [from, to] = [UNITS[fromUnit].siPerUnit, UNITS[toUnit].siPerUnit];
  const numerator = from.numerator * to.denominator * 10n ** BigInt(decimals);
  const denominator = from.denominator * to.numerator;
  return (2n * numerator + denominator) / (2n * denominator);
}

describe('published conversions', () => {
  test.each(cases.map((given) => [titleOf(given), given] as const))('%s', (_title, given) => {
    expect(given.expected).not.toHaveLength(0);
    (checks[given.id] ?? checkFactor)(given);
  });

  test('every check belongs to a case of the file, and no case appears twice', () => {
    const ids = cases.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).toEqual(expect.arrayContaining(Object.keys(checks)));
  });
});
