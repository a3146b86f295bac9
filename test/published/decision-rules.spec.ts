import { readFileSync } from 'node:fs';
import { describe, expect, test } from '@jest/globals';
import type { ConformityRules, Judgement, Limits, Verdict } from '#libs/conformity';
import { conformanceProbability, judge } from '#libs/conformity';
import { decimal, exactText, minus, times } from '#libs/exact';

interface Expected {
  readonly name: string;
  readonly value: number | readonly number[] | readonly string[];
  readonly tolerance?: number;
}

interface DecisionCase {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly from_memory: boolean;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: readonly Expected[];
}

const file = new URL('../fixtures/spc/08-measurement-systems-decision-rules.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: readonly DecisionCase[] };

/** The same file holds studies of gauges, which are statistics of measuring systems and no decisions about values. */
const GAUGE_STUDIES = ['grr-aiag-average-range', 'grr-aiag-anova', 'gauge-one-operator'];

/** Thirteen digits are given of a computed value. */
const COMPUTED = 1e-11;

/** The computed values of the file are 1 − Φ in doubles, which at r = 3 leaves six right digits: 9.865877004e-8 for 9.865876450e-8 %. */
const LOST_DIGITS_PERCENT = 1e-14;

const checks: Readonly<Record<string, (given: DecisionCase) => void>> = {
  'guard-band-ilac-g8': (given) => {
    const factors = listOf(given.inputs['r']);
    const stated = textsOf(given, 'PFA stated in the guide, upper bounds').map(boundPercent);
    const exact = listOf(expectedOf(given, 'PFA exact, percent').value);
    factors.forEach((r, index) => {
      const [limit, resultText] = [10, atAcceptanceLimit('10', '2', String(r))];
      const judgement = judgedOne({ min: null, max: String(limit), unit: 'mm' }, guarded(String(r)), resultText, '2');
      expect(judgement).toMatchObject({ verdict: 'conforms', acceptance: { min: null, max: resultText } });
      // False acceptance: the true value lies above the limit all the same. U = 2, so u = 1.
      const falseAcceptancePercent = 100 * conformanceProbability(Number(resultText), 1, limit, null);
      expect(1 - judgement.conformanceProbability!).toBeCloseTo(falseAcceptancePercent / 100, 14);
      expect(Math.abs(falseAcceptancePercent - exact[index]!)).toBeLessThanOrEqual(LOST_DIGITS_PERCENT + COMPUTED * exact[index]!);
      expect(falseAcceptancePercent).toBeLessThanOrEqual(stated[index]!);
    });
  },

  'guard-band-full-U': (given) => {
    const { lower, upper, U } = given.inputs;
    const limits: Limits = { min: numberText(lower), max: numberText(upper), unit: 'mm' };
    const rules: ConformityRules = { rounding: 'absolute', decision: 'proof-of-conformity', guardFactor: '1' };
    const statements = listOf(given.inputs['y']).map((y) => STATEMENTS[judgedOne(limits, rules, String(y), numberText(U)).verdict]);
    expect(statements).toEqual(textsOf(given, 'statement'));
  },

  'conformance-probability-zener': checkProbability,
  'conformance-probability-oil': checkProbability,

  'guard-band-speed': (given) => {
    const { limit, relative_u: relativeU, probability } = given.inputs as Record<string, number>;
    const belowLimit = (speed: number): number => conformanceProbability(speed, relativeU! * speed, null, limit!);
    let [accepted, rejected] = [limit!, 2 * limit!];
    while (rejected - accepted > 1e-11) {
      const middle = (accepted + rejected) / 2;
      if (belowLimit(middle) > 1 - probability!) accepted = middle;
      else rejected = middle;
    }
    expect(Math.abs(rejected - Number(expectedOf(given, 'rejection limit unrounded').value))).toBeLessThan(1e-8);
    expect(Math.ceil(rejected)).toBe(expectedOf(given, 'rejection limit, rounded up').value);
  },
};

const STATEMENTS: Readonly<Partial<Record<Verdict, string>>> = {
  conforms: 'conformity proved',
  'inside-guard-band': 'neither proved',
  'does-not-conform': 'non-conformity proved',
};

/** Directly, and through the judgement of a reading with U = 2u. */
function checkProbability(given: DecisionCase): void {
  const { y, u, lower, upper } = given.inputs as Record<string, number | undefined>;
  const printed = expectedOf(given, 'p_conform');
  const computed = Number(expectedOf(given, 'p_conform unrounded').value);
  const found = conformanceProbability(y!, u!, lower ?? null, upper!);
  expect(Math.abs(found - Number(printed.value))).toBeLessThanOrEqual(printed.tolerance!);
  expect(Math.abs(found - computed)).toBeLessThan(COMPUTED);

  const limits: Limits = { min: lower === undefined ? null : String(lower), max: String(upper), unit: 'V' };
  const judgement = judgedOne(limits, { ...guarded('0'), decision: 'simple-acceptance' }, String(y), String(2 * u!));
  expect(judgement.verdict).toBe('conforms');
  expect(Math.abs(judgement.conformanceProbability! - computed)).toBeLessThan(COMPUTED);
}

function guarded(guardFactor: string): ConformityRules {
  return { rounding: 'absolute', decision: 'guarded-acceptance', guardFactor };
}

function judgedOne(limits: Limits, rules: ConformityRules, printed: string, expandedU: string): Judgement {
  return judge(limits, rules, { toDecimals: null, expandedU: null })({ printed, unit: limits.unit, multiplier: '1', expandedU });
}

/** AL = TL − r·U. */
function atAcceptanceLimit(limit: string, expandedU: string, r: string): string {
  return exactText(minus(decimal(limit), times(decimal(r), decimal(expandedU))))!;
}

function boundPercent(text: string): number {
  const [, digits, unit] = /^< ([\d.]+) (ppm|%)$/.exec(text)!;
  return Number(digits) / (unit === 'ppm' ? 10_000 : 1);
}

function numberText(value: unknown): string {
  if (typeof value !== 'number') throw new Error(`not a number: ${String(value)}`);
  return String(value);
}

function listOf(value: unknown): readonly number[] {
  if (!Array.isArray(value) || value.some((one) => typeof one !== 'number')) throw new Error('not a list of numbers');
  return value as readonly number[];
}

function textsOf(given: DecisionCase, name: string): readonly string[] {
  const { value } = expectedOf(given, name);
  if (!Array.isArray(value)) throw new Error(`not a list: ${name}`);
  return value.map(String);
}

function expectedOf(given: DecisionCase, name: string): Expected {
  const found = given.expected.find((one) => one.name === name);
  if (found === undefined) throw new Error(`the case expects nothing named ${name}`);
  return found;
}

describe('published decision rules', () => {
  const decisions = cases.filter(({ id }) => !GAUGE_STUDIES.includes(id));
  const titles = decisions.map((given) => [`${given.id}: ${given.title} - ${given.source}${given.from_memory ? ' [values from memory]' : ''}`, given] as const);

  test.each(titles)('%s', (_title, given) => {
    const check = checks[given.id];
    if (check === undefined) throw new Error(`no check for case ${given.id}`);
    check(given);
  });

  test('every case of the file is checked here or is a study of a gauge, and every check has its case', () => {
    expect(cases.map(({ id }) => id).sort()).toEqual([...Object.keys(checks), ...GAUGE_STUDIES].sort());
  });
});
