import { describe, expect, test } from '@jest/globals';
import type { ToleranceTable } from '#libs/strip';
import {
  camberLimit, categoryOfYield, EN_10051_CATEGORY_A, EN_10051_FACTORS_1991, EN_10051_LOW_CARBON, EN_10131_BELOW_260_NORMAL,
  EN_10131_BELOW_260_SPECIAL, EN_10131_FROM_260_NORMAL, EN_10131_FROM_260_SPECIAL, EN_10131_WELD_ZONE, lengthTolerancePlusMm,
  squarenessLimitMm, thicknessTolerance, THICKNESS_TOLERANCE_TABLES, uncroppedEndLengthM,
} from '#libs/strip';
import { stripCases } from './strip-cases.js';
import {
  checkOf, type Expected, expectedNames, expectedNumber, expectedOf, expectPrinted, inputNumber, inputNumbers, printedText, titled, type TradeCase,
} from './trade-cases.js';

const cases = stripCases('thickness');
const isRow = ({ id }: TradeCase): boolean => /^en10051-(catA|lowcarbon)-|^en10131-t[12]-/.test(id);
const rows = cases.filter(isRow);

/** Just past a lower bound, which does not belong to the span. */
const JUST_OVER_MM = 0.001;

function tableOf({ id }: TradeCase, { name }: Expected): ToleranceTable {
  if (id.startsWith('en10051-catA-')) return EN_10051_CATEGORY_A;
  if (id.startsWith('en10051-lowcarbon-')) return EN_10051_LOW_CARBON;
  const special = name.includes('special');
  if (id.startsWith('en10131-t1-')) return special ? EN_10131_BELOW_260_SPECIAL : EN_10131_BELOW_260_NORMAL;
  return special ? EN_10131_FROM_260_SPECIAL : EN_10131_FROM_260_NORMAL;
}

/** `1200<w<=1500`, `w<=1200` or `w>1500` at the end of a name. */
function widthsOf({ name }: Expected): { overMm: number; toMm: number | null } {
  const match = /(?:(\d+)<)?w(?:<=(\d+)|>(\d+))\)$/.exec(name);
  if (match === null) throw new Error(`no widths in ${name}`);
  const [, over, to, above] = match;
  return { overMm: Number(over ?? above ?? 0), toMm: to === undefined ? null : Number(to) };
}

function toleranceAt(table: ToleranceTable, thicknessMm: number, widthMm: number): string {
  const found = thicknessTolerance(table, thicknessMm.toFixed(3), widthMm.toFixed(3));
  if ('missing' in found) return found.missing;
  expect(found.minusMm).toBe(found.plusMm);
  expect(found.source).toBe(table.source);
  return found.plusMm;
}

function checkRow(given: TradeCase): void {
  const [overMm, toMm] = [inputNumber(given, 't_over_mm'), inputNumber(given, 't_to_mm')];
  for (const expected of given.expected) {
    const table = tableOf(given, expected);
    const widths = widthsOf(expected);
    const printed = printedText(expected);
    for (const thicknessMm of [overMm + JUST_OVER_MM, toMm]) {
      for (const widthMm of [widths.overMm + JUST_OVER_MM, widths.toMm ?? widths.overMm + 500]) {
        expect(toleranceAt(table, thicknessMm, widthMm)).toBe(printed);
      }
    }
  }
}

const checks: Readonly<Record<string, (given: TradeCase) => void>> = {
  'en10051-categories': (given) => {
    const names = inputNumbers(given, 'Re_MPa').map((yieldMpa) => `category_${yieldMpa}`);
    expect(expectedNames(given)).toEqual(names);
    const found = inputNumbers(given, 'Re_MPa').map(categoryOfYield);
    expect(found).toEqual(given.expected.map(({ value }) => value));
  },

  'en10051-category-factors': (given) => {
    const percent = Object.entries(EN_10051_FACTORS_1991).map(([category, factor]) => [`${category}_percent`, Math.round((Number(factor) - 1) * 100)]);
    expect(percent).toEqual(given.expected.map(({ name, value }) => [name, value]));
  },

  'en10051-shape-1992': (given) => {
    const found: Readonly<Record<string, number | undefined>> = {
      camber_max_4000mm: camberLimit(4000, 1250, 'mill')?.maxMm,
      camber_mill_5000: camberLimit(5000, 1250, 'mill')?.maxMm,
      camber_trim_5000: camberLimit(5000, 1250, 'trimmed')?.maxMm,
      squareness_max_w1250: squarenessLimitMm(1250),
      length_plus_6000: lengthTolerancePlusMm(6000),
      length_plus_over_8000: lengthTolerancePlusMm(8001),
    };
    expect(found).toEqual(Object.fromEntries(given.expected.map(({ name, value }) => [name, value])));
  },

  'hot-strip-uncropped-ends': (given) => {
    const thicknesses = inputNumbers(given, 't_mm');
    expect(expectedNames(given)).toEqual(thicknesses.map((thicknessMm) => `ends_m_t${thicknessMm}`));
    thicknesses.forEach((thicknessMm) => {
      expectPrinted(uncroppedEndLengthM(thicknessMm), expectedOf(given, `ends_m_t${thicknessMm}`));
    });
  },

  'en10131-weld-zone': (given) => {
    expect(Number(EN_10131_WELD_ZONE.factor)).toBe(1 + expectedNumber(given, 'increase_percent') / 100);
    expect(EN_10131_WELD_ZONE.lengthM).toBe(expectedNumber(given, 'length_m'));
  },
};

describe('published thickness tolerances', () => {
  test.each(titled(rows))('%s', (_title, given) => {
    checkRow(given);
  });

  test('the tables hold the cells of these cases and no others', () => {
    const cells = THICKNESS_TOLERANCE_TABLES.flatMap((table) => table.rows.flatMap((row) => row.widths));
    expect(cells).toHaveLength(rows.flatMap(({ expected }) => expected).length);
  });

  test('where the source prints nothing, nothing is answered (EN 10051 category A up to 2 mm prints no width over 1800 mm)', () => {
    expect(toleranceAt(EN_10051_CATEGORY_A, 2, 1800.001)).toContain('no cell with a source for a width of 1800.001 mm');
    expect(toleranceAt(EN_10051_CATEGORY_A, 2.25, 1000)).toContain('no row with a source for a thickness of 2.250 mm');
  });
});

describe('published rules of strip dimensions', () => {
  test.each(titled(cases.filter((given) => !isRow(given))))('%s', (_title, given) => {
    checkOf(checks, given)(given);
  });

  test('every check belongs to a case', () => {
    expect(cases.map(({ id }) => id)).toEqual(expect.arrayContaining(Object.keys(checks)));
  });
});
