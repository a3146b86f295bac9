import { roundMm } from '#libs/length';
import type { Coil } from '../coils/coil.entity.js';
import type { StringModel } from '../line/length-models.service.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import type { RunningLine } from './at-station.js';
import { coilRuns, type StringStrip } from './leaving-strip.js';
import { Reach } from './reach.js';

/** All that the arrivals of splices on a string are told from, of one knowledge. */
export interface KnownString {
  readonly model: StringModel;
  /** By footage. */
  readonly splices: readonly SpliceVersion[];
  /** What was first entered of them: of a splice confirmed since, what was predicted. */
  readonly firstSplices: ReadonlyMap<string, SpliceVersion>;
  /** Sightings at stations, in the order of time. */
  readonly sightings: readonly SpliceStep[];
  readonly coils: ReadonlyMap<string, Coil>;
  readonly segments: readonly CoilSegmentVersion[];
  readonly strip: StringStrip;
  readonly line: RunningLine;
  /** The greatest footage reached by the last reading; null without one. */
  readonly reached: { readonly footageMm: number; readonly at: string } | null;
}

export function knownString(parts: Omit<KnownString, 'strip' | 'line' | 'reached'> & { readonly coilSegments: readonly CoilSegmentVersion[] }): KnownString {
  const { model, segments, coils, coilSegments } = parts;
  const { nets, lengths } = model.lengths;
  const { scaleRelativeU, weldFootage } = lengths;
  const reach = new Reach(weldFootage);
  const [footageMm, last] = [reach.greatestMm, model.readings.at(-1)];
  return {
    ...parts,
    strip: { runs: coilRuns(segments), segments, coils, coilSegments, scaleRelativeU },
    line: { nets, reach, scaleRelativeU },
    reached: footageMm === null || last === undefined ? null : { footageMm: roundMm(footageMm), at: last.observedAt },
  };
}
