import { entered, later, type Step } from './step.js';

const ON_PAPER = '2026-02-16T08:00:00Z';

/** Along-hole depth in m, inclination and azimuth in °. It rises between 70 and 120 m: there one vertical depth is met three times. */
const SURVEY: readonly (readonly [string, string, string])[] = [
  ['0.00', '80.00', '41.30'], ['30.00', '84.10', '41.20'], ['60.00', '88.90', '41.10'], ['80.00', '92.00', '41.00'],
  ['110.00', '92.20', '40.90'], ['140.00', '86.40', '40.90'], ['180.00', '78.10', '40.70'], ['240.00', '69.30', '40.40'],
  ['300.00', '60.20', '40.10'], ['360.00', '51.50', '39.80'], ['420.00', '44.00', '39.60'], ['480.00', '38.70', '39.50'],
  ['540.00', '35.60', '39.40'], ['620.00', '34.20', '39.40'],
];

/** By its days qualifications and calibrations run out: midnight there is 23:00 UTC. */
const TIME_ZONE = 'Etc/GMT-1';

const STRING = {
  outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', diameterRatio: '1.14',
  diameterRatioU: '0.010',
};

/** The two wells, the string of each, and the path of the second hole. */
export const WELLS: readonly Step[] = [
  entered('rasmus', 'wells', 'well 1', {
    observedAt: ON_PAPER, name: 'Lindmoor Geothermal 1', datum: 'Top of the guide frame, 1.20 m above ground',
    timeZone: TIME_ZONE, note: 'Trial hole beside the second well.',
  }),
  entered('rasmus', 'wells', 'well 2', {
    observedAt: ON_PAPER, name: 'Lindmoor Geothermal 2', datum: 'Top of the guide frame, 1.20 m above ground', timeZone: TIME_ZONE,
    note: 'Deviated heat well.',
  }),
  entered('rasmus', 'casing-strings', 'string 1', {
    observedAt: later(ON_PAPER, 10), wellId: '@well 1', name: 'Lindmoor 1 guide string', footageLimitMm: 400_000, ...STRING,
    note: 'Short trial of the fold; one coil.',
  }),
  entered('rasmus', 'casing-strings', 'string 2', {
    observedAt: later(ON_PAPER, 12), wellId: '@well 2', name: 'Lindmoor 2 main string', footageLimitMm: 4_000_000, ...STRING,
    note: 'λ and κ from the trial of the fold in Lindmoor Geothermal 1.',
  }),
  entered('rasmus', 'surveys', 'survey 2', {
    observedAt: '2026-02-27T15:30:00Z', wellId: '@well 2', tool: 'Gyro, multishot', note: 'Grid north.',
    stations: SURVEY.map(([mdM, inclinationDeg, azimuthDeg]) => ({ mdM, inclinationDeg, azimuthDeg })),
  }),
];
