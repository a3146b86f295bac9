import { entered, later, type Fields, type Step } from './step.js';

/** What was on paper before the first weld: procedures with the tests that qualified them, and who was qualified for what. */
const ON_PAPER = '2026-02-26T09:00:00Z';
const NO_VARIABLES: readonly Fields[] = [];
const CHAMBER = 'Examining body of the trade chamber';

const range = (variable: string, min: string, max: string, unit: string): Fields => ({ variable, min, max, unit });
const MATERIAL = { choice: 'material', allowed: ['S420MC'] };
const UNTREATED = { choice: 'heat-treatment', allowed: ['no'] };

/** The gas and filler that the two arc procedures list; welds choose them letter for letter. */
export const MAG = { filler: 'G 42 4 M21 3Si1', gas: 'ISO 14175-M21' } as const;
export const TIG = { filler: 'W 42 5 W3Si1', gas: 'ISO 14175-I1' } as const;

const PROCEDURES: readonly (Fields & { number: string })[] = [
  {
    number: 'WP-1', title: 'Splice of 5 mm strip at 60 degrees, left hand', purpose: 'splice', process: '135', effectiveFrom: '2025-09-01',
    ranges: [
      range('current', '190', '230', 'A'), range('voltage', '22', '26', 'V'), range('travel-speed', '280', '330', 'mm/min'), range('strip-thickness', '4', '6', 'mm'),
    ],
    lists: [MATERIAL, UNTREATED, { choice: 'filler-class', allowed: [MAG.filler] }, { choice: 'gas', allowed: [MAG.gas] }, { choice: 'hand', allowed: ['left'] }],
    test: { number: 'PQR-11', standard: 'ISO 15614-1', testedOn: '2025-06-17', examiner: CHAMBER },
  },
  {
    number: 'PW-2', title: 'Girth weld of 127 mm pipe, wall 5 mm, at the cutting bench', purpose: 're-join', process: '141', effectiveFrom: '2025-09-01',
    ranges: [range('current', '110', '150', 'A'), range('voltage', '10', '13', 'V'), range('travel-speed', '60', '120', 'mm/min'), range('strip-thickness', '4', '6', 'mm')],
    lists: [MATERIAL, UNTREATED, { choice: 'filler-class', allowed: [TIG.filler] }, { choice: 'gas', allowed: [TIG.gas] }],
    test: { number: 'PQR-12', standard: 'ISO 15614-1', testedOn: '2025-06-19', examiner: CHAMBER },
  },
  {
    number: 'WP-3', title: 'Seam of 127 mm pipe, wall 5 mm', purpose: 'seam', process: '521', effectiveFrom: '2025-10-01',
    ranges: [range('power', '4.8', '5.8', 'kW'), range('line-speed', '0.9', '1.4', 'm/min')], lists: [MATERIAL],
    test: { number: 'PQR-14', standard: 'ISO 15614-11', testedOn: '2025-08-05', examiner: CHAMBER },
  },
];

const procedures = PROCEDURES.map((procedure, index) =>
  entered('rasmus', 'weld-procedures', procedure.number, { observedAt: later(ON_PAPER, 4 * index), revision: 1, heatTreatment: 'None', ...procedure }));

interface Qualified {
  readonly number: string;
  readonly person: string;
  readonly fields: Fields;
  /** Days on which work in its scope was confirmed. */
  readonly confirmedOn: readonly string[];
}

const welding = (standard: string, methods: readonly string[], scope: readonly Fields[]): Fields => ({
  standard, subject: 'welding', methods, level: null, scope, startsOn: '2025-03-11', expiresOn: '2028-03-10', confirmEveryMonths: 6,
  lateConfirmation: 'revives', visionEveryMonths: null, authorisationNeeded: false, examiner: CHAMBER,
});
const testing = (methods: readonly string[], startsOn: string, expiresOn: string): Fields => ({
  standard: 'ISO 9712', subject: 'non-destructive-testing', methods, level: 2, scope: NO_VARIABLES, startsOn, expiresOn, visionEveryMonths: 12,
  authorisationNeeded: false, examiner: CHAMBER,
});
const ARC_SCOPE: readonly Fields[] = [{ name: 'strip-thickness', min: '3', max: '10', unit: 'mm' }, { name: 'material', values: ['S420MC', 'S460MC'] }];

/** The last day of NDT-118 is the fifth of March, by the days of the site; nobody noticed. */
const LAPSED = 'NDT-118';

const QUALIFIED: readonly Qualified[] = [
  { number: 'WQ-31', person: '@jorun', fields: welding('ISO 9606-1', ['135'], ARC_SCOPE), confirmedOn: ['2025-09-08', '2026-02-20'] },
  { number: 'WQ-32', person: '@jorun', fields: welding('ISO 9606-1', ['141'], ARC_SCOPE), confirmedOn: ['2025-09-08', '2026-02-20'] },
  { number: 'OQ-7', person: '@teodor', fields: welding('ISO 14732', ['521'], NO_VARIABLES), confirmedOn: ['2025-09-08', '2026-02-20'] },
  { number: LAPSED, person: '@ilka', fields: testing(['RT', 'UT'], '2021-03-06', '2026-03-05'), confirmedOn: [] },
  { number: 'NDT-204', person: '@ilka', fields: testing(['VT'], '2023-04-01', '2028-03-31'), confirmedOn: [] },
  { number: 'NDT-131', person: '@piet', fields: testing(['VT', 'RT', 'UT', 'ET'], '2024-01-15', '2029-01-14'), confirmedOn: [] },
];

const qualifications = QUALIFIED.map(({ number, person, fields }, index) =>
  entered('rasmus', 'qualifications', number, { observedAt: later(ON_PAPER, 20 + 3 * index), personId: person, number, ...fields }));

const confirmations = QUALIFIED.flatMap(({ number, person, confirmedOn }) => confirmedOn.map((onDay) => ({ number, person, onDay })))
  .map(({ number, person, onDay }, index) => entered('rasmus', 'qualification-proofs', `confirmation of ${number}, ${onDay}`, {
    observedAt: later(ON_PAPER, 50 + 2 * index), personId: person, qualificationId: `@${number}`, proof: 'confirmation', onDay, givenBy: 'Welding coordinator',
  }));

/** A vision test holds for all qualifications of the person. */
const visionTests = [['@ilka', '2025-06-18'], ['@piet', '2025-07-02']].map(([person = '', onDay = ''], index) =>
  entered('rasmus', 'qualification-proofs', `vision test of ${person.slice(1)}`, {
    observedAt: later(ON_PAPER, 80 + 2 * index), personId: person, proof: 'vision-test', onDay, givenBy: 'Eye examination of the site doctor',
  }));

/** Procedures, qualifications and what keeps these valid. */
export const PROCEDURES_AND_PEOPLE: readonly Step[] = [...procedures, ...qualifications, ...confirmations, ...visionTests];
