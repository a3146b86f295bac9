import type { Finding } from '../records/plausibility.js';

/** A shoe does not rise; a fall of the depth by more than this is asked about (reversal, tag read again). */
export const RISE_MM = 1_000;
/** Common practice, no published source. */
export const RESIDUAL_MM = 20_000;

export interface TieFigures {
  /** Net length at the weld point, mm. */
  readonly weldNetMm: number;
  /** Net length of the material at the hang-off, mm. */
  readonly hangOffNetMm: number;
  readonly hangOffMdMm: number;
  /** Path distance from the weld point to the hang-off, mm. */
  readonly pathMm: number;
  /** Length ratio λ. */
  readonly lambda: number;
}

/** n(F) − [n_h + x + D (1 + 1/λ)] in mm: zero when the shoe is where the pipe made lets it be (length model, reconciliation). */
export function tieResidualMm(figures: TieFigures, shoeMdMm: number): number {
  const depthMm = shoeMdMm - figures.hangOffMdMm;
  return figures.weldNetMm - (figures.hangOffNetMm + figures.pathMm + depthMm * (1 + 1 / figures.lambda));
}

/** A shoe above where it was, and a depth that the pipe made does not reach or overruns. Null: not known. */
export function tieFindings(shoeMdMm: number, shoeBeforeMm: number | null, figures: TieFigures | null): Finding[] {
  const found = (limit: string): Finding => ({ tier: 'implausible', field: 'shoeMdMm', value: String(shoeMdMm), limit });
  const risen = shoeBeforeMm !== null && shoeMdMm < shoeBeforeMm - RISE_MM;
  const residualMm = figures === null ? 0 : Math.round(tieResidualMm(figures, shoeMdMm));
  return [
    ...(risen ? [found(`usually not more than 1 m above the ${shoeBeforeMm} mm of the tie before`)] : []),
    ...(Math.abs(residualMm) > RESIDUAL_MM
      ? [found(`usually within ${RESIDUAL_MM} mm of what the pipe made gives; the difference is ${residualMm} mm of pipe`)]
      : []),
  ];
}
