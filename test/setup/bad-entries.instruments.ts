import type { EntryKind } from './bad-entries.js';
import { agreement, atWrite, contradiction, EVERYWHERE, impossible, leadsNowhere, oneOf, outOfForm } from './entry-faults.js';

const AT = '2026-03-02T08:15:00Z';
const day = (nth: number): string => new Date(Date.UTC(2026, 0, 1 + nth)).toISOString().slice(0, 10);

const READINGS = ['5.021', '5.023', '4.981', '4.980', '5.020', '5.024', '4.979', '4.983'].map((value, index) => (
  { part: index % 4 < 2 ? 'P1' : 'P2', appraiser: index < 4 ? 'A' : 'B', trial: (index % 2) + 1, value }));

/** People, what they are qualified for, and what they measure with. */
export const INSTRUMENT_ENTRIES: readonly EntryKind[] = [
  {
    path: 'weld-procedures',
    right: (_, nth) => ({
      observedAt: AT, number: `WP-X${nth}`, revision: 1, title: 'Bias splice', purpose: 'splice', process: '135', effectiveFrom: '2025-06-01',
      ranges: [{ variable: 'current', min: '180', max: '220', unit: 'A' }, { variable: 'voltage', min: '22', max: '26', unit: 'V' }],
      lists: [{ choice: 'material', allowed: ['S420MC'] }],
      test: { number: 'PQR-18', standard: 'ISO 15614-1', testedOn: '2025-05-12', examiner: 'Chamber' },
    }),
    faults: [
      ...EVERYWHERE,
      outOfForm('number', ' ', '', 7), outOfForm('revision', 0, -1, 1.5, '1', 1000), outOfForm('purpose', 'butt', 'Splice'),
      outOfForm('effectiveFrom', '2025-02-30', '2025-13-01', '01.06.2025', '2025-6-1'), outOfForm('test.testedOn', '2025-02-29', '12 May 2025'),
      outOfForm('ranges[0].min', '180,0', 'abc', '1e2', 180), outOfForm('ranges[1].variable', 'colour', 'Voltage', 'amps'),
      contradiction('a unit of something else', 'ranges[0].unit', oneOf('mm', 'V', 'degC', 'kJ/mm')),
      contradiction('a range reversed', 'ranges[1].max', oneOf('21.9', '-26', '0'), { touches: ['ranges[1].variable'] }),
      contradiction('a list of nothing', 'lists[0].allowed', () => []),
      contradiction('nothing limited', 'ranges', () => [], {
        touches: ['ranges[0].min', 'ranges[0].unit', 'ranges[1].variable', 'ranges[1].max', 'lists[0].allowed'], besides: () => ({ lists: [] }),
      }),
      atWrite('a revision taken', 'number', () => 'WP-X0', { touches: ['revision'], named: () => [{ field: 'revision', value: 1 }] }),
    ],
  },
  {
    path: 'qualifications',
    right: ({ personId }, nth) => ({
      observedAt: AT, personId, number: `Q-X${nth}`, standard: 'ISO 14732', subject: 'welding', methods: ['135'], level: 2,
      scope: [{ name: 'thickness', min: '3', max: '12', unit: 'mm' }, { name: 'product', values: ['strip', 'tube'] }],
      startsOn: '2025-06-02', expiresOn: '2028-06-01', confirmEveryMonths: 6, authorisationNeeded: false, examiner: 'Chamber',
    }),
    faults: [
      ...EVERYWHERE,
      outOfForm('level', 0, 9, -1, '2', 1.5), outOfForm('confirmEveryMonths', 0, -6, 200), outOfForm('startsOn', '2025-06-31', '2.6.2025', '2025-00-02'),
      outOfForm('scope[0].min', '3,0', '3 mm'), outOfForm('authorisationNeeded', 'no', 0), outOfForm('subject', 'weld', 'NDT'),
      contradiction('no method', 'methods', () => []),
      contradiction('expired before it began', 'expiresOn', oneOf('2025-06-01', '2024-02-29', '1999-12-31'), { touches: ['startsOn'] }),
      contradiction('a scope reversed', 'scope[0].max', oneOf('2.9', '-12', '0'), { touches: ['scope[0].min', 'scope[0].unit'] }),
      contradiction('a unit that is none', 'scope[0].unit', oneOf('furlong', 'millimetres', null), { touches: ['scope[0].max'] }),
      contradiction('a variable limited twice', 'scope[1].name', oneOf('method', 'level', 'thickness')),
      contradiction('both a list and a range', 'scope[1].min', () => '1', { named: () => [{ field: 'scope[1].values', value: ['strip', 'tube'] }] }),
      ...leadsNowhere('personId', []),
      atWrite('a number taken', 'number', () => 'Q-X0', { touches: ['personId'] }),
    ],
  },
  {
    path: 'qualification-proofs',
    right: ({ personId, qualificationId }) => ({ observedAt: AT, personId, qualificationId, proof: 'confirmation', onDay: '2025-12-01', givenBy: 'Coordinator' }),
    faults: [
      ...EVERYWHERE,
      outOfForm('onDay', '2025-11-31', '2025-12-01T08:00:00Z', 'yesterday'), outOfForm('proof', 'exam', 'vision test'), outOfForm('givenBy', '', '   '),
      contradiction('no qualification', 'qualificationId', () => null),
      contradiction('a last day of a confirmation', 'untilDay', oneOf('2026-12-01', '2025-12-01'), { touches: ['proof', 'onDay'] }),
      contradiction('a reason for no withdrawal', 'reasonGiven', () => 'Left the trade', { touches: ['proof'] }),
      contradiction('an authorisation that ends before it begins', 'untilDay', oneOf('2025-11-30', '2020-01-01'), { touches: ['proof', 'onDay'], besides: () => ({ proof: 'authorisation' }) }),
      contradiction('a withdrawal without a reason', 'reasonGiven', () => null, { touches: ['proof'], besides: () => ({ proof: 'withdrawal' }) }),
      ...leadsNowhere('personId', []), ...leadsNowhere('qualificationId', ['voidQualificationId']),
      agreement("another person's qualification", 'qualificationId', ({ matesQualificationId }) => matesQualificationId, { touches: ['personId'] }),
      atWrite('withdrawn twice', 'qualificationId', ({ withdrawnQualificationId }) => withdrawnQualificationId, {
        touches: ['proof', 'reasonGiven', 'untilDay', 'personId'], besides: () => ({ proof: 'withdrawal', reasonGiven: 'Left the trade' }),
      }),
    ],
  },
  {
    path: 'instruments',
    right: (_, nth) => ({
      observedAt: AT, number: `MI-X${nth}`, kind: 'gauge', name: 'Micrometer', measures: ['thickness'], unit: 'mm', rangeMin: '0', rangeMax: '25', resolution: '0.001',
    }),
    faults: [
      ...EVERYWHERE,
      outOfForm('resolution', '0', '-0.001', '0,001', 0.001), outOfForm('kind', 'micrometer', 'Gauge'), outOfForm('measures', 'thickness', [' '], null), outOfForm('rangeMin', '1e3', '0 mm', '--1'),
      contradiction('a range reversed', 'rangeMax', oneOf('0', '-5', '-0.001'), { touches: ['rangeMin'] }),
      atWrite('a number taken', 'number', oneOf('MI-X0', 'mi-x0')),
    ],
  },
  {
    path: 'calibrations',
    right: ({ gaugeId, standardId }, nth) => ({
      observedAt: `${day(nth)}T08:15:00Z`, instrumentId: gaugeId, referenceInstrumentId: standardId, certificateNumber: `CAL-${nth}`, laboratory: 'Measuring room',
      asFound: [{ point: '5.00 mm', deviation: '0.003', min: '-0.005', max: '0.005', unit: 'mm', expandedU: '0.001' }],
      asLeft: [{ point: '5.00 mm', deviation: '0.001', min: '-0.005', max: '0.005', unit: 'mm' }],
      decisionRule: 'simple-acceptance', guardFactor: '1', dueOn: '2099-01-31',
    }),
    faults: [
      ...EVERYWHERE,
      outOfForm('guardFactor', '-1', '6', '1,0'), outOfForm('dueOn', '2027-02-29', '31.01.2027'), outOfForm('asFound[0].min', '-0,005', ''), outOfForm('asFound[0].expandedU', '-0.001', '±0.001'),
      outOfForm('decisionRule', 'accepted', 'simple'),
      impossible('digits that are none, as found', 'asFound[0].deviation', oneOf('0,003', 'n/a', '0.00 3', '+0.003', '.003')),
      impossible('digits that are none, as left', 'asLeft[0].deviation', oneOf('0,001', '--', '1e-3', '0.001 mm')),
      contradiction('neither as found nor as left', 'asFound', () => null, {
        touches: ['asFound[0].min', 'asFound[0].expandedU', 'asFound[0].deviation', 'asLeft[0].deviation', 'asLeft[0].max', 'asFound[0].max'], besides: () => ({ asLeft: null }),
      }),
      contradiction('held against itself', 'referenceInstrumentId', ({ gaugeId }) => gaugeId, { touches: ['instrumentId'] }),
      contradiction('a tolerance reversed', 'asLeft[0].max', oneOf('-0.005', '-0.006', '-1')),
      contradiction('a tolerance of nothing', 'asFound[0].max', oneOf('-0.005', '-5'), { touches: ['asFound[0].min'] }),
      ...leadsNowhere('instrumentId', ['voidGaugeId']), ...leadsNowhere('referenceInstrumentId', ['spliceId']),
      atWrite('an instant taken', 'observedAt', () => `${day(0)}T08:15:00Z`, { touches: ['instrumentId'] }),
    ],
  },
  {
    path: 'gauge-studies',
    right: ({ gaugeId }) => ({ observedAt: AT, instrumentId: gaugeId, characteristic: 'wall thickness', unit: 'mm', tolerance: '0.65', readings: READINGS }),
    faults: [
      ...EVERYWHERE,
      outOfForm('tolerance', '0', '-0.65', '0,65'), outOfForm('readings[0].value', '5,021', '5.021 mm', null), outOfForm('readings[1].trial', 0, -1, 101, '2'), outOfForm('unit', '', ' '),
      contradiction('a reading missing', 'readings', () => READINGS.slice(1), { touches: ['readings[0].value', 'readings[1].trial'], named: () => [{ field: 'readings', value: '7 readings' }] }),
      contradiction('a reading twice', 'readings', () => [READINGS[1], ...READINGS.slice(1)], { touches: ['readings[0].value', 'readings[1].trial'], named: () => [{ field: 'readings', value: '8 readings' }] }),
      ...leadsNowhere('instrumentId', ['voidGaugeId']),
    ],
  },
];
