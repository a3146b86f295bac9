import type { UnitName } from '#libs/units';
import type { HeatInputMethod } from './energy-per-length.js';

/**
 * What is set, measured or computed of a weld, by whatever process: each variable by its code. Which of them a weld has
 * depends on its process: a beam has no vee angle, a high-frequency seam no filler.
 */
export interface WeldVariable {
  readonly code: string;
  readonly kind: WeldVariableKind;
  readonly name: string;
  /** Units a value may be given in; the bounds are in the first. */
  readonly units: readonly UnitName[];
  /** Outside these, ends included, a value is refused as impossible: wrong type, unit or device. Never a specification. */
  readonly possible: Bounds;
  /** Outside these a value is asked about once; null where only the procedure's window says what is usual. */
  readonly usual: Bounds | null;
  /** Where the bounds come from; neither is a published source. */
  readonly basis: 'common practice' | 'our own choice';
}

export type WeldVariableKind = 'electrical' | 'speed' | 'forming' | 'temperature' | 'time' | 'gas' | 'energy' | 'dimension';

export interface Bounds {
  readonly min: number;
  readonly max: number;
}

const TRAVEL_SPEED: readonly UnitName[] = ['mm/min', 'mm/s', 'm/min', 'in/min'];
const LINE_SPEED: readonly UnitName[] = ['m/min', 'mm/s', 'mm/min', 'ft/min', 'in/min'];
const TEMPERATURE: readonly UnitName[] = ['degC', 'degF', 'K'];
const SMALL_LENGTH: readonly UnitName[] = ['mm', 'in'];
const ENERGY: readonly UnitName[] = ['kJ/mm', 'J/mm', 'kJ/in'];

const bounds = (min: number, max: number): Bounds => ({ min, max });

type Row = [code: string, kind: WeldVariableKind, name: string, units: readonly UnitName[], possible: Bounds, usual?: Bounds];

const from = (basis: WeldVariable['basis']) => (...[code, kind, name, units, possible, usual]: Row): WeldVariable =>
  ({ code, kind, name, units, possible, usual: usual ?? null, basis });
const practice = from('common practice');
const own = from('our own choice');
const energy = (code: HeatInputMethod, name: string): WeldVariable => own(code, 'energy', name, ENERGY, bounds(0, 100));

/** Every variable, in the order in which a weld's record lists them. */
export const WELD_VARIABLES: readonly WeldVariable[] = Object.freeze([
  practice('strip-thickness', 'dimension', 'strip thickness at the weld', SMALL_LENGTH, bounds(0.5, 30)),
  practice('splice-angle', 'dimension', 'angle of the weld to the strip edge, 90° for a square butt', ['deg'], bounds(10, 90), bounds(30, 90)),
  own('filler-diameter', 'dimension', 'diameter of the filler', SMALL_LENGTH, bounds(0.1, 20), bounds(0.6, 6.4)),
  practice('current', 'electrical', 'welding current, mean', ['A', 'kA'], bounds(0, 20_000)),
  practice('voltage', 'electrical', 'voltage, mean', ['V', 'kV'], bounds(0, 1000)),
  practice('power', 'electrical', 'power of the source, mean', ['kW', 'W'], bounds(0, 2000)),
  own('frequency', 'electrical', 'frequency of the source', ['kHz', 'Hz', 'MHz'], bounds(0, 3000)),
  own('travel-speed', 'speed', 'travel speed of the heat source along the weld', TRAVEL_SPEED, bounds(0, 250_000)),
  practice('line-speed', 'speed', 'speed of the strip past the weld point, negative in reverse', LINE_SPEED, bounds(-60, 250)),
  own('vee-angle', 'forming', 'angle of the vee in which the edges meet', ['deg'], bounds(0, 45)),
  own('squeeze', 'forming', 'squeeze: girth that the weld rolls take', SMALL_LENGTH, bounds(0, 30)),
  own('preheat-temperature', 'temperature', 'preheat temperature', TEMPERATURE, bounds(-60, 600)),
  own('interpass-temperature', 'temperature', 'interpass temperature', TEMPERATURE, bounds(-60, 600)),
  practice('weld-point-temperature', 'temperature', 'temperature at the weld point', TEMPERATURE, bounds(0, 2000)),
  practice('gas-flow', 'gas', 'flow of shielding gas', ['L/min', 'ft3/h'], bounds(0, 500)),
  energy('arc-energy', 'arc energy, no efficiency (ISO/TR 18491)'),
  energy('heat-input-en', 'heat input with the efficiency of the process (EN 1011-1)'),
  energy('heat-input-asme', 'heat input by ASME IX QW-409.1(a)'),
  energy('linear-energy', 'linear energy: mean power over speed, our own name'),
  practice('heat-treatment-temperature', 'temperature', 'heat treatment temperature', TEMPERATURE, bounds(-20, 1400)),
  own('heat-treatment-time', 'time', 'time at heat treatment temperature', ['min', 's', 'h'], bounds(0, 2880)),
]);

const BY_CODE: ReadonlyMap<string, WeldVariable> = new Map(WELD_VARIABLES.map((one) => [one.code, one]));

/** The variable with this code, letter for letter, or null. */
export function findWeldVariable(code: string): WeldVariable | null {
  return BY_CODE.get(code) ?? null;
}
