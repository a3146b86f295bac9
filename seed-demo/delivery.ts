import { COILS, RECEIVED, type CoilOnPaper } from './strip.js';
import { entered, later, type Fields, type Step } from './step.js';

/**
 * What came with the nine coils: the specification they were ordered to, the mill's certificates keyed by two people, tags,
 * scales and micrometers, and what was decided on each coil before it went on the line.
 */
const NUMBER = 'STS-12';
const ORDER = 'PO-2025-118';

const chemical = (characteristic: string, max: string, expandedU: string, clause: string): Fields =>
  ({ characteristic, analysis: 'heat', max, unit: '%', expandedU, clause });

const requirements = (carbonMax: string): Fields[] => [
  { characteristic: 'thickness', min: '-0.15', max: '0.15', unit: 'mm', limitOf: 'deviation', toDecimals: 3, expandedU: '0.01', clause: '3.2' },
  { characteristic: 'width', min: '-0.5', max: '0.5', unit: 'mm', limitOf: 'deviation', toDecimals: 2, expandedU: '0.1', clause: '3.3' },
  chemical('C', carbonMax, '0.004', '4.1'), chemical('Si', '0.50', '0.02', '4.1'), chemical('Mn', '1.60', '0.03', '4.1'),
  chemical('P', '0.025', '0.002', '4.1'), chemical('S', '0.010', '0.001', '4.1'), chemical('Nb', '0.090', '0.004', '4.1'),
  chemical('V', '0.20', '0.005', '4.1'), chemical('Ti', '0.15', '0.005', '4.1'), chemical('Nb+V+Ti', '0.22', '0.01', '4.2'),
  { characteristic: 'ReH', min: '420', unit: 'MPa', expandedU: '8', clause: '5.1' },
  { characteristic: 'Rm', min: '480', max: '620', unit: 'MPa', expandedU: '8', clause: '5.1' },
  { characteristic: 'A', min: '19', unit: '%', expandedU: '1', clause: '5.1' },
  { characteristic: 'HV10', unit: 'HV10', clause: '5.4' },
];

function revision(number: number, effectiveFrom: string, observedAt: string, carbonMax: string): Step {
  return entered('rasmus', 'strip-specifications', `${NUMBER} revision ${number}`, {
    observedAt, number: NUMBER, revision: number, title: 'Slit hot-rolled strip for guide and main strings', effectiveFrom, grade: 'S420MC', documentType: '3.1',
    requirements: requirements(carbonMax), rounding: 'rounding', decisionRule: 'guarded-acceptance', edge: 'slit', surface: 'pickled and oiled',
    testFrequency: 'One tensile test a coil, heat analysis a heat', retestRule: 'Two more tests of the same coil; both shall conform. The failed one stays on record.',
  });
}

/** What is asked of the strip, in two revisions, and the order to the second; before anything was delivered. */
export const ORDERED: readonly Step[] = [
  revision(3, '2025-06-01', '2026-02-16T08:30:00Z', '0.14'),
  revision(4, '2025-11-01', '2026-02-16T08:36:00Z', '0.12'),
  entered('rasmus', 'strip-orders', ORDER, {
    observedAt: '2026-02-16T08:42:00Z', number: ORDER, mill: 'Tarnwick Steelworks', orderedOn: '2025-12-04', specificationId: `@${NUMBER} revision 4`,
    thicknessMm: '5.00', widthMm: '383.0',
  }),
];

/** Heat analyses of the mill, % by mass. */
const ANALYSES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  H40711: { C: '0.085', Si: '0.18', Mn: '1.21', P: '0.012', S: '0.004', Al: '0.035', Nb: '0.032', V: '0.002', Ti: '0.012', B: '<0.0005', N: '0.0048' },
  H40712: { C: '0.079', Si: '0.19', Mn: '1.18', P: '0.011', S: '0.003', Al: '0.038', Nb: '0.030', V: '0.002', Ti: '0.011', B: '<0.0005', N: '0.0051' },
  H40718: { C: '0.091', Si: '0.17', Mn: '1.25', P: '0.013', S: '0.004', Al: '0.033', Nb: '0.034', V: '0.003', Ti: '0.013', B: '<0.0005', N: '0.0046' },
  H40725: { C: '0.083', Si: '0.18', Mn: '1.22', P: '0.010', S: '0.005', Al: '0.036', Nb: '0.031', V: '0.002', Ti: '0.012', B: '<0.0005', N: '0.0049' },
};

/** Tensile test of each coil: ReH and Rm in MPa, A in %. */
const TENSILE: Readonly<Record<string, readonly [string, string, string]>> = {
  'LM-01': ['451', '538', '27'], 'LM-02': ['447', '533', '28'], 'LM-03': ['454', '541', '26'], 'LM-04': ['443', '529', '28'], 'LM-05': ['446', '531', '27'],
  'LM-06': ['462', '549', '25'], 'LM-08': ['449', '536', '27'], 'LM-09': ['452', '537', '27'],
};

