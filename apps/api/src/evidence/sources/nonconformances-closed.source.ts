import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import type { Nonconformance } from '../../nonconformances/nonconformance.entity.js';
import { labelOf } from '../../nonconformances/nonconformance-label.js';
import { NonconformancesService } from '../../nonconformances/nonconformances.service.js';
import { linkOf, NONCONFORMANCES } from '../../recall/record-kinds.js';
import type { CoilSegmentVersion } from '../../segments/coil-segment.entity.js';
import { footageOfStrip } from '../../trace/strip-footage.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { testimonies, type RecordTestimony, type Word } from '../record-testimony.js';

/** No nonconformance is open on the pipe, or on the strip that it was made of. */
@Injectable()
export class NonconformancesClosed implements EvidenceSource {
  readonly demands = 'nonconformances-closed';
  readonly restsOn = [NONCONFORMANCES];
  readonly restsOnSamples = false;

  constructor(private readonly nonconformances: NonconformancesService) {}

  async testimonies({ stringId, pipe, segments, asKnownAt, onTimeFrom }: EvidenceGround): Promise<RecordTestimony[]> {
    const coilIds = [...new Set(segments.map(({ coilId }) => coilId))];
    const rows = await this.nonconformances.about(stringId, ALL_PIPE, coilIds, asKnownAt);
    const concerned = rows.map((row) => ({ word: wordOf(row), on: pipeOf(row, stringId, segments) }));
    const named = unionOf(concerned);
    // A concession on one says nothing of another one that stands against the pipe, and what was made good of one takes back no concession on another.
    const said = (says: Word['says']): IntervalSet => unionOf(concerned.filter(({ word }) => word.says === says));
    const against = said('failed');
    const answeredFor = against.union(said('waived'));
    const left = ({ word: { says }, on }: (typeof concerned)[number]): IntervalSet => (says === 'failed' ? on : on.subtract(says === 'waived' ? against : answeredFor));
    return [
      ...concerned.flatMap((one) => testimonies(left(one), one.word, onTimeFrom)),
      ...testimonies(pipe.subtract(named), { says: 'confirmed', because: 'no nonconformance names it', records: [], enteredAt: [] }, onTimeFrom),
    ];
  }
}

/** Closed, and not made good: somebody answers for it. */
const isAnsweredFor = ({ stage, disposition }: Nonconformance): boolean => stage === 'closed' && (disposition?.kind === 'use-as-is-under-concession' || disposition?.kind === 'regrade');

const unionOf = (concerned: readonly { readonly on: IntervalSet }[]): IntervalSet => IntervalSet.from(concerned.flatMap(({ on }) => on.intervals));

const ALL_PIPE = '{[0,)}';

/** Its footage on the string, and that of the strip it names. */
function pipeOf({ stringId, extent, coilExtents }: Nonconformance, ownId: string, segments: readonly CoilSegmentVersion[]): IntervalSet {
  const ofStrip = coilExtents.flatMap(({ coilId, stripFromMm, stripToMm }) => segments.filter((segment) => segment.coilId === coilId)
    .flatMap((segment) => footageOfStrip(segment, { fromMm: stripFromMm ?? 0, toMm: stripToMm ?? Number.MAX_SAFE_INTEGER }) ?? []));
  return IntervalSet.from([...(stringId === ownId ? extent : []), ...ofStrip]);
}

/** Dispositions that leave no pipe in the string. */
const TAKES_AWAY: ReadonlySet<string> = new Set(['reject', 'return-to-supplier']);

/**
 * Open, whatever its stage, it fails; closed under concession or by another grade somebody answers for it; closed otherwise it was
 * made good. Pipe that was to be cut out or sent back and is asked about is still there: closing the paper did not take it away.
 */
export function wordOf(row: Nonconformance): Word {
  const { number, stage, disposition, title, enteredAt, knownFrom } = row;
  const kind = disposition?.kind ?? null;
  const name = `${labelOf(number)}, ${title}`.slice(0, 300);
  const said = { records: [linkOf(NONCONFORMANCES, row)], enteredAt: [enteredAt], knownFrom };
  if (stage !== 'closed') return { ...said, says: 'failed', because: `${name}: ${stage}` };
  if (isAnsweredFor(row)) return { ...said, says: 'waived', because: `${name}: closed, ${kind}` };
  if (kind !== null && TAKES_AWAY.has(kind)) return { ...said, says: 'failed', because: `${name}: closed, ${kind}, and this pipe was not cut out` };
  return { ...said, says: 'confirmed', because: `${name}: closed, ${kind ?? 'without a disposition'}` };
}
