import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { Las } from 'las-js';
import { writeLas, type LasCurve, type LasItem, type LasLog, type LasRow, type LasValue } from '#libs/las';
import { logOf } from '../../libs/las/las.factory.js';
import { readLas, valueOf, type LasFile } from '../fixtures/las-reader.js';
import { seedFromEnvironment } from '../setup/seed.js';

/** Signs that a reader could stumble over, and others. */
const signs = (of: string, most: number, least = 0): fc.Arbitrary<string> => fc.array(fc.constantFrom(...of), { minLength: least, maxLength: most }).map((all) => all.join(''));
const value = signs('aB7 .:~#,-/"', 12).map((text) => text.trim());
const description = signs('aB7 .~#,-/', 12).map((text) => text.trim());
const unit = signs('MF/1.%-2', 5);
const mnemonic = signs('ABC12_-/[', 6, 1);

const item: fc.Arbitrary<LasItem> = fc.record({ mnemonic: mnemonic.map((name) => `X${name}`), unit, value, description });
const curve: fc.Arbitrary<LasCurve> = fc.record({ mnemonic: mnemonic.map((name) => `X${name}`), unit, code: value, description, numbers: fc.constantFrom('double', 'single') });
const unique = <T extends { readonly mnemonic: string }>(of: fc.Arbitrary<T>, most: number): fc.Arbitrary<T[]> => fc.uniqueArray(of, { maxLength: most, selector: ({ mnemonic: name }) => name.toUpperCase() });

const NULL_VALUE = '-9999.25';
const single = fc.float({ noNaN: true, noDefaultInfinity: true });
const double = fc.double({ noNaN: true, noDefaultInfinity: true });
const decimalText = fc.tuple(fc.integer({ min: -99_999, max: 99_999 }), fc.integer({ min: 0, max: 4 })).map(([whole, decimals]) => (whole / 10 ** decimals).toFixed(decimals));
const valueFor = ({ numbers }: LasCurve): fc.Arbitrary<LasValue> => fc.oneof(fc.constant(null), numbers === 'single' ? single : double, decimalText).filter((one) => one === null || Number(one) !== Number(NULL_VALUE));

interface Drawn {
  readonly log: LasLog;
  readonly rows: LasRow[];
}

const drawn: fc.Arbitrary<Drawn> = fc
  .record({
    curves: unique(curve, 5), parameters: unique(item, 4), moreOfWell: unique(item, 3), company: value, other: fc.array(description.map((line) => `o${line}`), { maxLength: 3 }),
    decimals: fc.integer({ min: 0, max: 6 }), count: fc.integer({ min: 1, max: 12 }), from: fc.integer({ min: -40, max: 40 }), step: fc.integer({ min: -300, max: 300 }).filter((step) => step !== 0), isEven: fc.boolean(),
  })
  .chain(({ curves, count, from, step, isEven, decimals, company, ...rest }) => {
    // Uneven: each row is moved by less than half a step, so that none comes before its neighbour.
    const moved = fc.array(fc.integer({ min: 0, max: Math.floor((Math.abs(step) - 1) / 2) }), { minLength: count, maxLength: count });
    return fc.record({ moves: moved, values: fc.array(fc.tuple(...curves.map(valueFor)), { minLength: count, maxLength: count }) }).map(({ moves, values }): Drawn => {
      const indices = values.map((_, at) => (from + at) * step + (isEven ? 0 : Math.sign(step) * moves[at]!));
      const index = { decimals, start: indices[0]!, stop: indices.at(-1)!, step: isEven ? step : 0 };
      const log = logOf({ ...rest, curves, nullValue: NULL_VALUE }, index);
      return { log: { ...log, well: { ...log.well, company } }, rows: values.map((row, at) => ({ index: indices[at]!, values: row })) };
    });
  })
  .filter(({ rows, log }) => rows.every(({ index }) => index / 10 ** log.index.decimals !== Number(NULL_VALUE)));

async function textOf({ log, rows }: Drawn): Promise<string> {
  let text = '';
  for await (const piece of writeLas(log, rows)) text += piece;
  return text;
}

