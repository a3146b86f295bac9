/** A line run step by step, on its own terms: strip is fed, formed and counted; cells of pipe move down the line and are cut out of it. */

export interface FedCoil {
  /** Strip that is fed, mm. */
  readonly stripMm: number;
  /** Relative error of the length that its record states. */
  readonly statedError: number;
}

/** Footage as counted at which the strip of each coil runs out: strip is fed millimetre by millimetre, formed longer and counted with the counter's error. */
export function countedEnds(coils: readonly FedCoil[], formingRatio: number, scaleError: number): number[] {
  let countedMm = 0;
  return coils.map(({ stripMm }) => {
    for (let fed = 0; fed < stripMm; fed += 1) countedMm += formingRatio * (1 + scaleError);
    return countedMm;
  });
}

/** A cut made when so many cells were made: cells of these footages are taken out, those that are not made yet are not. */
export interface CellCut {
  readonly whenMade: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Cells made at the weld point when cell `marked` was first `path` cells past it; null when it never came there, or was cut out before.
 */
export function cellsMadeWhenAt(marked: number, path: number, cuts: readonly CellCut[], total: number): number | null {
  let line: number[] = [];
  for (let made = 1; made <= total; made += 1) {
    line.push(made - 1);
    for (const cut of cuts.filter(({ whenMade }) => whenMade === made)) line = line.filter((cell) => cell < cut.from || cell >= cut.to);
    const index = line.indexOf(marked);
    if (made > marked && index < 0) return null;
    if (index >= 0 && line.length - index >= path) return made;
  }
  return null;
}
