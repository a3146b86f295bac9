import type { Grade, GradeLine } from './grade.js';

/**
 * API 5L PSL 2, welded pipe: tensile limits (Table 7, 44th and 45th editions) and chemistry (Table 5, up to 25.0 mm), as
 * vendors' copies reproduce them. The maximum tensile strength that the 46th edition lowers is an entry of its own.
 */
const STANDARD = 'API 5L PSL 2';
const EDITION = '44th and 45th';
const TABLE_5 = "API 5L / ISO 3183, Table 5 (chemistry), three vendors' copies, identical; they name no edition";
const TABLE_7 = "API 5L / ISO 3183, Table 7 (tensile), 44th and 45th editions, a vendor's copy";
const THICKNESS = { max: '25.0' };

interface MassFractions {
  readonly c: string;
  readonly mn: string;
  /** X60M and higher: the limits may be changed by agreement. */
  readonly byAgreement: boolean;
}

const LOWERED = '655 MPa in the 46th edition';
const MANGANESE = 'each 0.01 % C below its maximum allows 0.05 % Mn more, up to a cap';
const AGREEMENT = 'may be changed by agreement';

type MinMax = readonly [min: string, max: string];

function tensile(rt: MinMax, rm: MinMax, ratioMax: string, maxNote?: string): GradeLine[] {
  return [
    { characteristic: 'Rt0.5', analysis: null, min: rt[0], max: rt[1], unit: 'MPa' },
    { characteristic: 'Rm', analysis: null, min: rm[0], max: rm[1], unit: 'MPa', ...(maxNote === undefined ? {} : { note: maxNote }) },
    { characteristic: 'Y/T', analysis: null, min: null, max: ratioMax, unit: '1', note: 'Rt0.5 over Rm' },
  ];
}

function chemistry({ c, mn, byAgreement }: MassFractions): GradeLine[] {
  const line = (characteristic: string, max: string, note?: string): GradeLine => {
    const notes = [note, byAgreement ? AGREEMENT : undefined].filter((one) => one !== undefined).join('; ');
    return { characteristic, analysis: null, min: null, max, unit: '%', ...(notes === '' ? {} : { note: notes }), thicknessMm: THICKNESS };
  };
  return [
    line('C', c), line('Si', '0.45'), line('Mn', mn, MANGANESE), line('P', '0.025'), line('S', '0.015'),
    { ...line('CE(IIW)', '0.43', 'governs if C > 0.12 %'), analysis: 'product' },
    { ...line('Pcm', '0.25', 'governs if C ≤ 0.12 %'), analysis: 'product' },
  ];
}

function grade(name: string, source: string, lines: readonly GradeLine[], edition = EDITION): Grade {
  return { standard: STANDARD, edition, grade: name, number: null, source, bendMandrelPerThickness: null, lines };
}

const BOTH = `${TABLE_5}; ${TABLE_7}`;
const low = (mn: string): GradeLine[] => chemistry({ c: '0.22', mn, byAgreement: false });
const high = (mn: string): GradeLine[] => chemistry({ c: '0.12', mn, byAgreement: true });

/** The one value of the 46th edition that could be read, for three strengths in whatever delivery condition. */
function lowered(name: string): Grade {
  const line: GradeLine = { characteristic: 'Rm', analysis: null, min: null, max: '655', unit: 'MPa', note: '760 MPa in the 44th and 45th editions' };
  return grade(name, 'API 5L, 46th edition (2018), Table 7, an extract', [line], '46th');
}

export const API_5L_GRADES: readonly Grade[] = [
  grade('BM', BOTH, [...low('1.20'), ...tensile(['245', '450'], ['415', '760'], '0.93', LOWERED)]),
  grade('X46M', BOTH, [...low('1.30'), ...tensile(['320', '525'], ['435', '760'], '0.93', LOWERED)]),
  grade('X52M', TABLE_5, low('1.40')),
  grade('X56M', TABLE_7, tensile(['390', '545'], ['490', '760'], '0.93')),
  grade('X60M', BOTH, [...high('1.60'), ...tensile(['415', '565'], ['520', '760'], '0.93')]),
  grade('X65M', TABLE_5, high('1.60')),
  grade('X70M', TABLE_7, tensile(['485', '635'], ['570', '760'], '0.93')),
  grade('X80M', TABLE_5, high('1.85')),
  grade('X90M', TABLE_7, tensile(['625', '775'], ['695', '915'], '0.95')),
  grade('X120M', TABLE_7, tensile(['830', '1050'], ['915', '1145'], '0.99')),
  lowered('B'), lowered('X42'), lowered('X46'),
];