function lineOf({ number, heat, massKg }: CoilOnPaper, slip: Readonly<Record<string, string>> = {}): Fields {
  const [yieldMpa = '', tensileMpa = '', elongation = ''] = TENSILE[number] ?? [];
  const chemistry = Object.entries({ ...ANALYSES[heat], ...slip }).map(([characteristic, printed]) => ({ characteristic, analysis: 'heat', printed, unit: '%' }));
  return {
    coilNumber: number, heatNumber: heat,
    values: [
      { characteristic: 'thickness', printed: '5.00', unit: 'mm' }, { characteristic: 'width', printed: '383.0', unit: 'mm' }, { characteristic: 'mass', printed: massKg, unit: 'kg' },
      ...chemistry, { characteristic: 'ReH', printed: yieldMpa, unit: 'MPa' }, { characteristic: 'Rm', printed: tensileMpa, unit: 'MPa' },
      { characteristic: 'A', printed: elongation, unit: '%' }, { characteristic: 'HV10', printed: '172', unit: 'HV10' },
    ],
  };
}

const certificates = [...new Set(COILS.flatMap(({ certificate }) => certificate ?? []))];
const linesOn = (certificate: string, slip: Readonly<Record<string, string>> = {}): Fields[] =>
  COILS.filter((coil) => coil.certificate === certificate).map((coil) => lineOf(coil, slip));

const keying = (by: 'rasmus' | 'ilka', certificate: string, nth: 1 | 2, minutes: number, slip?: Readonly<Record<string, string>>): Step =>
  entered(by, 'certificate-transcriptions', `keying ${nth} of ${certificate}`, {
    observedAt: later(RECEIVED, minutes), certificateId: `@${certificate}`, keying: nth, orderNumber: ORDER, specification: `${NUMBER} rev 4`, lines: linesOn(certificate, slip),
  });

/** Of TS-2026-00421 the manganese was keyed with its digits swapped the second time; the paper was looked at again. */
const SLIPPED = 'TS-2026-00421';
const keyings: readonly Step[] = [
  ...certificates.map((certificate, index) => keying('rasmus', certificate, 1, 60 + 6 * index)),
  ...certificates.map((certificate, index) => keying('ilka', certificate, 2, 150 + 6 * index, certificate === SLIPPED ? { Mn: '1.81' } : {})),
  {
    step: 'amendment', by: 'ilka', kind: 'certificate-transcriptions', of: `keying 2 of ${SLIPPED}`, recordedAt: '2026-02-18T12:40:00Z',
    reason: 'Keyings differed; the paper prints Mn 1.18, the digits were swapped.', changes: { lines: linesOn(SLIPPED) },
  },
];

const BORE_MM = 508;

/** Outer diameter of a coil wound with 1 % of air, to the mm. */
const outerMm = (lengthMm: number): string => String(Math.round(Math.sqrt(BORE_MM ** 2 + (4 * 5 * lengthMm) / (Math.PI * 0.99))));

const receipts = COILS.map(({ number, heat, massKg, lengthMm }, index) =>
  entered('ilka', 'coil-receipts', `receipt of ${number}`, {
    observedAt: later(RECEIVED, 200 + 5 * index), coilId: `@${number}`, occasion: 'delivery', tagNumber: number, tagHeatNumber: heat,
    weighedMassKg: String(Number(massKg) - 2), weighedMassUKg: '5', boreMm: String(BORE_MM), outerDiameterMm: outerMm(lengthMm), diameterUMm: '3',
    condition: 'sound', place: `Bay 2, row ${Math.floor(index / 3) + 1}`,
  }),
);

/** The head of LM-09 is thin: inside its limit of 4.85 mm, and inside the guard band. */
const headOf = (number: string): string => (number === 'LM-09' ? '4.856' : '5.01');

const checks = COILS.map(({ number }, index) =>
  entered('ilka', 'incoming-checks', `thickness of ${number}`, {
    observedAt: later(RECEIVED, 260 + 5 * index), coilId: `@${number}`, characteristic: 'thickness', unit: 'mm', instrument: 'MI-07', instrumentId: '@MI-07', expandedU: '0.01',
    method: 'Micrometer, 25 mm from the edge and in the centre',
    readings: [
      { printed: headOf(number), along: 'head', across: 'edge', fromEdgeMm: '25' }, { printed: '5.02', along: 'head', across: 'centre' },
      { printed: '5.00', along: 'tail', across: 'edge', fromEdgeMm: '25' }, { printed: '5.02', along: 'tail', across: 'centre' },
    ],
  }),
);

const SIGNED = '2026-02-19T07:30:00Z';

const decisions = COILS.filter(({ certificate }) => certificate !== null).map(({ number }, index): Step => ({
  step: 'decision', by: 'rasmus', key: `decision on ${number}`, coil: number, recordedAt: later(SIGNED, 4 * index),
  ...(number === 'LM-09'
    ? {
      decision: 'accept-under-concession', grounds: 'Head thin at the edge, 4.856 mm: inside the guard band of the limit; the head is cropped by 600 mm.',
      concessionLimit: 'Not below 500 m measured depth in the outer wall',
    }
    : { decision: 'accept', grounds: 'Values conform; papers verified by second keying.', concessionLimit: null }),
}));

/** LM-07 came without its certificate: it may be used all the same, within limits. */
const permit = entered('rasmus', 'deviation-permits', 'permit for LM-07', {
  observedAt: '2026-02-19T08:20:00Z', coilId: '@LM-07', forStringId: '@string 2', validUntil: '2026-03-31T22:00:00Z',
  departure: 'No certificate came with it. Tag and stencil show heat H40718, which is certified by TS-2026-00433; thickness and hardness were measured here.',
  limit: 'Inner wall only at the end of the string; the certificate is asked for at the steelmaker',
});

/** What was keyed, read and decided from the delivery on. */
export const DELIVERY: readonly Step[] = [...keyings, ...receipts, ...checks, ...decisions, permit];
