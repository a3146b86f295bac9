import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { compare, over, type Ratio, ratio, times, toNumber } from '#libs/exact';
import {
  carbonEquivalent, elementsOf, likeNumber, type LinearEquivalent, type MassFractionBounds, normalNumber, slipOf, thicknessTolerance,
  THICKNESS_TOLERANCE_TABLES,
} from '#libs/strip';
import { seedFromEnvironment } from '../setup/seed.js';

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 500 };

/** The equivalents as they are written down, in floating point: nothing of the library is used. */
const ORACLES: Readonly<Record<LinearEquivalent, (percent: (element: string) => number) => number>> = {
  'CE(IIW)': (p) => p('C') + p('Mn') / 6 + (p('Cr') + p('Mo') + p('V')) / 5 + (p('Ni') + p('Cu')) / 15,
  Pcm: (p) => p('C') + p('Si') / 30 + (p('Mn') + p('Cu') + p('Cr')) / 20 + p('Ni') / 60 + p('Mo') / 15 + p('V') / 10 + 5 * p('B'),
  CET: (p) => p('C') + (p('Mn') + p('Mo')) / 10 + (p('Cr') + p('Cu')) / 20 + p('Ni') / 40,
};
const ELEMENTS = ['C', 'Si', 'Mn', 'Cu', 'Cr', 'Ni', 'Mo', 'V', 'B', 'Nb'];

const kind = fc.constantFrom<LinearEquivalent>('CE(IIW)', 'Pcm', 'CET');
/** Mass fractions to 0.0001 %, from 0 to 3 %. */
const massFraction = fc.nat({ max: 30_000 }).map((tenThousandths) => ratio(BigInt(tenThousandths), 10_000n));
const boundsOf = fc.tuple(massFraction, massFraction, fc.boolean()).map(([a, b, isOpen]): MassFractionBounds => {
  const [low, high] = compare(a, b) <= 0 ? [a, b] : [b, a];
  return { low, high: isOpen ? null : high };
});
const composition = fc.tuple(...ELEMENTS.map((element) => fc.option(boundsOf).map((bounds) => [element, bounds] as const)))
  .map((pairs) => new Map(pairs.flatMap(([element, bounds]) => (bounds === null ? [] : [[element, bounds] as const]))));

function atMost(a: Ratio | null, b: Ratio | null): boolean {
  if (b === null) return true;
  return a !== null && compare(a, b) <= 0;
}

describe('carbon equivalents', () => {
  test('equal the formula in floating point at both bounds', () => {
    fc.assert(
      fc.property(kind, composition, (given, elements) => {
        const found = carbonEquivalent(given, elements);
        const reported = elementsOf(given).filter((element) => elements.has(element));
        expect(found.missing).toEqual(elementsOf(given).filter((element) => !reported.includes(element)));
        expect(toNumber(found.low)).toBeCloseTo(ORACLES[given]((element) => toNumber(elements.get(element)?.low ?? ratio(0n))), 10);
        const bounded = elementsOf(given).every((element) => elements.get(element)?.high != null);
        expect(found.high !== null).toBe(bounded);
        if (found.high !== null) {
          expect(toNumber(found.high)).toBeCloseTo(ORACLES[given]((element) => toNumber(elements.get(element)?.high ?? ratio(0n))), 10);
        }
      }),
      PARAMETERS,
    );
  });

  test('one more reported element never widens the bounds, and every composition within the bounds lies in them', () => {
    fc.assert(
      fc.property(kind, composition, fc.constantFrom(...ELEMENTS), boundsOf, (given, elements, element, bounds) => {
        const without = new Map([...elements].filter(([one]) => one !== element));
        const before = carbonEquivalent(given, without);
        const after = carbonEquivalent(given, new Map([...without, [element, bounds]]));
        expect(compare(after.low, before.low)).toBeGreaterThanOrEqual(0);
        expect(atMost(after.high, before.high)).toBe(true);
        expect(after.missing.length).toBeLessThanOrEqual(before.missing.length);
        const exactly = carbonEquivalent(given, new Map(elementsOf(given).map((one) => {
          const { low, high } = elements.get(one) ?? { low: ratio(1n, 100n), high: null };
          return [one, { low, high: high ?? low }];
        })));
        const within = carbonEquivalent(given, elements);
        expect(compare(within.low, exactly.low)).toBeLessThanOrEqual(0);
        expect(atMost(exactly.high, within.high)).toBe(true);
      }),
      PARAMETERS,
    );
  });
});

