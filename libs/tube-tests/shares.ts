import { interval, type Interval } from '#libs/intervals';

/** Of a run, what is nearer to `atMm` than to any other of the positions: from middle to middle. Null when that is nothing. */
export function sharesByNearest(run: Interval, positionsMm: readonly number[], atMm: number): Interval | null {
  const below = Math.max(...positionsMm.filter((one) => one < atMm));
  const above = Math.min(...positionsMm.filter((one) => one > atMm));
  const fromMm = below === -Infinity ? run.fromMm : middle(below, atMm);
  const toMm = above === Infinity ? run.toMm : middle(atMm, above);
  return fromMm < toMm ? interval(fromMm, toMm) : null;
}

/** Of a run, what follows `atMm` as far as the next of the positions, `mostMm` at most. Null when that is nothing. */
export function stretchAfter(run: Interval, positionsMm: readonly number[], atMm: number, mostMm: number): Interval | null {
  const toMm = Math.min(run.toMm, atMm + mostMm, ...positionsMm.filter((one) => one > atMm));
  return atMm < toMm ? interval(atMm, toMm) : null;
}

/** Between two positions, rounded down to a whole mm. */
function middle(lowMm: number, highMm: number): number {
  return lowMm + Math.floor((highMm - lowMm) / 2);
}
