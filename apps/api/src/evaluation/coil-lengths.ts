import { parseReading } from '#libs/conformity';
import { toNumber } from '#libs/exact';
import { agreement, coilLengthFromDiameters, coilLengthFromMass, type CoilLength, type LengthInput, type Measured } from '#libs/strip';
import { convert, isUnitName } from '#libs/units';
import type { CoilKnowledge } from './coil-knowledge.js';
import { refTo, warning, type CrossCheck } from './cross-check.js';

/** One way to the length of a coil's strip. */
export interface KnownLength {
  readonly basis: 'mass, width and thickness' | 'outer diameter and bore' | 'stated' | 'consumed and left over';
  readonly length: CoilLength;
}

/**
 * Standard uncertainties where a record states none, relative. Common practice, no published source: a thickness on paper
 * is good to 1 %, the mean of those measured here to 0.5 %, whatever the gauge, since strip varies between the places; a
 * mass to 0.2 %; a slit width to 0.1 %; a diameter by tape to 4 mm; the share of steel in a wound coil to 1 %; a length
 * stated by a slitter's counter, or of a rest by its turns, to 0.5 %.
 */
const U = { paperThickness: 0.01, measuredThickness: 0.005, mass: 0.002, width: 0.001, diameterMm: 4, fill: 0.01, stated: 0.005 } as const;
const STEEL_DENSITY_U = 0.002;
const STEEL_DENSITY_KG_PER_M3 = 7850;

type Known = Pick<CoilKnowledge, 'coil' | 'receipts' | 'checks' | 'segments'>;

/** The length of a coil by every way there is, each with its uncertainty. */
export function coilLengths({ coil, receipts, checks, segments }: Known): KnownLength[] {
  const thicknessMm = meanThickness(checks) ?? relative(Number(coil.thicknessMm), U.paperThickness);
  const delivery = receipts.find(({ occasion }) => occasion === 'delivery');
  const massKg = delivery?.weighedMassKg == null
    ? relative(Number(coil.massKg), U.mass)
    : { value: Number(delivery.weighedMassKg), standardU: Number(delivery.weighedMassUKg ?? Number(delivery.weighedMassKg) * U.mass) };
  const densityKgPerM3 = relative(STEEL_DENSITY_KG_PER_M3, STEEL_DENSITY_U);
  const lengths: KnownLength[] = [{
    basis: 'mass, width and thickness',
    length: coilLengthFromMass({ massKg, widthMm: relative(Number(coil.widthMm), U.width), thicknessMm, densityKgPerM3 }),
  }];
  if (delivery?.boreMm != null && delivery.outerDiameterMm !== null) {
    const standardU = Number(delivery.diameterUMm ?? U.diameterMm);
    const of = (text: string): Measured => ({ value: Number(text), standardU });
    lengths.push({
      basis: 'outer diameter and bore',
      length: coilLengthFromDiameters({
        outerDiameterMm: of(delivery.outerDiameterMm), boreMm: of(delivery.boreMm), thicknessMm, fill: relative(1 - U.fill, U.fill),
      }),
    });
  }
  if (coil.lengthMm !== null) lengths.push({ basis: 'stated', length: measured(coil.lengthMm, coil.lengthMm * U.stated) });
  return [...lengths, ...consumed(coil, segments, receipts)];
}

/** What the line took, cropped and left over; known only once the coil has run out, or its rest has come back. */
function consumed(coil: Known['coil'], segments: Known['segments'], receipts: Known['receipts']): KnownLength[] {
  const cutOffAt = Math.max(...segments.map(({ observedAt }) => Date.parse(observedAt)));
  const back = receipts.filter(({ occasion, observedAt }) => occasion === 'back-from-line' && Date.parse(observedAt) >= cutOffAt).at(-1);
  if (segments.length === 0 || (coil.cropMm === 0 && back === undefined)) return [];
  const restMm = back?.restLengthMm ?? coil.restMm;
  const stripMm = segments.reduce((sum, { stripSpan }) => sum + stripSpan.toMm - stripSpan.fromMm, 0);
  const uMm = Math.sqrt(segments.reduce((sum, { fromUMm, toUMm }) => sum + Number(fromUMm) ** 2 + Number(toUMm) ** 2, 0));
  return [{ basis: 'consumed and left over', length: measured(stripMm + coil.cropMm + restMm, Math.hypot(uMm, restMm * (back === undefined ? 0 : U.stated))) }];
}

/** Each pair of ways that does not agree within k = 2. */
export function lengthChecks(known: Known): CrossCheck[] {
  const lengths = coilLengths(known);
  return lengths.flatMap((one, index) => lengths.slice(index + 1).flatMap((other): CrossCheck[] => {
    const { differenceMm, uDifferenceMm, agrees } = agreement(one.length, other.length, sharedInputs(one, other));
    if (agrees) return [];
    const detail = `${lengthText(one)} by ${one.basis}, ${lengthText(other)} by ${other.basis}: they differ by `
      + `${metres(Math.abs(differenceMm))} m, more than the ±${metres(2 * uDifferenceMm)} m (k = 2) of the comparison`;
    return [warning('coil length', detail, refTo('coil', known.coil))];
  }));
}

const sharedInputs = (one: KnownLength, other: KnownLength): LengthInput[] =>
  one.basis === 'mass, width and thickness' && other.basis === 'outer diameter and bore' ? ['thickness'] : [];

/** What the last digit of a length counts: rounding to it is as much uncertainty. */
const SHOWN_MM = 100;

/** `354.2 m ± 7.1 m`, k = 2; never less than a digit shown. */
export const lengthText = ({ length }: KnownLength): string => `${metres(length.lengthMm)} m ± ${metres(Math.max(2 * length.standardUMm, SHOWN_MM))} m`;

const metres = (mm: number): string => (mm / 1000).toFixed(1);
const relative = (value: number, u: number): Measured => ({ value, standardU: value * u });
const measured = (lengthMm: number, standardUMm: number): CoilLength => ({ lengthMm, standardUMm, contributionsMm: new Map([['length', standardUMm]]) });

/** The mean of the thicknesses measured here, in mm; null when there are none. Readings of which only a bound is known are left out. */
function meanThickness(checks: Known['checks']): Measured | null {
  const readings = checks.filter(({ characteristic }) => characteristic === 'thickness').flatMap(({ unit, readings: taken }) =>
    taken.flatMap(({ printed }) => {
      const read = parseReading({ printed, unit, multiplier: '1', expandedU: null });
      if ('fault' in read || read.low === null || read.high === null || !isUnitName(unit)) return [];
      return [convert(toNumber(read.low), unit, 'mm')];
    }));
  if (readings.length === 0) return null;
  const mean = readings.reduce((sum, value) => sum + value, 0) / readings.length;
  return relative(mean, U.measuredThickness);
}
