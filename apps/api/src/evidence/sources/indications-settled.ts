import { IntervalSet } from '#libs/intervals';
import type { Channel } from '../../channels/channel.entity.js';
import { detectionLabel } from '../../detections/detection-label.js';
import type { SeenDetection } from '../../detections/detections.service.js';
import { lookedAt } from '../../detections/looked-at.js';
import type { LookedPipeNow, LookedPipeOf } from '../../detections/looked-pipe.service.js';
import { isRejected } from '../../indication-evaluations/standing-evaluation.js';
import { NO_INDICATION, type OpenIndication } from '../../indication-standing/open-indications.service.js';
import { INDICATION_EVALUATIONS, INDICATION_RULES, INDICATIONS, linkOf } from '../../recall/record-kinds.js';
import type { SignalMark } from '../../signal-marks/signal-mark.entity.js';
import { provenTogether, type Proof } from './proven-together.js';
import type { WordOnPipe } from './word-on-pipe.js';

/** A detection with the pipe that it looked at. */
export interface LookedDetection extends LookedPipeOf {
  readonly detection: SeenDetection;
}

/** Indications that nothing settles speak against their pipe: those that were to be repaired or cut out as bad pipe, the others as doubt. */
export function openIndicationWords(open: readonly OpenIndication[]): WordOnPipe[] {
  return open.map(({ row, because, evaluations }): WordOnPipe => {
    const label = linkOf(INDICATIONS, row).label;
    return {
      on: IntervalSet.of(row.span), says: isRejected(evaluations) ? 'failed' : 'suspect',
      because: `${label}: ${evaluations.length === 0 ? 'found, and settled by nobody' : because}`,
      records: [linkOf(INDICATIONS, row), ...evaluations.map((one) => linkOf(INDICATION_EVALUATIONS, one))], enteredAt: [row.enteredAt, ...evaluations.map(({ enteredAt }) => enteredAt)],
    };
  });
}

/**
 * Pipe that detections looked at by each required channel of an amplitude; where none is required, by any channel at all. What a
 * mark says by now is not valid was not looked at.
 */
export function lookedWords(looked: readonly LookedDetection[], channels: readonly Channel[], marks: readonly SignalMark[]): WordOnPipe[] {
  const required = channels.filter((channel) => channel.required && channel.measures.endsWith('-amplitude')).map(({ id }) => id);
  const by = required.length === 0 ? [looked.map((one) => proofOf(one, null, marks))] : required.map((id) => looked.map((one) => proofOf(one, id, marks)));
  return provenTogether(by).map((proof) => ({ ...proof, says: 'confirmed', because: `${proof.because}, and no indication here is open. ${NO_INDICATION}` }));
}

/** Why what a detection looked at counts no more: its samples lie elsewhere since a correction. */
export function movedWords(looked: readonly (Pick<LookedDetection, 'detection'> & Pick<LookedPipeNow, 'moved'>)[]): WordOnPipe[] {
  return looked.filter(({ moved }) => moved.length > 0).map(({ detection, moved }): WordOnPipe => {
    const label = detectionLabel(detection);
    return {
      on: moved.reduce((sum, { pipe }) => sum.union(pipe), IntervalSet.empty), says: 'awaited', enteredAt: [],
      because: `the samples that the detection ${label} looked at lie elsewhere since a correction of the counter or the line: run it again`,
      records: [{ kind: 'detection', id: detection.id, version: detection.version, label }],
    };
  });
}

/** @param channelId null: any channel */
function proofOf({ detection, rule, runs }: LookedDetection, channelId: string | null, marks: readonly SignalMark[]): Proof {
  const label = detectionLabel(detection);
  return {
    on: lookedAt({ runs }, channelId, marks), because: `looked at by the detection ${label}`, enteredAt: [detection.enteredAt],
    records: [{ kind: 'detection', id: detection.id, version: detection.version, label }, linkOf(INDICATION_RULES, rule)],
  };
}
