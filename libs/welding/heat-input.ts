/**
 * Energy per length of weld. From one current, voltage and speed the methods give figures that differ by up to 40 %, so
 * each figure names its own: ISO 15614-1:2017 8.4.7 takes arc energy or heat input, and the record must say which.
 * Figures are exact and not rounded.
 *
 * Current and voltage are means over the pass. With a controlled waveform, such as a pulsed arc, their product is not the
 * mean power; ISO/TR 18491 and QW-409.1(c) then take instantaneous energy or power (from memory), and none of this holds.
 */
import { decimal, over, ratio } from '#libs/exact';
import type { UnitName } from '#libs/units';
import { energyPerLength, type Factor, type HeatInput } from './energy-per-length.js';
import type { Quantity } from './quantity.js';
import { PROCESSES_WITH_EFFICIENCY, thermalEfficiency } from './thermal-efficiency.js';

/** Means over the pass; null where nobody reported one. */
export interface ArcReadings {
  readonly voltage: Quantity | null;
  readonly current: Quantity | null;
  readonly travelSpeed: Quantity | null;
}

/** Means over the length in question; null where nobody reported one. */
export interface PowerReadings {
  readonly power: Quantity | null;
  readonly speed: Quantity | null;
}

const J_PER_KJ = 1000n;
const SECONDS_PER_MINUTE = 60n;

/** Arc energy E = U I / v (ISO/TR 18491): no efficiency. Throws RangeError when a unit is of another dimension. */
export function arcEnergy(weld: ArcReadings): HeatInput {
  return energyPerLength({
    method: 'arc-energy', what: 'Arc energy', formula: 'E = U I / (1000 v), in kJ/mm with V, A and mm/s', source: 'ISO/TR 18491',
    constant: ratio(1n, J_PER_KJ), factors: arcPower(weld), speed: travelSpeed(weld, 'v', 'mm/s'), given: [],
  });
}

/**
 * Heat input Q = k E (EN 1011-1, ISO/TR 17671-1), k the efficiency of the process with this number in ISO 4063.
 * Throws RangeError for a process without one, and as `arcEnergy` does.
 */
export function heatInputEn(weld: ArcReadings, process: string): HeatInput {
  const k = thermalEfficiency(process);
  if (k === null) throw new RangeError(noEfficiency(process));
  return energyPerLength({
    method: 'heat-input-en', what: 'Heat input by EN 1011-1', formula: 'Q = k U I / (1000 v), in kJ/mm with V, A and mm/s',
    source: 'EN 1011-1, ISO/TR 17671-1', constant: over(decimal(k), ratio(J_PER_KJ)), factors: arcPower(weld),
    speed: travelSpeed(weld, 'v', 'mm/s'),
    given: [{ name: 'process by ISO 4063', value: process }, { name: 'k, thermal efficiency', value: k }],
  });
}

/**
 * Heat input by ASME IX QW-409.1(a), H = 60 U I / S with S per minute. There is no efficiency in it: it is the quantity that
 * ISO/TR 18491 calls arc energy. Throws as `arcEnergy` does.
 */
export function heatInputAsme(weld: ArcReadings): HeatInput {
  return energyPerLength({
    method: 'heat-input-asme', what: 'Heat input by ASME IX QW-409.1(a)', formula: 'H = 60 U I / (1000 S), in kJ/mm with V, A and mm/min',
    source: 'ASME BPVC section IX, QW-409.1(a)', constant: ratio(SECONDS_PER_MINUTE, J_PER_KJ), factors: arcPower(weld),
    speed: travelSpeed(weld, 'S', 'mm/min'), given: [],
  });
}

/**
 * Linear energy P / v, mean power over speed, for processes without an arc, such as beam and high-frequency seam welding.
 * Our own name; no standard defines it. It is what the source gave where its power was read, of which an unknown part reaches
 * the weld: it compares welds of one line with each other, and is no heat input. Throws as `arcEnergy` does.
 */
export function linearEnergy({ power, speed }: PowerReadings): HeatInput {
  return energyPerLength({
    method: 'linear-energy', what: 'Linear energy', formula: 'P / v, in kJ/mm with kW and mm/s',
    source: 'mean power over speed; our own name, of no standard, and no heat input', constant: ratio(1n),
    factors: [{ symbol: 'P', name: 'power', quantity: power, unit: 'kW' }],
    speed: { symbol: 'v', name: 'speed', quantity: speed, unit: 'mm/s' }, given: [],
  });
}

function arcPower({ voltage, current }: ArcReadings): Factor[] {
  return [
    { symbol: 'U', name: 'voltage', quantity: voltage, unit: 'V' },
    { symbol: 'I', name: 'current', quantity: current, unit: 'A' },
  ];
}

function travelSpeed(weld: ArcReadings, symbol: string, unit: UnitName): Factor {
  return { symbol, name: 'travel speed', quantity: weld.travelSpeed, unit };
}

function noEfficiency(process: string): string {
  const known = PROCESSES_WITH_EFFICIENCY.join(', ');
  return `process ${process} of ISO 4063 has no thermal efficiency in EN 1011-1, and so no heat input by it; there is one for ${known}`;
}
