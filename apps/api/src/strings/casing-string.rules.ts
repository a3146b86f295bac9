import type { FieldProblem } from '../http/problem.js';
import { outside, type Finding } from '../records/plausibility.js';

/** The figures of a string that its rules look at; lengths in mm, all as decimal text. */
export interface StringFigures {
  readonly outsideDiameterMm: string;
  readonly wallThicknessMm: string;
  readonly lengthRatio: string;
  readonly diameterRatio: string | null;
  readonly diameterRatioU: string | null;
}

/** What cannot be together, or null: a wall that fills the pipe, an uncertainty of a ratio that is not given. */
export function contradictionOf(string: StringFigures): FieldProblem | null {
  const { outsideDiameterMm, wallThicknessMm, diameterRatio, diameterRatioU } = string;
  if (2 * Number(wallThicknessMm) >= Number(outsideDiameterMm)) {
    return { field: 'wallThicknessMm', value: wallThicknessMm, limit: `below half the outside diameter of ${outsideDiameterMm} mm` };
  }
  if (diameterRatio === null && diameterRatioU !== null) {
    return { field: 'diameterRatioU', value: diameterRatioU, limit: 'absent where diameterRatio is absent' };
  }
  return null;
}

/** Ratios of the fold that one does not usually see. Bounds: common practice, no published source. */
export function stringFindings({ lengthRatio, diameterRatio }: StringFigures): Finding[] {
  return [
    ...outside('implausible', 'lengthRatio', lengthRatio, { min: 0.85, max: 1.15, unit: 'm per m' }),
    ...(diameterRatio === null
      ? []
      : outside('implausible', 'diameterRatio', diameterRatio, { min: 1.02, max: 1.4, unit: 'mm per mm' })),
  ];
}
