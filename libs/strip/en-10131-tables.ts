import type { ToleranceRow, ToleranceTable } from './tolerance-table.js';

/** Thickness tolerances of cold-rolled strip: the cells of EN 10131:2006 that could be read in print. */

function row(overMm: string, toMm: string, to1200: string, to1500: string, over1500: string): ToleranceRow {
  const widths = [
    { overMm: '0', toMm: '1200', plusMinusMm: to1200 },
    { overMm: '1200', toMm: '1500', plusMinusMm: to1500 },
    { overMm: '1500', toMm: null, plusMinusMm: over1500 },
  ];
  return { overMm, toMm, widths };
}

const EDITION = '2006';
const TABLE_1 = "EN 10131:2006, Table 1, from a copy of the standard and a mill's published tolerance table, identical";
const TABLE_2 = 'EN 10131:2006, Table 2, from one copy of the standard that ends at 1.00 mm';

/** Minimum yield below 260 MPa, normal tolerances. */
export const EN_10131_BELOW_260_NORMAL: ToleranceTable = {
  name: 'EN 10131, Re < 260 MPa, normal',
  edition: EDITION,
  source: TABLE_1,
  rows: [
    row('0.35', '0.40', '0.03', '0.04', '0.05'),
    row('0.60', '0.80', '0.04', '0.05', '0.06'),
    row('1.00', '1.20', '0.06', '0.07', '0.08'),
    row('1.60', '2.00', '0.10', '0.11', '0.12'),
    row('2.50', '3.00', '0.15', '0.15', '0.16'),
  ],
};

/** Minimum yield below 260 MPa, special tolerances. */
export const EN_10131_BELOW_260_SPECIAL: ToleranceTable = {
  name: 'EN 10131, Re < 260 MPa, special',
  edition: EDITION,
  source: TABLE_1,
  rows: [
    row('0.35', '0.40', '0.020', '0.025', '0.030'),
    row('0.60', '0.80', '0.030', '0.035', '0.040'),
    row('1.00', '1.20', '0.040', '0.050', '0.060'),
    row('1.60', '2.00', '0.060', '0.070', '0.080'),
    row('2.50', '3.00', '0.100', '0.110', '0.120'),
  ],
};

/** Minimum yield from 260 to below 340 MPa, normal tolerances. */
export const EN_10131_FROM_260_NORMAL: ToleranceTable = {
  name: 'EN 10131, 260 MPa ≤ Re < 340 MPa, normal',
  edition: EDITION,
  source: TABLE_2,
  rows: [
    row('0.35', '0.40', '0.04', '0.05', '0.06'),
    row('0.40', '0.60', '0.04', '0.05', '0.06'),
    row('0.80', '1.00', '0.06', '0.07', '0.08'),
  ],
};

/** Minimum yield from 260 to below 340 MPa, special tolerances. */
export const EN_10131_FROM_260_SPECIAL: ToleranceTable = {
  name: 'EN 10131, 260 MPa ≤ Re < 340 MPa, special',
  edition: EDITION,
  source: TABLE_2,
  rows: [
    row('0.35', '0.40', '0.025', '0.030', '0.035'),
    row('0.40', '0.60', '0.030', '0.035', '0.040'),
    row('0.80', '1.00', '0.040', '0.050', '0.060'),
  ],
};

export const EN_10131_TABLES: readonly ToleranceTable[] = [
  EN_10131_BELOW_260_NORMAL, EN_10131_BELOW_260_SPECIAL, EN_10131_FROM_260_NORMAL, EN_10131_FROM_260_SPECIAL,
];

/**
 * Near welds made before cold rolling the tolerance may be wider by this factor, over this length (EN 10131:2006, Table 1,
 * footnote a). Not applied by `thicknessTolerance`: the table does not know where the welds are.
 */
export const EN_10131_WELD_ZONE = { factor: '1.50', lengthM: 10 } as const;
