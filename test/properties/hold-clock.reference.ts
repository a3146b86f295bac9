/** The plain twin of the hold clock: pipe counted millimetre by millimetre, time run through in tenths of a second. */

/** A stretch of time in which the line ran at one speed; negative backwards. */
export interface Phase {
  readonly seconds: number;
  readonly mmPerS: number;
}

export interface Cut {
  readonly fromMm: number;
  readonly toMm: number;
}

/** Footage at the weld point second by second, from second 0 on. */
export function footages(startMm: number, phases: readonly Phase[]): number[] {
  const all = [startMm];
  for (const { seconds, mmPerS } of phases) for (let second = 0; second < seconds; second += 1) all.push(all[all.length - 1]! + mmPerS);
  return all;
}

/** Millimetres of pipe, and of strip, between a footage and the weld point that were not cut out; negative before the weld point. */
export function walkedMm(weldMm: number, footageMm: number, cuts: readonly Cut[]): number {
  const [from, to, sign] = footageMm <= weldMm ? [footageMm, weldMm, 1] : [weldMm, footageMm, -1];
  let count = 0;
  for (let mm = from; mm < to; mm += 1) if (!cuts.some((cut) => cut.fromMm <= mm && mm < cut.toMm)) count += 1;
  return sign * count;
}

/** Seconds until something `leftMm` away is there, at these speeds, a tenth of a second each, over and over. */
export function secondsUntil(leftMm: number, mmPerS: readonly number[]): number {
  let ranMm = 0;
  for (let tenths = 0; ; tenths += 1) {
    const stepMm = mmPerS[tenths % mmPerS.length]! / 10;
    if (ranMm + stepMm >= leftMm) return tenths / 10 + (leftMm - ranMm) / stepMm / 10;
    ranMm += stepMm;
  }
}

/** The speeds of phases that a window of time touches for at least so long, mm/s. */
export function speedsSeen(phases: readonly Phase[], window: { readonly fromS: number; readonly toS: number }, leastS: number): number[] {
  let startS = 0;
  return phases.flatMap(({ seconds, mmPerS }) => {
    const touchedS = Math.min(startS + seconds, window.toS) - Math.max(startS, window.fromS);
    startS += seconds;
    return touchedS >= leastS ? [mmPerS] : [];
  });
}
