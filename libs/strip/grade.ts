import { compare, decimal } from '#libs/exact';
import type { StripUnit } from './characteristic.js';
import type { Analysis } from './paper.js';

/** What a standard asks of a grade: only values that could be read in a source, so that a grade may be incomplete. */
export interface Grade {
  readonly standard: string;
  /** Null where the source does not say which. */
  readonly edition: string | null;
  readonly grade: string;
  /** Material number of EN 10027-2; null where the source gives none. */
  readonly number: string | null;
  readonly source: string;
  /** Smallest mandrel of the 180° bend test in thicknesses of the strip, decimal text; null where the source gives none. */
  readonly bendMandrelPerThickness: string | null;
  readonly lines: readonly GradeLine[];
}

/** One characteristic's limits, both inclusive, decimal text; null where there is no limit on that side. */
export interface GradeLine {
  /** Code of a characteristic. */
  readonly characteristic: string;
  /** Null where it is no chemistry, or where the source does not say which analysis it speaks of: then it is both. */
  readonly analysis: Analysis | null;
  readonly min: string | null;
  readonly max: string | null;
  readonly unit: StripUnit;
  readonly note?: string;
  /** The nominal thicknesses the line speaks of; all of them when absent. */
  readonly thicknessMm?: GradeThickness;
}

/** `min` and `max` belong to the range, `below` does not. */
export interface GradeThickness {
  readonly min?: string;
  readonly max?: string;
  readonly below?: string;
}

/** Whether the line speaks of strip of this nominal thickness. Throws SyntaxError on what is no plain decimal. */
export function appliesToThickness({ thicknessMm }: GradeLine, nominalMm: string): boolean {
  const nominal = decimal(nominalMm);
  const { min, max, below } = thicknessMm ?? {};
  return (
    (min === undefined || compare(nominal, decimal(min)) >= 0) &&
    (max === undefined || compare(nominal, decimal(max)) <= 0) &&
    (below === undefined || compare(nominal, decimal(below)) < 0)
  );
}
