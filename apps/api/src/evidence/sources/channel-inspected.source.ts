import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { Channel } from '../../channels/channel.entity.js';
import type { ControlPlanItem } from '../../control-plans/control-plan-item.js';
import { pipeSoFar } from '../../inspection-coverage/passed-pipe.js';
import { proofWithin } from '../../inspection-proof/channel-proof.js';
import { InspectionProofs } from '../../inspection-proof/inspection-proofs.service.js';
import { CHANNELS, EXAMINATIONS, INSPECTION_RUNS, linkOf, REFERENCE_CHECKS, SIGNAL_MARKS } from '../../recall/record-kinds.js';
import { weldLogOf } from '../../signals/weld-log.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { GroundRecords } from '../ground-records.service.js';
import { oncePerGround } from '../once-per-ground.js';
import { testimonies, type RecordTestimony } from '../record-testimony.js';
import { byHandAtJoints, type ByHand, type MadeJoint } from './by-hand.js';
import { provenWords } from './proven-words.js';

/** A channel inspected the pipe validly, and its reference checks prove it; at a joint, an accepted examination by hand stands in. */
@Injectable()
export class ChannelInspected implements EvidenceSource {
  readonly demands = 'channel-inspected';
  readonly restsOn = [CHANNELS, EXAMINATIONS, INSPECTION_RUNS, REFERENCE_CHECKS, SIGNAL_MARKS];
  readonly restsOnSamples = true;

  constructor(
    private readonly proofs: InspectionProofs,
    private readonly records: GroundRecords,
  ) {}

  async testimonies(ground: EvidenceGround, { channelId, at }: ControlPlanItem): Promise<RecordTestimony[]> {
    const { pipe, onTimeFrom } = ground;
    if (channelId === null) return [];
    const proven = await this.proven(ground, channelId);
    const { channel } = proven.known;
    const said = [...provenWords(channel, proofWithin(proven, pipe), onTimeFrom), ...awaited(ground, channel)];
    if (at !== 'splices' && at !== 're-joins') return said;
    const byHand = byHandAtJoints(jointsOf(ground, at), channel.method, await this.records.examinations(ground));
    return withByHand(said, byHand, ground);
  }

  private readonly proven = oncePerGround(({ stringId, asKnownAt }, channelId) => this.proofs.provenChannel(stringId, channelId, asKnownAt));
}

/** Pipe that was made and has not come to the channel's station; none where nobody knows where that is. */
function awaited({ model, pipe, onTimeFrom }: EvidenceGround, channel: Channel): RecordTestimony[] {
  const { line, string, readings } = model;
  const log = weldLogOf(line, string.masterCounter, readings.map(({ observedAt, reading }) => ({ atUs: microseconds(observedAt), reading })));
  const { madeMm, passedMm } = pipeSoFar(line, string.masterCounter, log, channel.station);
  if (passedMm === null || passedMm >= madeMm) return [];
  const because = `it has not come to station ${channel.station ?? ''} yet`;
  return testimonies(pipe.intersect({ fromMm: passedMm, toMm: madeMm }), { says: 'awaited', because, records: [], enteredAt: [] }, onTimeFrom);
}

function jointsOf({ splices, model }: EvidenceGround, at: 'splices' | 're-joins'): MadeJoint[] {
  return at === 'splices'
    ? splices.map(({ span, observedAt }) => ({ kind: 'splice', span, madeAt: observedAt }))
    : model.records.cutOuts.map(({ span, observedAt }) => ({ kind: 're-join', span, madeAt: observedAt }));
}

/** What was examined by hand and accepted needs no channel: a look that its checks put in doubt says nothing against it. */
function withByHand(said: readonly RecordTestimony[], byHand: readonly ByHand[], { onTimeFrom }: EvidenceGround): RecordTestimony[] {
  const seen = IntervalSet.from(byHand.flatMap(({ on }) => on.intervals));
  const rest = said.flatMap((one) => (one.says === 'suspect' ? IntervalSet.of(one).subtract(seen).intervals.map((part) => ({ ...one, ...part })) : [one]));
  const own = byHand.flatMap(({ examination, on }) => testimonies(on, {
    says: 'confirmed', because: `examined by hand by ${examination.method} and accepted`, records: [linkOf(EXAMINATIONS, examination)], enteredAt: [examination.enteredAt],
  }, onTimeFrom));
  return [...rest, ...own];
}
