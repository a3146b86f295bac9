/*
 * What the library of tests on pieces of tube answers, as directly as it can be said: one millimetre of pipe at a time, and
 * one walk from each failure. Shares no code with the library.
 */

export interface PlainLayout {
  readonly coils: readonly { readonly coil: string; readonly pipe: { readonly fromMm: number; readonly toMm: number } }[];
  readonly stops: readonly { readonly stop: string; readonly atMm: number }[];
}

/** A sample by the position of its cut and the side on which its pipe lies. */
export interface PlainSample {
  readonly sample: string;
  readonly atMm: number;
  readonly side: 'before' | 'after';
  readonly takenAt: number;
  /** When it failed, if it did. */
  readonly failedAt: number | null;
}

/** Which of the three rules apply; `everyMm` null: not that one. */
export interface PlainRules {
  readonly coilEnds: boolean;
  readonly stopSides: boolean;
  readonly everyMm: number | null;
}

/** The samples that stand for the millimetre [xMm, xMm + 1); null where there is no coil's pipe. */
export function standFor(xMm: number, layout: PlainLayout, rules: PlainRules, samples: readonly PlainSample[]): ReadonlySet<string> | null {
  const coilAt = (cellMm: number) => layout.coils.find(({ pipe }) => pipe.fromMm <= cellMm && cellMm < pipe.toMm);
  const coil = coilAt(xMm);
  if (coil === undefined) return null;
  const cellOf = ({ atMm, side }: PlainSample): number => (side === 'after' ? atMm : atMm - 1);
  const isReached = (one: PlainSample): boolean => {
    if (coilAt(cellOf(one)) !== coil) return false;
    const [low, high] = [Math.min(cellOf(one), xMm), Math.max(cellOf(one), xMm)];
    return !rules.stopSides || !layout.stops.some(({ atMm }) => low < atMm && atMm <= high);
  };
  const reached = samples.filter(isReached);
  const isAtCoilEnd = ({ atMm, side }: PlainSample): boolean => atMm === (side === 'after' ? coil.pipe.fromMm : coil.pipe.toMm);
  const isAtStop = ({ atMm }: PlainSample): boolean => layout.stops.some((stop) => stop.atMm === atMm);
  const endCounts = reached.some((one) => (rules.coilEnds && isAtCoilEnd(one)) || (rules.stopSides && isAtStop(one)));
  const standing = reached.filter((one) => {
    // What is sampled after a failure takes nothing from it.
    const others = reached.filter(({ atMm, takenAt }) => atMm !== one.atMm && (one.failedAt === null || one.failedAt >= takenAt));
    // The millimetre lies wholly on the lower one's half, or it is the higher one's.
    const isNearest = others.every(({ atMm }) => (one.atMm < atMm ? 2 * xMm + 2 <= one.atMm + atMm : 2 * xMm + 2 > one.atMm + atMm));
    const isAhead = one.atMm <= xMm && !others.some(({ atMm }) => one.atMm < atMm && atMm <= xMm);
    return (endCounts && isNearest) || (rules.everyMm !== null && isAhead && xMm - one.atMm < rules.everyMm);
  });
  return new Set(standing.map(({ sample }) => sample));
}

export interface PlainResult {
  readonly id: string;
  readonly outcome: 'pass' | 'fail' | 'void';
  readonly follows: string | null;
  readonly discount?: string;
}

/** The state of a unit, by walking from every failure to what follows it and no further than the next failure. */
export function plainState(results: readonly PlainResult[], demanded: number | null): string {
  const retestsOf = (id: string): PlainResult[] => results.filter(({ follows }) => follows === id)
    .flatMap((one) => (one.outcome === 'fail' ? [one] : [one, ...retestsOf(one.id)]));
  const failures = results.filter(({ outcome }) => outcome === 'fail');
  if (failures.length === 0) return results.some(({ outcome }) => outcome === 'pass') ? 'passed' : 'open';
  if (demanded === null) return 'failed';
  const retests = failures.map(({ id }) => retestsOf(id));
  if (retests.some((list) => list.some(({ outcome }) => outcome === 'fail'))) return 'failed';
  return retests.every((list) => list.filter(({ outcome, discount }) => outcome === 'pass' && discount === undefined).length >= demanded) ? 'failed, retests passed' : 'open';
}