/** Written here once more, so that a pair dropped from the library is seen. */
const LOOK_ALIKES: readonly (readonly string[])[] = [['O', 'o', '0'], ['I', 'i', 'l', 'L', '1'], ['S', 's', '5'], ['B', 'b', '8'], ['Z', 'z', '2']];
const numberText = fc.string({ unit: fc.constantFrom(...'0123456789ABHOISZl-/ '), minLength: 1, maxLength: 9 });
const digits = fc.string({ unit: fc.constantFrom(...'0123456789'), minLength: 2, maxLength: 9 });

describe('numbers of documents', () => {
  test('being alike is symmetric, and no number is like itself', () => {
    fc.assert(
      fc.property(numberText, numberText, (a, b) => {
        expect(likeNumber(a, b)).toEqual(likeNumber(b, a));
        expect(likeNumber(a, a)).toEqual({ alike: false });
      }),
      PARAMETERS,
    );
  });

  test('the normal form is its own normal form', () => {
    fc.assert(
      fc.property(numberText, (text) => {
        expect(normalNumber(text)).toMatch(/^[0-9A-Z]*$/);
        expect(normalNumber(normalNumber(text))).toBe(normalNumber(text));
        expect(normalNumber(text.toLowerCase())).toBe(normalNumber(text));
        expect(normalNumber(` ${text}-`)).toBe(normalNumber(text));
      }),
      PARAMETERS,
    );
  });

  test('every confusion of one character with another is recognised', () => {
    const confusion = fc.constantFrom(...LOOK_ALIKES)
      .chain((group) => fc.tuple(fc.constantFrom(...group), fc.constantFrom(...group)))
      .filter(([one, other]) => one !== other);
    fc.assert(
      fc.property(numberText, numberText, confusion, (before, after, [one, other]) => {
        expect(likeNumber(before + one + after, before + other + after).alike).toBe(true);
      }),
      PARAMETERS,
    );
  });

  test('a zero lost, digits swapped and a digit changed are recognised wherever they happen', () => {
    fc.assert(
      fc.property(digits, fc.nat(), fc.constantFrom(...'0123456789'), (text, draw, digit) => {
        const at = draw % (text.length - 1);
        const [head, tail] = [text.slice(0, at), text.slice(at)];
        expect(likeNumber(`H${head}0${tail}`, `H${head}${tail}`).alike).toBe(true);
        const swapped = head + tail.charAt(1) + tail.charAt(0) + tail.slice(2);
        expect(likeNumber(`H${swapped}`, `H${text}`).alike).toBe(swapped !== text);
        const changed = head + digit + tail.slice(1);
        expect(likeNumber(`H${changed}`, `H${text}`).alike).toBe(changed !== text);
        expect(likeNumber(`H${head}-${tail}`, `H${text}`).alike).toBe(true);
      }),
      PARAMETERS,
    );
  });
});

const rows = THICKNESS_TOLERANCE_TABLES.flatMap((table) => table.rows.map((row) => ({ table, row })));

/** A decimal with three digits over `overMm`, up to and including `toMm`. */
function within(overMm: string, toMm: string): fc.Arbitrary<string> {
  const [from, to] = [Math.round(Number(overMm) * 1000), Math.round(Number(toMm) * 1000)];
  return fc.integer({ min: from + 1, max: to }).map((thousandths) => (thousandths / 1000).toFixed(3));
}

