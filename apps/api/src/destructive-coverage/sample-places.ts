import type { Interval } from '#libs/intervals';
import type { PipeLayout, SamplePlace } from '#libs/tube-tests';
import type { SpliceVersion } from '../splices/splice.entity.js';
import type { TestSample } from '../test-samples/test-sample.entity.js';
import { stretchAtCoilEnd, type CoilPipeStretch } from './coil-pipes.js';

/** Where a sample was cut, as far as the string's records know it. */
export type FoundPlace =
  | { readonly found: 'pipe'; readonly place: SamplePlace; readonly words: string }
  | { readonly found: 'splice'; readonly span: Interval; readonly words: string }
  | { readonly found: 'nowhere'; readonly words: string };

/** What a string is made of, for placing samples. */
export interface SampledString {
  readonly stretches: readonly CoilPipeStretch[];
  readonly splices: ReadonlyMap<string, SpliceVersion>;
  /** Numbers of coils by id, those too that made no pipe of this string. */
  readonly coilNumbers: ReadonlyMap<string, string>;
}

/** The place of a sample; one on no coil's pipe is nowhere, and says so. */
export function placeOf(sample: TestSample, string: SampledString): FoundPlace {
  const { coilId, coilEnd, stopFootageMm, stopSide, footageMm, spliceId } = sample;
  if (coilId !== null && coilEnd !== null) return atCoilEnd(coilId, coilEnd, string);
  if (stopFootageMm !== null && stopSide !== null) {
    const cellMm = stopSide === 'after' ? stopFootageMm : stopFootageMm - 1;
    const place = { at: 'stop', stop: stopName(stopFootageMm), side: stopSide } as const;
    return onPipe(cellMm, place, `${stopSide} the stop at ${stopFootageMm} mm`, string);
  }
  if (footageMm !== null) return onPipe(footageMm, { at: 'footage', footageMm }, `at footage ${footageMm} mm`, string);
  const splice = spliceId === null ? undefined : string.splices.get(spliceId);
  if (splice === undefined) return { found: 'nowhere', words: 'coupon of a splice that is not on record' };
  return { found: 'splice', span: splice.span, words: `coupon of splice ${splice.number}` };
}

/** The pipe of the coils, with the stops beside which samples were cut. */
export function layoutOf(stretches: readonly CoilPipeStretch[], samples: readonly { readonly sample: TestSample; readonly place: FoundPlace }[]): PipeLayout {
  const atMm = samples.filter(({ place }) => place.found === 'pipe').map(({ sample }) => sample.stopFootageMm).filter((one) => one !== null);
  return {
    coils: stretches.map(({ name, pipe }) => ({ coil: name, pipe })),
    stops: [...new Set(atMm)].map((one) => ({ stop: stopName(one), atMm: one })),
  };
}

function atCoilEnd(coilId: string, end: 'head' | 'tail', { stretches, coilNumbers }: SampledString): FoundPlace {
  const words = `${end} of coil ${coilNumbers.get(coilId) ?? coilId}`;
  const found = stretchAtCoilEnd(stretches, coilId, end);
  if (found === null) return { found: 'nowhere', words: `${words}, of which no pipe of this string is on record` };
  return { found: 'pipe', place: { at: 'coil-end', coil: found.stretch.name, end: found.end }, words };
}

function onPipe(cellMm: number, place: SamplePlace, words: string, { stretches }: SampledString): FoundPlace {
  const isOnPipe = stretches.some(({ pipe }) => pipe.fromMm <= cellMm && cellMm < pipe.toMm);
  return isOnPipe ? { found: 'pipe', place, words } : { found: 'nowhere', words: `${words}, where no coil's pipe is on record` };
}

const stopName = (atMm: number): string => `at ${atMm} mm`;
