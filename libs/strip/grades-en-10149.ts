import type { Grade, GradeLine } from './grade.js';

/**
 * EN 10149-2:2013, thermomechanically rolled steels for cold forming: ladle analysis (Table 1) and tensile properties
 * (Table 2), as a vendor's page reproduces them. Rows that could not be read are left out: a grade may lack either half.
 */
const TABLE_1 = "EN 10149-2:2013, Table 1 (chemistry), as a vendor's page reproduces it";
const TABLE_2 = "EN 10149-2:2013, Table 2 (tensile), as a vendor's page reproduces it";

interface LadleAnalysis {
  readonly c: string;
  readonly mn: string;
  readonly si: string;
  readonly s: string;
  readonly ti: string;
  /** Limited in the strongest grades only. */
  readonly mo?: string;
  readonly b?: string;
}

interface Tensile {
  readonly reh: string;
  readonly rm: readonly [string, string];
  readonly a80: string;
  readonly a: string;
  readonly bend: string;
}

const SULPHUR = 'at most 0.010 % if agreed at the order';
const SUM = 'all grades, footnote a';

function upTo(characteristic: string, max: string, note?: string): GradeLine {
  return { characteristic, analysis: 'heat', min: null, max, unit: '%', ...(note === undefined ? {} : { note }) };
}

function chemistry({ c, mn, si, s, ti, mo, b }: LadleAnalysis): GradeLine[] {
  return [
    upTo('C', c), upTo('Si', si), upTo('Mn', mn), upTo('P', '0.025'), upTo('S', s, SULPHUR),
    { characteristic: 'Al', analysis: 'heat', min: '0.015', max: null, unit: '%' },
    upTo('Nb', '0.09'), upTo('V', '0.20'), upTo('Ti', ti), upTo('Nb+V+Ti', '0.22', SUM),
    ...(mo === undefined ? [] : [upTo('Mo', mo)]),
    ...(b === undefined ? [] : [upTo('B', b)]),
  ];
}

function tensile({ reh, rm: [rmMin, rmMax], a80, a }: Tensile): GradeLine[] {
  return [
    { characteristic: 'ReH', analysis: null, min: reh, max: null, unit: 'MPa' },
    { characteristic: 'Rm', analysis: null, min: rmMin, max: rmMax, unit: 'MPa' },
    { characteristic: 'A80mm', analysis: null, min: a80, max: null, unit: '%', note: 'for t < 3 mm', thicknessMm: { below: '3' } },
    { characteristic: 'A', analysis: null, min: a, max: null, unit: '%', note: 'for t ≥ 3 mm', thicknessMm: { min: '3' } },
  ];
}

function grade(name: string, number: string | null, ladle: LadleAnalysis | null, strength: Tensile | null): Grade {
  return {
    standard: 'EN 10149-2',
    edition: '2013',
    grade: name,
    number,
    source: [ladle === null ? [] : [TABLE_1], strength === null ? [] : [TABLE_2]].flat().join('; '),
    bendMandrelPerThickness: strength?.bend ?? null,
    lines: [...(ladle === null ? [] : chemistry(ladle)), ...(strength === null ? [] : tensile(strength))],
  };
}

const c12 = { c: '0.12', si: '0.50', ti: '0.15' };
const STRONG = { si: '0.60', ti: '0.22', mo: '0.50', b: '0.005' };

export const EN_10149_2_GRADES: readonly Grade[] = [
  grade('S315MC', '1.0972', { ...c12, mn: '1.30', s: '0.020' }, { reh: '315', rm: ['390', '510'], a80: '20', a: '24', bend: '0' }),
  grade('S355MC', '1.0976', { ...c12, mn: '1.50', s: '0.020' }, null),
  grade('S420MC', null, null, { reh: '420', rm: ['480', '620'], a80: '16', a: '19', bend: '0.5' }),
  grade('S460MC', '1.0982', { ...c12, mn: '1.60', s: '0.015' }, { reh: '460', rm: ['520', '670'], a80: '14', a: '17', bend: '1' }),
  grade('S500MC', '1.0984', { ...c12, mn: '1.70', s: '0.015' }, null),
  grade('S600MC', '1.8969', { ...STRONG, c: '0.12', si: '0.50', mn: '1.90', s: '0.015' }, null),
  grade('S700MC', '1.8974', { ...STRONG, c: '0.12', mn: '2.10', s: '0.015' }, null),
  grade('S960MC', '1.8799', { ...STRONG, c: '0.20', mn: '2.20', s: '0.010', ti: '0.25', mo: '1.00' }, null),
];
