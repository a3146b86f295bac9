import type { Ratio } from '#libs/exact';
import { decimal, over, ratio, times } from '#libs/exact';

/** What a unit measures; only units of one dimension convert into each other. */
export type Dimension =
  | 'length'
  | 'area'
  | 'volume'
  | 'mass'
  | 'force'
  | 'pressure'
  | 'massPerLength'
  | 'forcePerLength'
  | 'density'
  | 'energy'
  | 'energyPerLength'
  | 'torque'
  | 'speed'
  | 'time'
  | 'volumeFlow'
  | 'power'
  | 'voltage'
  | 'current'
  | 'frequency'
  | 'angle'
  | 'temperature'
  | 'temperatureDifference'
  | 'fraction';

/**
 * A unit with its exact place in SI: a value `v` in it is `siPerUnit × v + siAtZero` in the SI unit of its dimension. Angles
 * are the exception: the degree stands in for the radian, which is no exact multiple of it.
 */
export interface Unit {
  readonly dimension: Dimension;
  readonly siPerUnit: Ratio;
  /** 0 for every unit but those of temperature, whose zeros differ. */
  readonly siAtZero: Ratio;
}

const ZERO = ratio(0n);
const ONE = ratio(1n);
const HUNDRED = ratio(100n);
const THOUSAND = ratio(1000n);
const MILLION = ratio(1_000_000n);
const MINUTE_S = ratio(60n);
const HOUR_S = ratio(3600n);

// Exact by definition. NIST SP 811 (2008), appendix B.8: inch, foot, mile; SI Brochure, table 8: minute and hour. From
// memory: the pound (yard and pound agreement, 1959), standard gravity (CGPM, 1901), the US survey foot (SP 811 B.6), the
// international-table Btu and the thermochemical calorie, and the gallon of 231 cubic inches.
const INCH_M = decimal('0.0254');
const FOOT_M = times(ratio(12n), INCH_M);
const MILE_M = times(ratio(5280n), FOOT_M);
const SURVEY_FOOT_M = ratio(1200n, 3937n);
const POUND_KG = decimal('0.45359237');
const STANDARD_GRAVITY_M_PER_S2 = decimal('9.80665');
const BTU_IT_J = decimal('1055.05585262');
const CALORIE_TH_J = decimal('4.184');

const SQUARE_INCH_M2 = times(INCH_M, INCH_M);
const CUBIC_INCH_M3 = times(SQUARE_INCH_M2, INCH_M);
const CUBIC_FOOT_M3 = times(times(FOOT_M, FOOT_M), FOOT_M);
const GALLON_M3 = times(ratio(231n), CUBIC_INCH_M3);
const POUND_FORCE_N = times(POUND_KG, STANDARD_GRAVITY_M_PER_S2);
const PSI_PA = over(POUND_FORCE_N, SQUARE_INCH_M2);
const FOOT_POUND_FORCE_J = times(FOOT_M, POUND_FORCE_N);
const FAHRENHEIT_DEGREE_K = ratio(5n, 9n);

/**
 * Every unit by name. Factors are exact: those above, which are definitions, and products and quotients of them.
 * `lb` is the pound of mass and `lbf` the pound of force; `gal` is the US liquid gallon; `1` is a plain ratio. Hardness
 * scales are no units: one does not follow from another by a factor.
 */
