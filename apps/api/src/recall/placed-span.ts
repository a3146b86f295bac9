import type { PlacedVersion } from '../line/placed.entity.js';
import { PLAIN_CONCERN, type ConcernedSpan } from './concerned.js';
import { linkOf, type RecordKind } from './record-kinds.js';

/** The pipe of a record that has a place of its own. */
export function placedSpan<R extends PlacedVersion>(kind: RecordKind<R>, row: R): ConcernedSpan {
  const { stringId, span, fromUMm, toUMm } = row;
  return { record: linkOf(kind, row), stringId, span: { ...span, uFromMm: Number(fromUMm), uToMm: Number(toUMm) }, ...PLAIN_CONCERN };
}
