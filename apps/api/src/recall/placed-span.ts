import type { StringRecordVersion } from '#libs/persistence';
import type { GivenInterval } from '../line/given-place.js';
import type { LineKnowledge } from '../line/line-knowledge.js';
import type { PlacedVersion } from '../line/placed.entity.js';
import { PLAIN_CONCERN, type ConcernedSpan } from './concerned.js';
import { linkOf, type RecordKind } from './record-kinds.js';

/** The pipe of a record that has a place of its own. */
export function placedSpan<R extends PlacedVersion>(kind: RecordKind<R>, row: R): ConcernedSpan {
  const { stringId, span, fromUMm, toUMm } = row;
  return { record: linkOf(kind, row), stringId, span: { ...span, uFromMm: Number(fromUMm), uToMm: Number(toUMm) }, ...PLAIN_CONCERN };
}

type OfPlaces = StringRecordVersion & { readonly given: readonly GivenInterval[] };

/** The pipe of a record that has several places, one by one as they were given. */
export function givenSpans<R extends OfPlaces>(kind: RecordKind<R>, row: R, line: LineKnowledge): ConcernedSpan[] {
  return row.given.map((given) => {
    const { span, fromUMm, toUMm } = line.placed(given, row.observedAt);
    return { record: linkOf(kind, row), stringId: row.stringId, span: { ...span, uFromMm: Number(fromUMm), uToMm: Number(toUMm) }, ...PLAIN_CONCERN };
  });
}