export const UNITS = {
  m: scaled('length', ONE),
  mm: scaled('length', over(ONE, THOUSAND)),
  km: scaled('length', THOUSAND),
  in: scaled('length', INCH_M),
  ft: scaled('length', FOOT_M),
  mi: scaled('length', MILE_M),
  'ft(US survey)': scaled('length', SURVEY_FOOT_M),

  m2: scaled('area', ONE),
  mm2: scaled('area', over(ONE, MILLION)),
  in2: scaled('area', SQUARE_INCH_M2),

  m3: scaled('volume', ONE),
  L: scaled('volume', over(ONE, THOUSAND)),
  in3: scaled('volume', CUBIC_INCH_M3),
  ft3: scaled('volume', CUBIC_FOOT_M3),
  gal: scaled('volume', GALLON_M3),
  bbl: scaled('volume', times(ratio(42n), GALLON_M3)),

  kg: scaled('mass', ONE),
  t: scaled('mass', THOUSAND),
  lb: scaled('mass', POUND_KG),

  N: scaled('force', ONE),
  kN: scaled('force', THOUSAND),
  lbf: scaled('force', POUND_FORCE_N),
  klbf: scaled('force', times(THOUSAND, POUND_FORCE_N)),

  Pa: scaled('pressure', ONE),
  kPa: scaled('pressure', THOUSAND),
  MPa: scaled('pressure', MILLION),
  'N/mm2': scaled('pressure', MILLION),
  bar: scaled('pressure', ratio(100_000n)),
  psi: scaled('pressure', PSI_PA),
  ksi: scaled('pressure', times(THOUSAND, PSI_PA)),

  'kg/m': scaled('massPerLength', ONE),
  'lb/ft': scaled('massPerLength', over(POUND_KG, FOOT_M)),

  'N/m': scaled('forcePerLength', ONE),
  'lbf/ft': scaled('forcePerLength', over(POUND_FORCE_N, FOOT_M)),

  'kg/m3': scaled('density', ONE),
  'lb/ft3': scaled('density', over(POUND_KG, CUBIC_FOOT_M3)),
  'lb/gal': scaled('density', over(POUND_KG, GALLON_M3)),

  J: scaled('energy', ONE),
  kJ: scaled('energy', THOUSAND),
  'ft.lbf': scaled('energy', FOOT_POUND_FORCE_J),
  'Btu(IT)': scaled('energy', BTU_IT_J),
  'cal(th)': scaled('energy', CALORIE_TH_J),

  'J/m': scaled('energyPerLength', ONE),
  'J/mm': scaled('energyPerLength', THOUSAND),
  'kJ/mm': scaled('energyPerLength', MILLION),
  'kJ/in': scaled('energyPerLength', over(THOUSAND, INCH_M)),

  'N.m': scaled('torque', ONE),
  'lbf.ft': scaled('torque', FOOT_POUND_FORCE_J),

  'm/s': scaled('speed', ONE),
  'm/min': scaled('speed', over(ONE, MINUTE_S)),
  'mm/s': scaled('speed', over(ONE, THOUSAND)),
  'mm/min': scaled('speed', over(ONE, times(THOUSAND, MINUTE_S))),
  'ft/min': scaled('speed', over(FOOT_M, MINUTE_S)),
  'in/min': scaled('speed', over(INCH_M, MINUTE_S)),

  s: scaled('time', ONE),
  min: scaled('time', MINUTE_S),
  h: scaled('time', HOUR_S),

  'm3/s': scaled('volumeFlow', ONE),
  'L/min': scaled('volumeFlow', over(ONE, times(THOUSAND, MINUTE_S))),
  'ft3/h': scaled('volumeFlow', over(CUBIC_FOOT_M3, HOUR_S)),

  W: scaled('power', ONE),
  kW: scaled('power', THOUSAND),

  V: scaled('voltage', ONE),
  kV: scaled('voltage', THOUSAND),

  A: scaled('current', ONE),
  kA: scaled('current', THOUSAND),

  Hz: scaled('frequency', ONE),
  kHz: scaled('frequency', THOUSAND),
  MHz: scaled('frequency', MILLION),

  deg: scaled('angle', ONE),

  K: scaled('temperature', ONE),
  degC: { dimension: 'temperature', siPerUnit: ONE, siAtZero: decimal('273.15') },
  degF: {
    dimension: 'temperature',
    siPerUnit: FAHRENHEIT_DEGREE_K,
    siAtZero: times(decimal('459.67'), FAHRENHEIT_DEGREE_K),
  },

  deltaK: scaled('temperatureDifference', ONE),
  deltaDegC: scaled('temperatureDifference', ONE),
  deltaDegF: scaled('temperatureDifference', FAHRENHEIT_DEGREE_K),

  '%': scaled('fraction', over(ONE, HUNDRED)),
  ppm: scaled('fraction', over(ONE, MILLION)),
  '1': scaled('fraction', ONE),
} as const satisfies Record<string, Unit>;

export type UnitName = keyof typeof UNITS;

/** The names of all units, in the order of the table, but for '1', which comes first. */
export const UNIT_NAMES = Object.freeze(Object.keys(UNITS)) as readonly UnitName[];

/** Whether the text names a unit of the table, letter for letter. */
export function isUnitName(text: string): text is UnitName {
  return Object.hasOwn(UNITS, text);
}

function scaled(dimension: Dimension, siPerUnit: Ratio): Unit {
  return { dimension, siPerUnit, siAtZero: ZERO };
}
