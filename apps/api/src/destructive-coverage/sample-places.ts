import type { Interval } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { PipeLayout, SamplePlace } from '#libs/tube-tests';
import type { SpliceVersion } from '../splices/splice.entity.js';
import type { TestSample } from '../test-samples/test-sample.entity.js';
import { stretchAtCoilEnd, type CoilPipeStretch } from './coil-pipes.js';
import { stopOf, type StopPlace } from './stop-places.js';

/** Where a sample was cut, as far as the string's records know it; `stretch` is the key of the pipe that holds it, `coilId` its coil. */
export type FoundPlace =
  | { readonly found: 'pipe'; readonly place: SamplePlace; readonly stretch: string; readonly coilId: string; readonly words: string }
  | { readonly found: 'splice'; readonly spliceId: string; readonly span: Interval; readonly words: string }
  | { readonly found: 'nowhere'; readonly words: string };

/** What a string is made of, for placing samples. */
export interface SampledString {
  readonly stretches: readonly CoilPipeStretch[];
  readonly stops: readonly StopPlace[];
  readonly splices: ReadonlyMap<string, SpliceVersion>;
  /** Numbers of coils by id, those too that made no pipe of this string. */
  readonly coilNumbers: ReadonlyMap<string, string>;
}

/** The place of a sample; one on no coil's pipe is nowhere, and says so. */
export function placeOf(sample: TestSample, string: SampledString): FoundPlace {
  const { coilId, coilEnd, stopFootageMm, stopSide, footageMm, spliceId } = sample;
  if (coilId !== null && coilEnd !== null) return atCoilEnd(coilId, coilEnd, string);
  if (stopFootageMm !== null && stopSide !== null) return besideStop(stopFootageMm, stopSide, stopOf(sample, string.stops), string);
  if (footageMm !== null) return onPipe(footageMm, { at: 'footage', footageMm }, `at footage ${footageMm} mm`, string);
  const splice = spliceId === null ? undefined : string.splices.get(spliceId);
  if (splice === undefined) return { found: 'nowhere', words: 'coupon of a splice that is not on record' };
  return { found: 'splice', spliceId: splice.id, span: splice.span, words: `coupon of splice ${splice.number}` };
}

/** The pipe of some stretches, with the stops at it. */
export function layoutOf(stretches: readonly CoilPipeStretch[], stops: readonly StopPlace[]): PipeLayout {
  return {
    coils: stretches.map(({ key, name, pipe }) => ({ coil: key, name, pipe })),
    stops: stops.filter(({ atMm }) => isAtPipe(atMm, stretches)).map(({ name, atMm, namedAt }) => ({ stop: name, atMm, ...(namedAt === null ? {} : { namedAtUs: microseconds(namedAt) }) })),
  };
}

/** Whether a point is at the pipe of a stretch, its ends among it. */
export const isAtPipe = (atMm: number, stretches: readonly CoilPipeStretch[]): boolean =>
  stretches.some(({ pipe }) => pipe.fromMm <= atMm && atMm <= pipe.toMm);

function atCoilEnd(coilId: string, end: 'head' | 'tail', { stretches, coilNumbers }: SampledString): FoundPlace {
  const words = `${end} of coil ${coilNumbers.get(coilId) ?? coilId}`;
  const found = stretchAtCoilEnd(stretches, coilId, end);
  if (found === null) return { found: 'nowhere', words: `${words}, of which no pipe of this string is on record` };
  return { found: 'pipe', place: { at: 'coil-end', coil: found.stretch.key, end: found.end }, stretch: found.stretch.key, coilId, words };
}

/** Beside the stop that it names, where that is known to have been. */
function besideStop(footageMm: number, side: 'before' | 'after', stop: StopPlace | null, string: SampledString): FoundPlace {
  const atMm = stop?.atMm ?? footageMm;
  const recorded = stop === null || stop.events.length === 0 ? ', which no seam event records' : atMm === footageMm ? '' : `, recorded at ${atMm} mm`;
  const place = { at: 'stop', stop: stop?.name ?? '', side } as const;
  return onPipe(side === 'after' ? atMm : atMm - 1, place, `${side} the stop at ${footageMm} mm${recorded}`, string);
}

function onPipe(cellMm: number, place: SamplePlace, words: string, { stretches }: SampledString): FoundPlace {
  const stretch = stretches.find(({ pipe }) => pipe.fromMm <= cellMm && cellMm < pipe.toMm);
  if (stretch === undefined) return { found: 'nowhere', words: `${words}, where no coil's pipe is on record` };
  return { found: 'pipe', place, stretch: stretch.key, coilId: stretch.coilId, words };
}
