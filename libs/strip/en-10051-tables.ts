import type { ToleranceCell, ToleranceRow, ToleranceTable } from './tolerance-table.js';

/** Thickness tolerances of hot-rolled strip: the cells of EN 10051 that could be read in print. */

const UP_TO_1800: readonly [string, string | null][] = [['0', '1200'], ['1200', '1500'], ['1500', '1800']];
const ALL_WIDTHS: readonly [string, string | null][] = [...UP_TO_1800, ['1800', null]];

function row(overMm: string, toMm: string, ...plusMinusMm: readonly string[]): ToleranceRow {
  const spans = plusMinusMm.length === UP_TO_1800.length ? UP_TO_1800 : ALL_WIDTHS;
  const widths = plusMinusMm.map((one, index): ToleranceCell => {
    const span = spans[index];
    if (span === undefined) throw new RangeError(`no width for tolerance ${index + 1} of the row over ${overMm} mm`);
    return { overMm: span[0], toMm: span[1], plusMinusMm: one };
  });
  return { overMm, toMm, widths };
}

/** Minimum yield up to 300 MPa. The row of 15 to 25 mm was seen in one of the two copies only. */
export const EN_10051_CATEGORY_A: ToleranceTable = {
  name: 'EN 10051 category A',
  edition: '2010',
  source: "EN 10051, category A, as a mill's published tolerance table and a second copy reproduce it, identical cell by cell",
  rows: [
    row('0', '2.00', '0.17', '0.19', '0.21'),
    row('2.50', '3.00', '0.20', '0.22', '0.24', '0.26'),
    row('3.00', '4.00', '0.22', '0.24', '0.26', '0.27'),
    row('5.00', '6.00', '0.26', '0.28', '0.29', '0.31'),
    row('6.00', '8.00', '0.29', '0.30', '0.31', '0.35'),
    row('10.00', '12.50', '0.35', '0.36', '0.37', '0.43'),
    row('15.00', '25.00', '0.40', '0.42', '0.45', '0.50'),
  ],
};

/** Grades DD11 to DD14 of EN 10111. The 1992 edition prints 0.22 for 5 to 6 mm over 1800 mm. */
export const EN_10051_LOW_CARBON: ToleranceTable = {
  name: 'EN 10051 low-carbon steel for cold forming',
  edition: '2010',
  source: "EN 10051:2010, table for EN 10111 grades, as two mills' published tolerance tables reproduce it",
  rows: [
    row('0', '2.00', '0.13', '0.14', '0.16'),
    row('2.00', '2.50', '0.14', '0.16', '0.17', '0.19'),
    row('3.00', '4.00', '0.17', '0.18', '0.20', '0.20'),
    row('5.00', '6.00', '0.20', '0.21', '0.22', '0.23'),
    row('6.00', '8.00', '0.22', '0.23', '0.23', '0.26'),
  ],
};

export const EN_10051_TABLES: readonly ToleranceTable[] = [EN_10051_CATEGORY_A, EN_10051_LOW_CARBON];