/** A number comes back as itself, a float32 as the nearest one; text as it was written, no value as NULL. */
const expectText = (text: string, one: LasValue, { numbers }: LasCurve): void => {
  if (typeof one !== 'number') expect(text).toBe(one ?? NULL_VALUE);
  else expect(numbers === 'single' ? Math.fround(Number(text)) : Number(text)).toBe(one + 0);
};

function expectWhole({ log, rows }: Drawn, read: LasFile): void {
  expect(read.parameters).toEqual(log.parameters);
  expect(read.well.slice(-log.moreOfWell.length || read.well.length)).toEqual(log.moreOfWell);
  expect(valueOf(read.well, 'COMP')).toBe(log.well.company);
  expect(read.curves.slice(1)).toEqual(log.curves.map(({ mnemonic: name, unit: of, code, description: what }) => ({ mnemonic: name, unit: of, value: code, description: what })));
  expect(read.other).toEqual(log.other);
  read.rows.forEach(([index, ...texts], at) => {
    expect(Math.round(Number(index) * 10 ** log.index.decimals) + 0).toBe(rows[at]!.index + 0);
    texts.forEach((text, column) => { expectText(text, rows[at]!.values[column]!, log.curves[column]!); });
  });
  expect(read.rows).toHaveLength(rows.length);
}

describe('a LAS file is read back whole', () => {
  test('by a strict reader written from the text of the standard', async () => {
    await fc.assert(fc.asyncProperty(drawn, async (given) => { expectWhole(given, readLas(await textOf(given))); }), { numRuns: 300, ...seedFromEnvironment() });
  });

  // That reader takes a file apart by ~ and by the first colon, and knows no unit with a dot and no line without a unit and a value that is a
  // word: it is given words without them, as most files have.
  test('by a general reader of others', async () => {
    const plain = drawn.map(({ log, rows }): Drawn => {
      const named = <T extends LasItem | LasCurve>(items: readonly T[]): T[] => items.map((one, at) => ({ ...one, mnemonic: `C${at}`, unit: 'MM', description: `WORD ${at}`, ...('code' in one ? { code: '' } : { value: `V${at}` }) }));
      const bare = { ...log, curves: named(log.curves), parameters: named(log.parameters), moreOfWell: [], other: ['REMARK'] };
      return { log: { ...bare, well: { ...log.well, company: 'Blue Works', location: 'pad 3' } }, rows };
    });
    await fc.assert(fc.asyncProperty(plain, async ({ log, rows }) => {
      const las = new Las(await textOf({ log, rows }), { loadFile: false });
      expect([await las.version(), await las.wrap()]).toEqual([2, false]);
      expect(await las.header()).toEqual(['DEPT', ...log.curves.map(({ mnemonic: name }) => name)]);
      const well = await las.wellParams();
      expect([well['NULL']!.value, well['COMP']!.value, well['STRT']!.unit].map(String)).toEqual([NULL_VALUE, 'Blue Works', 'M']);
      expect([Number(well['STRT']!.value), Number(well['STOP']!.value)]).toEqual([log.index.start, log.index.stop].map((whole) => whole / 10 ** log.index.decimals + 0));
      const parameters = log.parameters.length === 0 ? {} : await las.logParams();
      expect(Object.entries(parameters).map(([name, { value: said, description: what }]) => [name, said, what])).toEqual(log.parameters.map(({ mnemonic: name, value: said, description: what }) => [name, said, what]));
      const curves = await las.curveParams();
      expect(Object.entries(curves).slice(1).map(([name, { unit: of, description: what }]) => [name, of, what])).toEqual(log.curves.map(({ mnemonic: name, unit: of, description: what }) => [name, of, what]));
      const data = await las.data();
      expect(data.map(([depth]) => Math.round(Number(depth) * 10 ** log.index.decimals) + 0)).toEqual(rows.map(({ index }) => index + 0));
      const numbers = rows.map(({ values }) => values.map((one) => Number(one ?? NULL_VALUE) + 0));
      const isSingle = (at: number, column: number): boolean => log.curves[column]!.numbers === 'single' && typeof rows[at]!.values[column] === 'number';
      expect(data.map(([, ...said], at) => said.map((one, column) => (isSingle(at, column) ? Math.fround(Number(one)) : Number(one)) + 0))).toEqual(numbers);
      expect(data).toHaveLength(rows.length);
    }), seedFromEnvironment());
  });
});
