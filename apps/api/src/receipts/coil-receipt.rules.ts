import { compare, decimal, minus, ratio, times, type Ratio } from '#libs/exact';
import { likeNumber, slipOf } from '#libs/strip';
import type { Finding } from '../records/plausibility.js';
import type { CoilReceiptInput } from './coil-receipt.dto.js';

/** What of a receipt its rules look at. */
export interface ReceiptFigures {
  readonly occasion: 'delivery' | 'back-from-line';
  readonly tagNumber: string;
  readonly tagHeatNumber: string | null;
  readonly weighedMassKg: string | null;
}

/** What the coil's own record says. */
export interface CoilOnRecord {
  readonly number: string;
  readonly heatNumber: string;
  readonly massKg: string;
}

/** Masses of one coil usually agree within 1 % of the one on record. Common practice, no published source. */
export const MASS_TOLERANCE = decimal('0.01');

/** Whether a mass lies further from the one on record than is usual, to either side; both in one unit. */
export function isFarFromRecorded(mass: Ratio, recorded: Ratio): boolean {
  const apart = minus(mass, recorded);
  const most = times(MASS_TOLERANCE, recorded);
  return compare(apart, most) > 0 || compare(minus(ratio(0n), apart), most) > 0;
}

/** The first thing in a receipt that contradicts another, or null. */
export function refuseContradiction(input: CoilReceiptInput): { field: string; value: unknown; limit: string } | null {
  const { occasion, restLengthMm, condition, damage, boreMm, outerDiameterMm } = input;
  if (occasion === 'back-from-line' && restLengthMm == null) {
    return { field: 'restLengthMm', value: null, limit: 'the length that is left, for a coil back from the line' };
  }
  if (occasion === 'delivery' && restLengthMm != null) {
    return { field: 'restLengthMm', value: restLengthMm, limit: 'only for a coil back from the line' };
  }
  if (condition !== 'sound' && damage == null) return { field: 'damage', value: null, limit: `what is wrong, for a coil that is ${condition}` };
  if ((boreMm == null) !== (outerDiameterMm == null)) {
    return { field: boreMm == null ? 'boreMm' : 'outerDiameterMm', value: null, limit: 'bore and outer diameter together, or neither' };
  }
  if (boreMm != null && outerDiameterMm != null && Number(boreMm) >= Number(outerDiameterMm)) {
    return { field: 'outerDiameterMm', value: outerDiameterMm, limit: `more than the ${boreMm} mm of the bore` };
  }
  return null;
}

/**
 * What is worth a question about a receipt: a tag that names another coil or heat than the record (a near match is told
 * as one; nothing is merged), and a mass far from the certified one, with the unit or decimal slip it looks like.
 */
export function receiptFindings(receipt: ReceiptFigures, coil: CoilOnRecord): Finding[] {
  const { tagNumber, tagHeatNumber } = receipt;
  return [
    ...numberFinding('tagNumber', tagNumber, coil.number, 'coil'),
    ...(tagHeatNumber === null ? [] : numberFinding('tagHeatNumber', tagHeatNumber, coil.heatNumber, 'heat')),
    ...massFindings(receipt, coil.massKg),
  ];
}

function numberFinding(field: string, read: string, recorded: string, what: string): Finding[] {
  if (read === recorded) return [];
  const near = likeNumber(read, recorded);
  const limit = near.alike
    ? `usually ${recorded}, the number of the ${what}: nearly the same (${near.because})`
    : `usually ${recorded}, the number of the ${what}: this tag names another ${what}`;
  return [{ tier: 'implausible', field, value: read, limit }];
}

function massFindings({ occasion, weighedMassKg }: ReceiptFigures, massKg: string): Finding[] {
  if (weighedMassKg === null || occasion !== 'delivery') return [];
  if (!isFarFromRecorded(decimal(weighedMassKg), decimal(massKg))) return [];
  const slip = slipOf(decimal(weighedMassKg), decimal(massKg));
  const limit = `usually within 1 % of the ${massKg} kg on record${slip === null ? '' : `; it looks like ${slip.because}`}`;
  return [{ tier: 'implausible', field: 'weighedMassKg', value: weighedMassKg, limit }];
}
