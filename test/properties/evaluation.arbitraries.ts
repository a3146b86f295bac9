import fc from 'fast-check';
import type { ConformityRules } from '#libs/conformity';
import { elementsOf, findCharacteristic, type Requirement, type SourcedValue, type StripRules } from '#libs/strip';
import { decimalBetween } from './conformity.arbitraries.js';

/** What is usual for a characteristic: its first unit, and the heat analysis where it is chemical. */
function usual(characteristic: string): Pick<Requirement, 'characteristic' | 'analysis' | 'unit'> {
  const { kind, units } = findCharacteristic(characteristic)!;
  return { characteristic, unit: units[0]!, analysis: kind === 'chemistry' || kind === 'carbon-equivalent' ? 'heat' : null };
}

export function requirementOf(characteristic: string, overrides: Partial<Requirement> = {}): Requirement {
  return {
    ...usual(characteristic), min: null, max: null, limitOf: 'value', toleranceTable: null, toDecimals: null, expandedU: null,
    temperatureC: null, baseMm: null, clause: null, ...overrides,
  };
}

export function valueOf(characteristic: string, printed: string, overrides: Partial<SourcedValue> = {}): SourcedValue {
  return {
    ...usual(characteristic), printed, multiplier: '1', expandedU: null, temperatureC: null, baseMm: null, location: null, direction: null,
    source: { label: 'paper 1', record: null }, doubt: null, ...overrides,
  };
}

export const SIMPLE: ConformityRules = { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '1' };

export const ORDERED = { thicknessMm: '5.00', widthMm: '383.0' };

export const conformity: fc.Arbitrary<ConformityRules> = fc.record({
  rounding: fc.constantFrom('absolute', 'rounding'),
  decision: fc.constantFrom('simple-acceptance', 'guarded-acceptance', 'proof-of-conformity'),
  guardFactor: fc.constantFrom('0', '0.83', '1'),
});

const option = (text: fc.Arbitrary<string>): fc.Arbitrary<string | null> => fc.option(text, { freq: 3 });

/** A limit on one side, on the other, on both or on none. */
function limited(characteristic: string, low: number, high: number, decimals: number, more: Partial<Requirement> = {}): fc.Arbitrary<Requirement> {
  const limit = option(decimalBetween(low, high, decimals));
  const expandedU = fc.constantFrom(null, '0', '0.01');
  return fc.tuple(limit, limit, expandedU).map(([one, other, u]) => {
    const [min, max] = one === null || other === null || Number(one) <= Number(other) ? [one, other] : [other, one];
    return requirementOf(characteristic, { min, max, expandedU: u, ...more });
  });
}

/** One requirement of each sort: by value, by two temperatures, by family, by deviation, by table, derived in three ways. */
export const requirements: fc.Arbitrary<readonly Requirement[]> = fc.tuple(
  limited('C', 0, 1, 2), limited('C', 0, 1, 2, { analysis: 'product' }), limited('ReH', 400, 500, 0), limited('A', 10, 30, 0),
  limited('KV2', 20, 60, 0, { temperatureC: '-20' }), limited('KV2', 20, 60, 0, { temperatureC: '-40' }), limited('camber', 0, 4, 1, { baseMm: '2000' }),
  limited('thickness', -1, 1, 2, { limitOf: 'deviation' }), limited('CE(IIW)', 0, 2, 2), limited('Nb+V', 0, 1, 2), limited('Y/T', 0, 1, 2),
).chain((all) => fc.shuffledSubarray(all, { minLength: 1 }));

export const specification: fc.Arbitrary<StripRules> = fc.record({ requirements, ownTables: fc.constant([]), conformity });

const source = fc.constantFrom('paper 1', 'paper 2', 'paper 3').map((label) => ({ label, record: null }));
const doubt = fc.constantFrom(null, null, null, null, null, 'the two keyings differ');

/** Texts that papers print: plain, censored, and now and then one that cannot be read. */
function printed(low: number, high: number, decimals: number): fc.Arbitrary<string> {
  const plain = decimalBetween(low, high, decimals);
  const censored = fc.tuple(fc.constantFrom('<', '≤', '>', '≥'), plain).map(([sign, text]) => sign + text);
  return fc.oneof({ weight: 12, arbitrary: plain }, { weight: 3, arbitrary: censored }, { weight: 1, arbitrary: fc.constantFrom('n/a', '0,08', '') });
}

function valueBetween(characteristic: string, low: number, high: number, decimals: number, overrides: fc.Arbitrary<Partial<SourcedValue>>): fc.Arbitrary<SourcedValue> {
  return fc.tuple(printed(low, high, decimals), source, doubt, overrides).map(([text, from, why, more]) => valueOf(characteristic, text, { source: from, doubt: why, ...more }));
}

const NOTHING_MORE = fc.constant({});
const analyses = fc.constantFrom('heat', 'product').map((analysis) => ({ analysis } as const));
const places = fc.constantFrom(null, 'head', 'tail').map((location) => ({ location }));

/** A value of what the requirements ask for, of what comes near it, or of what it follows from. */
export const value: fc.Arbitrary<SourcedValue> = fc.oneof(
  valueBetween('C', 0, 1, 3, analyses), valueBetween('CE(IIW)', 0, 2, 3, analyses), valueBetween('Nb+V', 0, 1, 3, analyses),
  ...[...elementsOf('CE(IIW)'), 'Nb', 'V'].map((element) => valueBetween(element, 0, 1, 3, analyses)),
  ...['ReH', 'Rp0.2'].map((code) => valueBetween(code, 400, 500, 1, places)), valueBetween('Rm', 480, 620, 1, places), valueBetween('Y/T', 0, 1, 2, places),
  valueBetween('A', 10, 30, 1, NOTHING_MORE), valueBetween('A80mm', 10, 30, 1, NOTHING_MORE),
  valueBetween('KV2', 20, 60, 0, fc.constantFrom(null, '0', '-20', '-40').map((temperatureC) => ({ temperatureC }))),
  valueBetween('camber', 0, 4, 1, fc.constantFrom(null, '2000', '5000').map((baseMm) => ({ baseMm }))),
  valueBetween('thickness', 4, 6, 3, fc.constantFrom(null, '0.01').map((expandedU) => ({ expandedU }))),
);

export const values: fc.Arbitrary<readonly SourcedValue[]> = fc.array(value, { maxLength: 24 });

/** Whole analyses, each on a paper of its own: what most papers carry. */
export const wholeAnalysis = (label: string): fc.Arbitrary<readonly SourcedValue[]> =>
  fc.tuple(...[...elementsOf('CE(IIW)'), 'Nb'].map((element) =>
    fc.tuple(printed(0, 1, 2), doubt).map(([text, why]) => valueOf(element, text, { source: { label, record: null }, doubt: why }))));
