import type { CoilDecision, CoilLine, CoilSheetData, CoilTagData } from './coil-data.js';

export const COIL_LINK = 'https://records.example/coils/0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07';

/** A value that conforms. */
export function oneLine(overrides: Partial<CoilLine> = {}): CoilLine {
  return {
    characteristic: 'C (heat analysis)',
    limits: '≤ 0.12 %',
    printed: '0.085 %',
    verdict: 'conforms',
    margin: '0.035 %',
    rule: 'clause 5.1, simple acceptance',
    source: 'certificate TS-2031-00417 line 2',
    reason: null,
    ...overrides,
  };
}

/** A decision that stands. */
export function oneDecision(overrides: Partial<CoilDecision> = {}): CoilDecision {
  return {
    kind: 'acceptance under concession',
    meaning: 'I release this coil for use within the limit stated.',
    statement: 'Accepted under concession K-0003 for the inner wall only.',
    signedBy: 'M. Engineer',
    roles: ['materials engineer', 'QC lead'],
    signedAt: '2031-04-03T08:00:00Z',
    method: 'secret entered again',
    evaluationSha256: 'fedcba9876543210'.repeat(4),
    isStanding: true, isKnownOtherwise: false,
    reason: 'Width at the tail is below the limit over the last 2 m only.',
    ...overrides,
  };
}

const LINES: readonly CoilLine[] = [
  oneLine(),
  oneLine({ characteristic: 'Mn (heat analysis)', limits: '0.90 to 1.50 %', printed: '1.31 %', margin: '0.19 %' }),
  oneLine({ characteristic: 'N (product analysis)', limits: 'report only', printed: '<0.006 %', margin: null, rule: 'clause 5.1' }),
  oneLine({
    characteristic: 'Rt0.5', limits: '480 to 620 MPa', printed: '486 MPa', verdict: 'inside-guard-band', margin: '6 MPa',
    rule: 'clause 6.2, guarded acceptance', reason: 'above the limit by less than its expanded uncertainty, 8 MPa (k = 2)',
  }),
  oneLine({
    characteristic: 'A2in', limits: 'A ≥ 22 %', printed: '27 %', verdict: 'not-comparable', margin: null, rule: 'clause 6.2',
    reason: 'the limit is for another gauge length',
  }),
  oneLine({
    characteristic: 'KV2 at −20 °C', limits: '≥ 40 J', printed: '', verdict: 'not-reported', margin: null, rule: 'clause 6.4', source: '',
    reason: 'no paper and no check gives it',
  }),
  oneLine({
    characteristic: 'width', limits: '383.0 to 385.0 mm', printed: '382.6 mm', verdict: 'does-not-conform', margin: '−0.4 mm',
    rule: 'clause 4.2, simple acceptance', source: 'incoming check, tail, centre, MI-07', reason: 'below the lower limit by 0.4 mm',
  }),
];

/** One complete, valid coil sheet with a line of every verdict; the overrides replace whole fields. */
export function oneCoilSheet(overrides: Partial<CoilSheetData> = {}): CoilSheetData {
  return {
    identity: {
      number: 'C-014',
      heat: 'H40711',
      grade: 'S420MC',
      mill: 'Sample mill',
      order: 'PO-0231 line 4',
      specification: 'Strip specification 12, revision 3',
      certificates: ['TS-2031-00417 (3.1), verified by second keying'],
      widthMm: '383.0',
      thicknessMm: '5.00',
      massKg: '5330',
      lengths: [
        { basis: 'stated by the mill', lengthText: '355 m' },
        { basis: 'computed from mass', lengthText: '354.2 m ± 3.5 m' },
      ],
      receivedAt: '2031-04-01T09:30:00Z',
      place: 'bay 3, row 2',
      condition: 'strapping sound, no edge damage seen',
      version: 3,
      state: 'accepted under concession',
    },
    verdict: 'does-not-conform',
    verdictText: 'One value does not conform: width at the tail. Three more are in doubt.',
    lines: LINES,
    checks: [
      { severity: 'warning', what: 'mass against size', detail: 'Stated length and mass give 4.96 mm mean thickness; 5.00 mm is stated.' },
      { severity: 'note', what: 'heat number', detail: 'The tag writes H4O711 with a letter O; the certificate writes H40711.' },
    ],
    decisions: [
      oneDecision({
        kind: 'hold', statement: 'Held until the tail is measured again.', meaning: 'I place this coil on hold.', isStanding: false, isKnownOtherwise: false, reason: null,
        signedBy: 'R. Inspector', roles: ['incoming inspector'], signedAt: '2031-04-02T10:11:12.123456Z',
      }),
      oneDecision(),
    ],
    permits: [
      {
        label: 'K-0003', reason: 'Width at the tail', approvedBy: 'D. Authority', approvedAt: '2031-04-03T07:45:00Z',
        limit: 'this coil, inner wall, last 2 m cropped', scope: 'For string S-1, until 2031-06-01 00:00:00 UTC.',
      },
    ],
    roundingText: 'Values are judged as printed, without rounding.',
    decisionText: 'Simple acceptance, except tensile values: guard band equal to the expanded uncertainty (k = 2).',
    fingerprintSha256: '0123456789abcdef'.repeat(4),
    dataCutOff: '2031-04-05T00:00:00Z',
    generatedAt: '2031-04-05T07:08:09Z',
    link: COIL_LINK,
    ...overrides,
  };
}

/** One valid coil tag. */
export function oneCoilTag(overrides: Partial<CoilTagData> = {}): CoilTagData {
  return {
    number: 'C-014',
    heat: 'H40711',
    grade: 'S420MC',
    size: '383.0 × 5.00 mm',
    mass: '5,330 kg',
    length: '354.2 m ± 3.5 m',
    order: 'PO-0231 line 4',
    specification: 'Strip specification 12, revision 3',
    state: 'HOLD',
    stateSince: '2031-04-02T10:11:12.123456Z', isKnownOtherwise: false,
    link: COIL_LINK,
    printedAt: '2031-04-05T07:08:09Z',
    version: 3,
    ...overrides,
  };
}
