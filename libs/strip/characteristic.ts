/**
 * What a mill certificate, a specification or an incoming check says of strip: each characteristic by its code, which is
 * the symbol its standard uses. Yield strengths are different quantities, and so are elongations on different gauge
 * lengths and hardness scales: those of one family are never held against each other's limits.
 */
export interface Characteristic {
  readonly code: string;
  readonly kind: CharacteristicKind;
  readonly name: string;
  /** Characteristics that people confuse and that are not comparable; null where there is no such danger. */
  readonly family: 'yield' | 'elongation' | 'hardness' | null;
  /** Units a value may be printed in, the usual one first. A hardness scale is its own unit. */
  readonly units: readonly StripUnit[];
  /** Outside these a value is refused as impossible; in the first unit. Common practice, no published source. */
  readonly possible: Bounds;
  /** Outside these a value is asked about once; in the first unit. Common practice, no published source. */
  readonly usual: Bounds | null;
}

export type CharacteristicKind = 'chemistry' | 'carbon-equivalent' | 'tensile' | 'hardness' | 'impact' | 'dimension';

export interface Bounds {
  readonly min: number;
  readonly max: number;
}

export const STRIP_UNITS = [
  '%', 'ppm', '1', 'MPa', 'N/mm2', 'ksi', 'psi', 'mm', 'in', 'm', 'ft', 'kg', 't', 'lb', 'J', 'ft.lbf',
  'HV5', 'HV10', 'HV30', 'HBW', 'HRC', 'HRBW',
] as const;
export type StripUnit = (typeof STRIP_UNITS)[number];

const MASS_FRACTION: readonly StripUnit[] = ['%', 'ppm'];
const STRESS: readonly StripUnit[] = ['MPa', 'N/mm2', 'ksi', 'psi'];
const SMALL_LENGTH: readonly StripUnit[] = ['mm', 'in'];

const bounds = (min: number, max: number): Bounds => ({ min, max });

function element(code: string, name: string, possibleMax: number, usualMax: number | null = null): Characteristic {
  const usual = usualMax === null ? null : bounds(0, usualMax);
  return { code, kind: 'chemistry', name, family: null, units: MASS_FRACTION, possible: bounds(0, possibleMax), usual };
}

function tensile(
  code: string, name: string, family: Characteristic['family'], units: readonly StripUnit[], possible: Bounds, usual: Bounds | null,
): Characteristic {
  return { code, kind: 'tensile', name, family, units, possible, usual };
}

const strength = (code: string, name: string): Characteristic =>
  tensile(code, name, 'yield', STRESS, bounds(100, 2000), bounds(200, 900));
const elongation = (code: string, name: string): Characteristic =>
  tensile(code, name, 'elongation', ['%'], bounds(0, 90), bounds(8, 55));

function hardness(code: StripUnit, name: string, possible: Bounds, usual: Bounds): Characteristic {
  return { code, kind: 'hardness', name, family: 'hardness', units: [code], possible, usual };
}

function equivalent(code: string, name: string): Characteristic {
  return { code, kind: 'carbon-equivalent', name, family: null, units: ['%'], possible: bounds(0, 1.5), usual: bounds(0, 0.6) };
}

function dimension(code: string, name: string, units: readonly StripUnit[], possible: Bounds): Characteristic {
  return { code, kind: 'dimension', name, family: null, units, possible, usual: null };
}

/** Every characteristic, in the order in which papers list them. */
export const CHARACTERISTICS: readonly Characteristic[] = [
  dimension('thickness', 'strip thickness', SMALL_LENGTH, bounds(0.5, 30)),
  dimension('width', 'strip width', SMALL_LENGTH, bounds(20, 2500)),
  dimension('mass', 'coil mass', ['kg', 't', 'lb'], bounds(20, 45_000)),
  dimension('length', 'strip length', ['m', 'mm', 'ft'], bounds(1, 100_000)),
  dimension('camber', 'edge camber over the stated base length', SMALL_LENGTH, bounds(-100, 100)),
  dimension('crown', 'thickness at the centre less that near the edges', SMALL_LENGTH, bounds(-5, 5)),
  element('C', 'carbon', 1.5, 0.25),
  element('Si', 'silicon', 3),
  element('Mn', 'manganese', 3),
  element('P', 'phosphorus', 0.2, 0.035),
  element('S', 'sulphur', 0.2, 0.035),
  element('Al', 'aluminium, total', 1),
  element('Al(sol)', 'aluminium, acid-soluble', 1),
  element('Cr', 'chromium', 3),
  element('Mo', 'molybdenum', 3),
  element('Ni', 'nickel', 3),
  element('Cu', 'copper', 3),
  element('Nb', 'niobium', 1),
  element('V', 'vanadium', 1),
  element('Ti', 'titanium', 1),
  element('B', 'boron', 1),
  element('N', 'nitrogen', 1),
  element('Ca', 'calcium', 1),
  element('Sn', 'tin', 1),
  element('As', 'arsenic', 1),
  element('Nb+V', 'niobium and vanadium together', 2),
  element('Nb+V+Ti', 'niobium, vanadium and titanium together', 3),
  equivalent('CE(IIW)', 'carbon equivalent of the IIW'),
  equivalent('Pcm', 'carbon equivalent of Ito and Bessyo'),
  equivalent('CET', 'carbon equivalent CET'),
  strength('ReH', 'upper yield strength'),
  strength('ReL', 'lower yield strength'),
  strength('Rp0.2', 'proof strength, 0.2 % plastic extension'),
  strength('Rt0.5', 'proof strength, 0.5 % total extension'),
  strength('Rt0.65', 'proof strength, 0.65 % total extension'),
  strength('Rt0.7', 'proof strength, 0.7 % total extension'),
  tensile('Rm', 'tensile strength', null, STRESS, bounds(150, 2500), bounds(250, 1200)),
  tensile('Y/T', 'ratio of yield or proof strength to tensile strength', null, ['1', '%'], bounds(0.1, 1.05), bounds(0.4, 0.93)),
  elongation('A', 'elongation after fracture, gauge length 5.65 times the root of the section'),
  elongation('A50mm', 'elongation after fracture, gauge length 50 mm'),
  elongation('A80mm', 'elongation after fracture, gauge length 80 mm'),
  elongation('A2in', 'elongation after fracture, gauge length 2 in'),
  hardness('HV5', 'Vickers hardness, 5 kgf', bounds(50, 900), bounds(100, 250)),
  hardness('HV10', 'Vickers hardness, 10 kgf', bounds(50, 900), bounds(100, 250)),
  hardness('HV30', 'Vickers hardness, 30 kgf', bounds(50, 900), bounds(100, 250)),
  hardness('HBW', 'Brinell hardness', bounds(50, 650), bounds(95, 240)),
  hardness('HRC', 'Rockwell hardness C', bounds(0, 70), bounds(20, 40)),
  hardness('HRBW', 'Rockwell hardness B', bounds(20, 120), bounds(50, 100)),
  { code: 'KV2', kind: 'impact', name: 'absorbed energy, V-notch, 2 mm striker', family: null, units: ['J', 'ft.lbf'], possible: bounds(0, 750), usual: bounds(10, 400) },
];

const BY_CODE: ReadonlyMap<string, Characteristic> = new Map(CHARACTERISTICS.map((one) => [one.code, one]));

/** The characteristic with this code, letter for letter, or null. */
export function findCharacteristic(code: string): Characteristic | null {
  return BY_CODE.get(code) ?? null;
}
