import { compare, decimal, decimalText, exactText, ratio, times, type Ratio } from '#libs/exact';

/** A tube as specified or measured; decimal text, mm. */
export interface Tube {
  readonly outsideDiameterMm: string;
  readonly wallThicknessMm: string;
}

/** D and t of a tube, exactly. */
export interface ExactTube {
  readonly diameter: Ratio;
  readonly wall: Ratio;
}

/**
 * The tube's numbers. Throws SyntaxError unless both are plain decimals, RangeError unless both are over 0 and the wall is
 * less than half the diameter.
 */
export function exactTube({ outsideDiameterMm, wallThicknessMm }: Tube): ExactTube {
  const diameter = positive('outside diameter', outsideDiameterMm, 'mm');
  const wall = positive('wall thickness', wallThicknessMm, 'mm');
  if (compare(times(wall, ratio(2n)), diameter) >= 0) {
    throw new RangeError(`wall thickness ${wallThicknessMm} mm leaves no bore in an outside diameter of ${outsideDiameterMm} mm`);
  }
  return { diameter, wall };
}

/** A plain decimal over 0. Throws SyntaxError or RangeError that names it. */
export function positive(what: string, text: string, unit: string): Ratio {
  const value = decimal(text);
  if (compare(value, ratio(0n)) <= 0) throw new RangeError(`${what} must be over 0 ${unit}: ${text}`);
  return value;
}

/** The value in full where its decimal ends, else to `decimals` digits. */
export function textOf(value: Ratio, decimals: number): string {
  return exactText(value) ?? decimalText(value, decimals, 'half-even');
}
