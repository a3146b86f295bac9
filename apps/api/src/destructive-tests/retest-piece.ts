/** Whether a retest speaks of the product that failed: it is made on another piece of the same. */
import type { Interval } from '#libs/intervals';
import type { TestSample } from '../test-samples/test-sample.entity.js';
import type { DestructiveTest } from './destructive-test.entity.js';

type Following = Pick<DestructiveTest, 'id' | 'followsTestId' | 'outcome' | 'testSampleId'>;

/** The nearest failure that a test follows, by way of whatever passed or was void in between; null when there is none. */
export function failureBefore<T extends Following>(test: Following, byId: ReadonlyMap<string, T>): T | null {
  const seen = new Set([test.id]);
  let before = test.followsTestId === null ? undefined : byId.get(test.followsTestId);
  while (before !== undefined && before.outcome !== 'fail' && !seen.has(before.id)) {
    seen.add(before.id);
    before = before.followsTestId === null ? undefined : byId.get(before.followsTestId);
  }
  return before?.outcome === 'fail' ? before : null;
}

/** A piece that was tested, and what it was cut from: the pipe of a coil or a splice; null where that is not known. */
export interface TestedPiece {
  readonly sampleId: string;
  readonly cutFrom: string | null;
}

export const SAME_PIECE = 'made on the very piece that failed';
export const OTHER_PRODUCT = 'cut from another coil\'s pipe, or another splice, than the piece that failed';
export const UNKNOWN_PRODUCT = 'not shown to be cut from the same coil\'s pipe or splice as the piece that failed';

/** Why a pass on `retest` is no answer to a failure on `failed`; null when it is one. Common practice, no published source. */
export function retestFlaw(failed: TestedPiece, retest: TestedPiece): string | null {
  if (failed.sampleId === retest.sampleId) return SAME_PIECE;
  if (failed.cutFrom === null || retest.cutFrom === null) return UNKNOWN_PRODUCT;
  return failed.cutFrom === retest.cutFrom ? null : OTHER_PRODUCT;
}

export const ofCoil = (coilId: string): string => `coil ${coilId}`;
export const ofSplice = (spliceId: string): string => `splice ${spliceId}`;

/** What a sample was cut from, by the footage that it gives and the segments of its string. */
export function cutFrom(
  { coilId, spliceId, footageMm, stopFootageMm, stopSide }: TestSample, segments: readonly { readonly coilId: string; readonly span: Interval }[],
): string | null {
  if (spliceId !== null) return ofSplice(spliceId);
  if (coilId !== null) return ofCoil(coilId);
  const besideStop = stopFootageMm !== null && stopSide === 'before' ? stopFootageMm - 1 : stopFootageMm;
  const cellMm = footageMm ?? besideStop;
  const segment = segments.find(({ span }) => cellMm !== null && span.fromMm <= cellMm && cellMm < span.toMm);
  return segment === undefined ? null : ofCoil(segment.coilId);
}
