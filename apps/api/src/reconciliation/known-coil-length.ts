import { coilLengthMm } from '#libs/length';

/** What a coil's record says of its size: decimal text as read, lengths in whole mm. */
export interface CoilSizes {
  readonly widthMm: string;
  readonly thicknessMm: string;
  readonly massKg: string;
  readonly lengthMm: number | null;
}

/** Strip length of a coil with its standard uncertainty, mm, and what it rests on. */
export interface KnownCoilLength {
  readonly mm: number;
  readonly uMm: number;
  readonly basis: 'as stated' | 'from its mass';
}

/** Relative standard uncertainty of a stated strip length (± 0.5 % with k = 2). Common practice, no published source. */
const STATED_RELATIVE_U = 0.0025;
/** Relative standard uncertainty of weighing a coil (± 1 % with k = 2). Common practice, no published source. */
const MASS_RELATIVE_U = 0.005;

/**
 * The length stated for a coil, or m / (ρ w t). From mass, u² of the weighing is joined by that of width and thickness
 * as read: half a last digit, rectangular (JCGM 100:2008, 4.3.7).
 */
export function knownCoilLength({ widthMm, thicknessMm, massKg, lengthMm }: CoilSizes): KnownCoilLength {
  if (lengthMm !== null) return { mm: lengthMm, uMm: STATED_RELATIVE_U * lengthMm, basis: 'as stated' };
  const mm = coilLengthMm(Number(massKg), Number(widthMm), Number(thicknessMm));
  const relativeU = Math.hypot(MASS_RELATIVE_U, readingRelativeU(widthMm), readingRelativeU(thicknessMm));
  return { mm, uMm: relativeU * mm, basis: 'from its mass' };
}

/** Half a last digit of decimal text, as a rectangular distribution, relative to the value. */
function readingRelativeU(text: string): number {
  const decimals = text.split('.')[1]?.length ?? 0;
  return 10 ** -decimals / Math.sqrt(12) / Number(text);
}
