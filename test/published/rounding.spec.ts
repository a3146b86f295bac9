import { readFileSync } from 'node:fs';
import { describe, expect, test } from '@jest/globals';
import type { ConformityRules } from '#libs/conformity';
import { judge } from '#libs/conformity';
import { decimal, decimalText, over, times } from '#libs/exact';
import { exactConversion } from '#libs/units';

interface Expected {
  readonly name: string;
  readonly value: number;
  readonly printed_decimals: number;
  readonly unit: string;
}

interface GradeCase {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly from_memory: boolean;
  readonly expected: readonly Expected[];
}

const file = new URL('../fixtures/trade/02-strip-coil-grades.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: readonly GradeCase[] };

/** API Spec 5L, table 7: limits in MPa beside the same limits in psi, rounded to 100 psi. */
const pairs = cases.filter(({ id }) => id.startsWith('api5l-psl2-tensile-')).flatMap(({ id, source, from_memory, expected }) =>
  expected.flatMap((inMpa) => {
    const inPsi = expected.find(({ name }) => name === `${inMpa.name}_psi`);
    const memory = from_memory ? ' [from memory]' : '';
    return inPsi === undefined ? [] : [[`${id} ${inMpa.name} - ${source}${memory}`, inMpa, inPsi] as const];
  }),
);

const ROUNDING: ConformityRules = { rounding: 'rounding', decision: 'simple-acceptance', guardFactor: '1' };

describe('published limits in two units', () => {
  test('the tables are there', () => {
    expect(pairs.length).toBeGreaterThanOrEqual(7 * 4);
  });

  test.each(pairs)('%s', (_title, inMpa, inPsi) => {
    const { factor } = exactConversion('MPa', 'psi');
    const converted = times(decimal(String(inMpa.value)), factor);
    expect(decimalText(converted, inPsi.printed_decimals, 'half-even')).toBe(String(inPsi.value));
    expect(decimalText(converted, inPsi.printed_decimals, 'half-away')).toBe(String(inPsi.value));
  });

  test.each(pairs)('a value on the limit in MPa meets the limit in psi once rounded to 100 psi: %s', (_title, inMpa, inPsi) => {
    const text = String(inPsi.value);
    const limits = { min: inMpa.name.endsWith('_min') ? text : null, max: inMpa.name.endsWith('_max') ? text : null, unit: 'psi' };
    const reading = { printed: String(inMpa.value), unit: 'MPa', multiplier: '1', expandedU: null };
    const judgement = judge(limits, ROUNDING, { toDecimals: -2, expandedU: null })(reading);
    expect(judgement).toMatchObject({ verdict: 'conforms', compared: text, margin: '0' });
  });

  test('compared unrounded, a value on the limit of 415 MPa fails the 60 200 psi printed beside it', () => {
    const reading = { printed: '415', unit: 'MPa', multiplier: '1', expandedU: null };
    const limits = { min: '60200', max: null, unit: 'psi' };
    expect(judge(limits, { ...ROUNDING, rounding: 'absolute' }, { toDecimals: null, expandedU: null })(reading).verdict).toBe('does-not-conform');
  });
});

/**
 * Internal yield pressure, 0.875 × 2·Y·t/D, of two pipes whose value lies exactly half way between two tens. The printed
 * ratings are those of the even ten: 14 520 psi for 5 1/2 in 23 lb/ft P-110 (Hansen, US EPA technical workshop on hydraulic
 * fracturing, 2011) and 9960 psi for 7 in 26 lb/ft P-110 (SPE 28224, 1996, from API Bull. 5C2).
 */
describe('published ratings on a tie', () => {
  test.each([
    ['5 1/2 in 23 lb/ft', '5.5', '0.415', '14525', '14520', '14530'],
    ['7 in 26 lb/ft', '7', '0.362', '9955', '9960', '9960'],
  ])('%s, P-110: half to even, rounded once', (_pipe, outsideIn, wallIn, exactPsi, printedPsi, awayPsi) => {
    const pressure = over(times(times(decimal('1.75'), decimal('110000')), decimal(wallIn)), decimal(outsideIn));
    expect(pressure).toEqual(decimal(exactPsi));
    expect(decimalText(pressure, -1, 'half-even')).toBe(printedPsi);
    expect(decimalText(pressure, -1, 'half-away')).toBe(awayPsi);
  });
});
