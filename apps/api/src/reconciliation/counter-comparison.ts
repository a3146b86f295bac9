import { COVERAGE_FACTOR, rootSumOfSquares, type WeldFootageFigure } from '#libs/length';

/** What a counter said at a time, as footage. */
export interface ReadFootage {
  readonly atUs: number;
  readonly footageMm: number;
  /** Relative standard uncertainty of its scale. */
  readonly scaleRelativeU: number;
}

/** The master counter: its footage at any time within its readings, and the doubt of its scale. */
export interface Master {
  readonly scaleRelativeU: number;
  /** Null outside its readings. */
  at(atUs: number): WeldFootageFigure | null;
}

/** How far two counters parted between two times. */
export interface Parting {
  readonly fromUs: number;
  readonly toUs: number;
  readonly masterMm: number;
  readonly otherMm: number;
  /** Other less master. */
  readonly differenceMm: number;
  readonly uMm: number;
  /** Millimetres for each 100 m of the master; null where the master counted no pipe. */
  readonly per100MMm: number | null;
  /** Beyond k = 2 of the uncertainty. */
  readonly isExceeded: boolean;
}

export interface CounterComparison {
  /** Between the first and the last common time; null with fewer than two. */
  readonly overall: Parting | null;
  /** Between neighbouring common times. */
  readonly steps: readonly Parting[];
}

const PER_MM = 100_000;

interface Common {
  readonly other: ReadFootage;
  readonly master: WeldFootageFigure;
}

/**
 * Another counter held against the master where both are known: the other's readings, and the master's footage then.
 * u² = (s_o Δo)² + (s_m Δm)² + the doubt of the master between its readings at either end.
 */
export function compareCounters(master: Master, readings: readonly ReadFootage[]): CounterComparison {
  const common = readings.flatMap((other): Common[] => {
    const figure = master.at(other.atUs);
    return figure === null ? [] : [{ other, master: figure }];
  });
  const [first, last] = [common.at(0), common.at(-1)];
  const steps = common.slice(1).flatMap((to, index) => {
    const from = common[index];
    return from === undefined ? [] : [parting(master, from, to)];
  });
  const overall = first === undefined || last === undefined || first === last ? null : parting(master, first, last);
  return { overall, steps };
}

function parting({ scaleRelativeU }: Master, from: Common, to: Common): Parting {
  const masterMm = to.master.footageMm - from.master.footageMm;
  const otherMm = to.other.footageMm - from.other.footageMm;
  const differenceMm = otherMm - masterMm;
  const uMm = rootSumOfSquares(to.other.scaleRelativeU * otherMm, scaleRelativeU * masterMm, from.master.uMm, to.master.uMm);
  return {
    fromUs: from.other.atUs,
    toUs: to.other.atUs,
    masterMm,
    otherMm,
    differenceMm,
    uMm,
    per100MMm: masterMm > 0 ? (differenceMm * PER_MM) / masterMm : null,
    isExceeded: Math.abs(differenceMm) > COVERAGE_FACTOR * uMm,
  };
}
