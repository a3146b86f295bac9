import { coilLengthMm } from '#libs/length';
import { outside, type Finding } from '../records/plausibility.js';

/** The figures of a coil that its rules look at: decimal text as read, lengths in whole mm. */
export interface CoilFigures {
  readonly widthMm: string;
  readonly thicknessMm: string;
  readonly massKg: string;
  readonly lengthMm: number | null;
  readonly cropMm: number;
  readonly restMm: number;
}

/** How far a stated length may lie from the one its mass gives. Common practice, no published source. */
const LENGTH_TOLERANCE = 0.05;

/**
 * What is worth a question about a coil: width, thickness and mass outside the usual range of strip for pipe (common
 * practice, no published source); a stated length more than 5 % from m / (ρ w t) with ρ = 7850 kg/m³; crop and rest
 * that are together longer than the coil.
 */
export function coilFindings(coil: CoilFigures): Finding[] {
  return [
    ...outside('implausible', 'widthMm', coil.widthMm, { min: 60, max: 1100, unit: 'mm' }),
    ...outside('implausible', 'thicknessMm', coil.thicknessMm, { min: 2, max: 10, unit: 'mm' }),
    ...outside('implausible', 'massKg', coil.massKg, { min: 1000, max: 30_000, unit: 'kg' }),
    ...lengthFindings(coil),
  ];
}

function lengthFindings({ widthMm, thicknessMm, massKg, lengthMm, cropMm, restMm }: CoilFigures): Finding[] {
  const fromMassMm = coilLengthMm(Number(massKg), Number(widthMm), Number(thicknessMm));
  const findings: Finding[] = [];
  if (lengthMm !== null && Math.abs(lengthMm - fromMassMm) > LENGTH_TOLERANCE * fromMassMm) {
    const limit = `usually within 5 % of the ${Math.round(fromMassMm)} mm that mass, width and thickness give`;
    findings.push({ tier: 'implausible', field: 'lengthMm', value: String(lengthMm), limit });
  }
  const wholeMm = lengthMm ?? Math.round(fromMassMm);
  if (cropMm + restMm > wholeMm) {
    const limit = `crop and rest together usually at most the ${wholeMm} mm of the coil`;
    const field = restMm > cropMm ? 'restMm' : 'cropMm';
    findings.push({ tier: 'implausible', field, value: String(Math.max(restMm, cropMm)), limit });
  }
  return findings;
}

/** What it means that the database refuses to have pipe made of a coil. */
export const NOT_ACCEPTED = { code: 'coil-not-accepted', limit: 'a coil that was accepted, or for which a deviation permit stands' } as const;
