import { Injectable } from '@nestjs/common';
import { IntervalSet, type Interval } from '#libs/intervals';
import { instantOf } from '#libs/persistence';
import type { Channel } from '../channels/channel.entity.js';
import { ChannelsService } from '../channels/channels.service.js';
import type { IndicationRuleVersion } from '../indication-rules/indication-rule.entity.js';
import { pitchMmOf, ruleOf } from '../indication-rules/indication-rule.rules.js';
import type { SignalMark } from '../signal-marks/signal-mark.entity.js';
import { SignalMarksService } from '../signal-marks/signal-marks.service.js';
import { SignalStretches } from '../signals/signal-stretches.service.js';
import { SignalStrokes } from '../signals/signal-strokes.service.js';
import { isConfirmed } from '../splice-arrivals/leaving-strip.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import { SplicesService } from '../splices/splices.service.js';
import type { ApartPipe, LookedChannel } from './detection-run.js';
import type { NotPlaced } from './found-place.js';

/** What a rule is held against: all that the detector needs, of a rule on record or of a trial of it. */
export type HeldRule = Pick<IndicationRuleVersion, 'stringId' | 'channels' | 'minimumLengthMm' | 'combiningMm' | 'bridgedGapMm' | 'excludes' | 'spliceMarginMm'>;

/** The channels of a rule, ready to be looked at. */
export interface Looked {
  /** In the order of the rule. */
  readonly channels: readonly LookedChannel[];
  /** Samples of them that lie nowhere on the pipe, so that nobody looks at them. */
  readonly notPlaced: readonly NotPlaced[];
}

/** Footage before the lead end: no pipe, whatever was read there. */
const BEFORE_PIPE: Interval = { fromMm: -(2 ** 31), toMm: 0 };

/** The channels of rules, with their samples and what of these is apart. */
@Injectable()
export class LookedChannels {
  constructor(
    private readonly channels: ChannelsService,
    private readonly marks: SignalMarksService,
    private readonly splices: SplicesService,
    private readonly stretches: SignalStretches,
    private readonly strokes: SignalStrokes,
  ) {}

  /** As known at `asKnownAt`; a channel that was not known then has no samples. Refuses as the strokes do. */
  async of(rule: HeldRule, within: Interval | null, asKnownAt: string | null): Promise<Looked> {
    const { stringId, spliceMarginMm } = rule;
    const ids = rule.channels.map(({ channelId }) => channelId);
    const [rows, known, marks, splices] = await Promise.all([
      this.channels.rowsByIds(ids, null), this.channels.rowsByIds(ids, asKnownAt), this.marks.ofString(stringId, asKnownAt),
      spliceMarginMm === null ? [] : this.splices.ofString(stringId, asKnownAt),
    ]);
    const spliced = splicePipe(splices, spliceMarginMm ?? 0);
    const channels = rule.channels.map((channel): LookedChannel => ({
      channelId: channel.channelId, rule: ruleOf(rule, channel), speaksForMm: channel.speaksForMm ?? speaksForMm(rows.get(channel.channelId)),
      apartOf: apart(marks.filter(({ channelIds }) => channelIds.includes(channel.channelId)), rule.excludes, spliced),
      strokes: async () => (known.has(channel.channelId) ? this.strokes.of(stringId, channel.channelId, within, asKnownAt) : []),
    }));
    const notPlaced = await Promise.all([...known.keys()].map((id) => this.notPlaced(stringId, id, asKnownAt)));
    return { channels, notPlaced: notPlaced.flat() };
  }

  private async notPlaced(stringId: string, channelId: string, asKnownAt: string | null): Promise<NotPlaced[]> {
    const { unplaced } = await this.stretches.of(stringId, channelId, asKnownAt);
    return unplaced.map(({ runId, samples, fromUs, toUs, why }) => ({ channelId, runId, samples, startedAt: instantOf(fromUs), endedAt: instantOf(toUs), why }));
  }
}

/** A channel that no longer tells how far its samples speak has them speak for themselves alone: gaps are told, and none is hidden. */
const speaksForMm = (row: Channel | undefined): number => (row === undefined ? 1 : (pitchMmOf(row) ?? 1));

/** A splice whose place was only predicted hides no pipe. */
function splicePipe(splices: readonly SpliceVersion[], marginMm: number): IntervalSet {
  return IntervalSet.from(splices.filter(isConfirmed).map(({ span }) => ({ fromMm: span.fromMm - marginMm, toMm: span.toMm + marginMm })));
}

/** By run: what marks and splices leave out, and what is not valid otherwise. */
function apart(marks: readonly SignalMark[], excludes: readonly string[], spliced: IntervalSet): (runId: string) => ApartPipe {
  const known = new Map<string, ApartPipe>();
  return (runId) => {
    const before = known.get(runId);
    if (before !== undefined) return before;
    const own = marks.filter((mark) => mark.runId === runId);
    const pipeOf = (chosen: readonly SignalMark[]): IntervalSet => IntervalSet.from(chosen.map(({ span }) => span));
    const found = {
      excluded: pipeOf(own.filter(({ cause }) => excludes.includes(cause))).union(spliced).union(BEFORE_PIPE),
      notValid: pipeOf(own.filter(({ effect, cause }) => effect === 'not-valid' && !excludes.includes(cause))),
    };
    known.set(runId, found);
    return found;
  };
}
