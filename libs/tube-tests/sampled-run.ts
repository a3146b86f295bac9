import { interval, type Interval } from '#libs/intervals';

/** The pipe of one coil: footage in whole mm, half-open. */
export interface CoilPipe {
  readonly coil: string;
  /** What answers call it; its key `coil` unless given. */
  readonly name?: string;
  readonly pipe: Interval;
}

/** A stop of the seam weld, at the footage that stood at the weld point. */
export interface SeamStop {
  readonly stop: string;
  readonly atMm: number;
  /** For a stop that only samples name: when the first of them was taken, µs. */
  readonly namedAtUs?: number;
}

export interface PipeLayout {
  readonly coils: readonly CoilPipe[];
  readonly stops: readonly SeamStop[];
}

/** `from` is the end made first, at the lower footage; so is `before` the side of a stop. */
export type SamplePlace =
  | { readonly at: 'coil-end'; readonly coil: string; readonly end: 'from' | 'to' }
  | { readonly at: 'stop'; readonly stop: string; readonly side: 'before' | 'after' }
  | { readonly at: 'footage'; readonly footageMm: number };

/** Where a sample was cut, and the side of that place on which its pipe lies. */
export interface Spot {
  readonly atMm: number;
  readonly pipeLies: 'before' | 'after';
}

/** Pipe of one coil without a boundary inside it; what its ends are. */
export interface Run {
  /** The name of the coil. */
  readonly coil: string;
  readonly pipe: Interval;
  readonly from: RunEnd;
  readonly to: RunEnd;
}

export interface RunEnd {
  readonly isCoilEnd: boolean;
  /** Stops here, by their names. */
  readonly stops: readonly string[];
}

/** Throws RangeError when a name comes twice, coils overlap, a position is no whole mm, or a stop is at no coil's pipe. */
export function demandSensibleLayout({ coils, stops }: PipeLayout): void {
  demandNoDouble('coil', coils.map(({ coil }) => coil));
  demandNoDouble('stop', stops.map(({ stop }) => stop));
  const sorted = coils.map(({ coil, pipe }) => ({ coil, pipe: interval(pipe.fromMm, pipe.toMm) })).sort((a, b) => a.pipe.fromMm - b.pipe.fromMm);
  sorted.slice(1).forEach(({ coil, pipe }, index) => {
    const before = sorted[index];
    if (before !== undefined && before.pipe.toMm > pipe.fromMm) throw new RangeError(`the pipe of coils ${before.coil} and ${coil} overlaps`);
  });
  for (const { stop, atMm } of stops) {
    const isOnPipe = Number.isSafeInteger(atMm) && coils.some(({ pipe }) => pipe.fromMm <= atMm && atMm <= pipe.toMm);
    if (!isOnPipe) throw new RangeError(`stop ${stop} is at no coil's pipe: ${atMm} mm`);
  }
}

/** The pipe in runs, in the order of `coils`: each coil's, cut at the stops inside it when asked to. */
export function runsOf({ coils, stops }: PipeLayout, cutAtStops: boolean): readonly Run[] {
  const cutsMm = cutAtStops ? [...new Set(stops.map(({ atMm }) => atMm))].sort((a, b) => a - b) : [];
  return coils.flatMap(({ coil, name = coil, pipe }) => {
    const inside = cutsMm.filter((atMm) => pipe.fromMm < atMm && atMm < pipe.toMm);
    const runEnd = (atMm: number): RunEnd => ({
      isCoilEnd: atMm === pipe.fromMm || atMm === pipe.toMm,
      stops: stops.filter((one) => one.atMm === atMm).map(({ stop }) => stop),
    });
    const ends = [...inside, pipe.toMm];
    return ends.map((toMm, index) => {
      const fromMm = inside[index - 1] ?? pipe.fromMm;
      return { coil: name, pipe: interval(fromMm, toMm), from: runEnd(fromMm), to: runEnd(toMm) };
    });
  });
}

/** Throws RangeError when the place names a coil or stop that is not there. */
export function spotOf(place: SamplePlace, { coils, stops }: PipeLayout): Spot {
  if (place.at === 'footage') return { atMm: place.footageMm, pipeLies: 'after' };
  if (place.at === 'coil-end') {
    const found = coils.find(({ coil }) => coil === place.coil);
    if (found === undefined) throw new RangeError(`there is no coil ${place.coil}`);
    return place.end === 'from' ? { atMm: found.pipe.fromMm, pipeLies: 'after' } : { atMm: found.pipe.toMm, pipeLies: 'before' };
  }
  const found = stops.find(({ stop }) => stop === place.stop);
  if (found === undefined) throw new RangeError(`there is no stop ${place.stop}`);
  return { atMm: found.atMm, pipeLies: place.side };
}

/** The run that holds the sample's pipe; null when there is none. */
export function runAt(runs: readonly Run[], { atMm, pipeLies }: Spot): Run | null {
  const cellMm = pipeLies === 'after' ? atMm : atMm - 1;
  return runs.find(({ pipe }) => pipe.fromMm <= cellMm && cellMm < pipe.toMm) ?? null;
}

/** The end of the run that the sample was cut at; null when it was cut elsewhere. */
export function endAt({ pipe, from, to }: Run, { atMm, pipeLies }: Spot): RunEnd | null {
  if (pipeLies === 'after') return atMm === pipe.fromMm ? from : null;
  return atMm === pipe.toMm ? to : null;
}

function demandNoDouble(what: string, names: readonly string[]): void {
  const double = names.find((name, index) => names.indexOf(name) !== index);
  if (double !== undefined) throw new RangeError(`${what} comes twice: ${double}`);
}
