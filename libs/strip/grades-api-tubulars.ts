import type { Grade, GradeLine } from './grade.js';

/** API 5CT (casing and tubing) and API 5ST (coiled tubing): the values that could be read in print. */
const CASING = "API 5CT / ISO 11960, tensile and hardness table, two vendors' copies; they name no edition";
const COILED = 'API 5ST, 1st edition (2010), Table 2 (chemistry), as presented at a trade conference in 2010';
const CT90_TENSILE = "a strip mill's data sheet for CT90 (tensile and hardness)";

const CT90_YIELD = 'the source says only "yield"; that the specification means 0.2 % offset is from memory';

interface Casing {
  readonly yieldCode: 'Rt0.5' | 'Rt0.65' | 'Rt0.7';
  readonly yieldMpa: readonly [string, string];
  readonly tensileMpa: string;
  readonly hrcMax?: string;
}

const atLeast = (characteristic: string, min: string, note?: string): GradeLine =>
  ({ characteristic, analysis: null, min, max: null, unit: 'MPa', ...(note === undefined ? {} : { note }) });
const hardnessUpTo = (max: string): GradeLine => ({ characteristic: 'HRC', analysis: null, min: null, max, unit: 'HRC' });

/** Yield at the total elongation under load that the grade is defined by: those are different quantities. */
function casing(name: string, { yieldCode, yieldMpa: [min, max], tensileMpa, hrcMax }: Casing): Grade {
  const lines: GradeLine[] = [
    { characteristic: yieldCode, analysis: null, min, max, unit: 'MPa' },
    atLeast('Rm', tensileMpa),
    ...(hrcMax === undefined ? [] : [hardnessUpTo(hrcMax)]),
  ];
  return { standard: 'API 5CT', edition: null, grade: name, number: null, source: CASING, bendMandrelPerThickness: null, lines };
}

function coiled(name: string, manganese: string, phosphorus: string, more: readonly GradeLine[] = [], moreSource = ''): Grade {
  const upTo = (characteristic: string, max: string): GradeLine => ({ characteristic, analysis: null, min: null, max, unit: '%' });
  const chemistry = [upTo('C', '0.16'), upTo('Si', '0.50'), upTo('Mn', manganese), upTo('P', phosphorus), upTo('S', '0.005')];
  const source = moreSource === '' ? COILED : `${COILED}; ${moreSource}`;
  return {
    standard: 'API 5ST', edition: '1st', grade: name, number: null, source, bendMandrelPerThickness: null, lines: [...chemistry, ...more],
  };
}

export const API_5CT_GRADES: readonly Grade[] = [
  casing('H40', { yieldCode: 'Rt0.5', yieldMpa: ['276', '552'], tensileMpa: '414' }),
  casing('K55', { yieldCode: 'Rt0.5', yieldMpa: ['379', '552'], tensileMpa: '655' }),
  casing('N80', { yieldCode: 'Rt0.5', yieldMpa: ['552', '758'], tensileMpa: '689' }),
  casing('L80', { yieldCode: 'Rt0.5', yieldMpa: ['552', '655'], tensileMpa: '655', hrcMax: '23' }),
  casing('T95', { yieldCode: 'Rt0.5', yieldMpa: ['655', '758'], tensileMpa: '724', hrcMax: '25.4' }),
  casing('C110', { yieldCode: 'Rt0.7', yieldMpa: ['758', '828'], tensileMpa: '793', hrcMax: '30' }),
  casing('Q125', { yieldCode: 'Rt0.65', yieldMpa: ['862', '1034'], tensileMpa: '931' }),
];

export const API_5ST_GRADES: readonly Grade[] = [
  coiled('CT70', '1.20', '0.025'),
  coiled('CT90', '1.20', '0.020', [atLeast('Rp0.2', '620', CT90_YIELD), atLeast('Rm', '669'), hardnessUpTo('22')], CT90_TENSILE),
  coiled('CT110', '1.65', '0.025'),
];