describe('thickness tolerances', () => {
  test('every thickness and width inside a cell finds that cell', () => {
    const anyPlace = fc.constantFrom(...rows).chain(({ table, row }) =>
      fc.constantFrom(...row.widths).chain((cell) =>
        fc.record({
          table: fc.constant(table), row: fc.constant(row), cell: fc.constant(cell),
          thicknessMm: within(row.overMm, row.toMm), widthMm: within(cell.overMm, cell.toMm ?? '3000'),
        })));
    fc.assert(
      fc.property(anyPlace, ({ table, row, cell, thicknessMm, widthMm }) => {
        const width = cell.toMm === null ? `over ${cell.overMm} mm` : `over ${cell.overMm} to ${cell.toMm} mm`;
        expect(thicknessTolerance(table, thicknessMm, widthMm)).toEqual({
          plusMm: cell.plusMinusMm, minusMm: cell.plusMinusMm, source: table.source,
          cell: `thickness over ${row.overMm} to ${row.toMm} mm, width ${width}`,
        });
      }),
      PARAMETERS,
    );
  });

  test('a thickness in no row of its table has no tolerance', () => {
    const anyThickness = fc.tuple(fc.constantFrom(...THICKNESS_TOLERANCE_TABLES), fc.integer({ min: 1, max: 40_000 }));
    fc.assert(
      fc.property(anyThickness, ([table, thousandths]) => {
        const isInRow = table.rows.some(({ overMm, toMm }) => thousandths > Math.round(Number(overMm) * 1000) && thousandths <= Math.round(Number(toMm) * 1000));
        expect('missing' in thicknessTolerance(table, (thousandths / 1000).toFixed(3), '300')).toBe(!isInRow);
      }),
      PARAMETERS,
    );
  });
});

/** Each factor as an exact number, written here once more. */
const FACTORS: Readonly<Record<string, Ratio>> = {
  '25.4': ratio(254n, 10n), '1/25.4': ratio(10n, 254n), '6.895': ratio(6895n, 1000n), '1/6.895': ratio(1000n, 6895n),
  '0.3048': ratio(3048n, 10_000n), '1/0.3048': ratio(10_000n, 3048n), '10': ratio(10n), '1/10': ratio(1n, 10n),
  '100': ratio(100n), '1/100': ratio(1n, 100n), '1000': ratio(1000n), '1/1000': ratio(1n, 1000n),
};
const FACTOR_NAMES = Object.keys(FACTORS);
const positive = fc.tuple(fc.integer({ min: 1, max: 10_000_000 }), fc.integer({ min: 0, max: 5 }))
  .map(([digitsOfIt, decimals]) => ratio(BigInt(digitsOfIt), 10n ** BigInt(decimals)));
/** From 0.97 to 1.03. */
const nearOne = fc.integer({ min: 9700, max: 10_300 }).map((tenThousandths) => ratio(BigInt(tenThousandths), 10_000n));

describe('slips', () => {
  test('every factor is recognised there and back, within 3 %', () => {
    fc.assert(
      fc.property(fc.constantFrom(...FACTOR_NAMES), positive, nearOne, (name, expected, near) => {
        const slipped = times(times(expected, FACTORS[name]!), near);
        expect(slipOf(slipped, expected)?.factor).toBe(name);
        const inverse = name.startsWith('1/') ? name.slice(2) : `1/${name}`;
        expect(slipOf(over(expected, times(FACTORS[name]!, near)), expected, ratio(31n, 1000n))?.factor).toBe(inverse);
      }),
      PARAMETERS,
    );
  });

  test('a value within 18 % of what was expected is no slip at any tolerance', () => {
    const usual = fc.integer({ min: 8200, max: 11_800 }).map((tenThousandths) => ratio(BigInt(tenThousandths), 10_000n));
    fc.assert(
      fc.property(positive, usual, (expected, near) => {
        expect(slipOf(times(expected, near), expected, ratio(18n, 100n))).toBeNull();
      }),
      PARAMETERS,
    );
  });
});
