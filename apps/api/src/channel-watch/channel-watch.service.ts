import { Injectable } from '@nestjs/common';
import { TooManyRuns } from '#libs/channel-watch';
import { samplesOf } from '#libs/signals';
import { IntervalSet, type Interval } from '#libs/intervals';
import { instantOf, run } from '#libs/persistence';
import { Refused } from '../http/problem.js';
import { CHANNELS, INSPECTION_RUNS, linkOf, SIGNAL_MARKS, SPLICES } from '../recall/record-kinds.js';
import { RecordDesk } from '../records/record-desk.js';
import type { SignalMark } from '../signal-marks/signal-mark.entity.js';
import { SignalMarksService } from '../signal-marks/signal-marks.service.js';
import { blocksWithin } from '../signals/block-span.js';
import { SignalStretches, type PlacedSignal } from '../signals/signal-stretches.service.js';
import { SignalTracks } from '../signals/signal-tracks.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { grouped } from '../suppliers/grouped.js';
import { answered } from '../trace/answered.js';
import { linkTo } from '../trace/record-link.js';
import type { RecordLink } from '../trace/trace.dto.js';
import type { ChannelWatchAnswer, WatchFindingAnswer } from './channel-watch.dto.js';
import type { ChannelWatchQuestion } from './channel-watch-question.js';
import { liftedProbes } from './lifted-probes.js';
import { findingsOfRun, unjudgedNoise, type Finding } from './watch-findings.js';
import { MOST_BLOCKS, MOST_RUNS, USUAL_LIMITS } from './watch-limits.js';
import { rulesTold } from './watch-rules.js';
import { WatchedStretches, type WatchedStretch } from './watched-stretches.service.js';

const QUESTION = 'A finding is a question to the channel and the people at it, not a defect of the pipe; where nothing was found, the channel may still have been blind in a way that no rule sees.';
const IN_CELLS = 'Noise and shares are judged in cells of 256 samples as they were stored, so that their intervals are as exact as that; runs of samples are exact.';

/** The uploads of a channel, and whether the rule for stuck readings that they were taken by finds all that today's finds within a part. */
const MARKED = `
select coalesce(bool_and(v.stuck_after is not null and v.stuck_after <= $3), true) as marked
  from signal_upload u cross join lateral jsonb_array_elements(u.columns) c
  join channel v on v.id = (c ->> 'channelId')::uuid and v.version = (c ->> 'channelVersion')::int
 where u.string_id = $1 and c ->> 'channelId' = $2::text`;

/** Where a channel looks as if it had been blind. */
@Injectable()
export class ChannelWatches {
  constructor(
    private readonly desk: RecordDesk,
    private readonly stretches: SignalStretches,
    private readonly watched: WatchedStretches,
    private readonly tracks: SignalTracks,
    private readonly marks: SignalMarksService,
    private readonly splices: SplicesService,
  ) {}

  /** By what was known at the instant asked about. Throws 404 as `SignalStretches.of`; refuses (422) more samples than one answer can hold. */
  async of(stringId: string, question: ChannelWatchQuestion): Promise<ChannelWatchAnswer> {
    const { channelId, within, windowMm, asKnownAt } = question;
    return answered(async () => {
      const placed = await this.stretches.of(stringId, channelId, asKnownAt);
      const { channel } = placed;
      demandRoom(placed, within);
      const limits = { ...USUAL_LIMITS, windowMm };
      const stretches = await this.read(placed, within, limits.lostFromMm);
      const bySamples = [...grouped(stretches, ({ runId }) => runId).values()].flatMap((own) => findingsOfRun(channel, own, limits));
      const byRecords = await this.byRecords(placed, asKnownAt);
      const findings = [...bySamples.map((finding) => told(placed, finding, [])), ...byRecords].filter(({ interval }) => meets(interval, within));
      return {
        string: linkTo('casing-string', placed.model.string, placed.model.string.name),
        channel: linkOf(CHANNELS, channel),
        asked: { fromMm: within?.fromMm ?? null, toMm: within?.toMm ?? null, windowMm, asKnownAt },
        rules: rulesTold(channel, limits, unjudgedNoise(stretches, windowMm)),
        findings: findings.sort((a, b) => a.interval.fromMm - b.interval.fromMm || a.interval.toMm - b.interval.toMm || a.rule.localeCompare(b.rule)),
        cost: costOf(stretches),
        cautions: [QUESTION, IN_CELLS, ...unplacedCaution(placed)],
      };
    });
  }

  private async read(placed: PlacedSignal, within: Interval | null, lostFromMm: number): Promise<WatchedStretch[]> {
    const { stuckAfter } = placed.channel;
    const rules = { stuckAfter, isMarkedWithin: stuckAfter !== null && await this.isMarked(placed, stuckAfter) };
    const found: WatchedStretch[] = [];
    let mostRuns = MOST_RUNS;
    try {
      for (const stretch of placed.stretches) {
        const one = await this.watched.of(placed, stretch, within, { ...rules, lostFromMm, mostRuns });
        if (one !== null) found.push(one);
        mostRuns -= one === null ? 0 : Math.max(one.runs.missing.length, one.runs.identical.length);
      }
    } catch (error) {
      throw error instanceof TooManyRuns ? tooManyRuns(within) : error;
    }
    return found;
  }

  private async isMarked({ channel }: PlacedSignal, stuckAfter: number): Promise<boolean> {
    const { rows } = await run<{ marked: boolean }>(this.desk.dataSource.manager, MARKED, [channel.stringId, channel.id, stuckAfter]);
    return rows[0]?.marked ?? false;
  }

  /** What marks say, and what of splices a run left out. */
  private async byRecords(placed: PlacedSignal, asKnownAt: string | null): Promise<WatchFindingAnswer[]> {
    const { channel } = placed;
    const { id, stringId, spliceMarginMm } = channel;
    const marks = (await this.marks.ofString(stringId, asKnownAt)).filter(({ channelIds, runId }) => channelIds.includes(id) && placed.runs.has(runId));
    const off = marks.filter(({ cause }) => cause === 'off-weld-line').map((mark) => told(placed, markedOff(mark), [linkOf(SIGNAL_MARKS, mark)]));
    if (spliceMarginMm === null) return off;
    const splices = await this.splices.ofString(stringId, asKnownAt);
    if (splices.length === 0) return off;
    const tracks = await this.tracks.of(stringId, id, asKnownAt);
    const lifted = liftedProbes(splices, tracks, marks, spliceMarginMm).flatMap(({ splice, runId, blind, marks: own }) => blind.intervals.map((interval) => {
      const by = own.filter(({ span }) => IntervalSet.of(interval).overlaps(span));
      return told(placed, overSplice(splice.number, runId, interval, by.length > 0), [linkOf(SPLICES, splice), ...by.map((mark) => linkOf(SIGNAL_MARKS, mark))]);
    }));
    return [...off, ...lifted];
  }
}

const meets = ({ fromMm, toMm }: Interval, within: Interval | null): boolean => within === null || (fromMm < within.toMm && toMm > within.fromMm);

function demandRoom({ directory, stretches }: PlacedSignal, within: Interval | null): void {
  const blocks = stretches.reduce((sum, stretch) => {
    const { fromBlock, toBlock } = blocksWithin(directory, stretch, within);
    return sum + toBlock - fromBlock;
  }, 0);
  if (blocks <= MOST_BLOCKS) return;
  throw new Refused(422, 'too-much-at-once', 'These are too many samples for one answer.', [{
    field: 'toM', value: within?.toMm ?? null, limit: `a shorter interval: at most ${MOST_BLOCKS} blocks of 4096 samples at a time, and these are ${blocks}`,
  }]);
}

const tooManyRuns = (within: Interval | null): Refused => new Refused(422, 'too-much-at-once', 'These are too many findings for one answer.', [{
  field: 'toM', value: within?.toMm ?? null, limit: `a shorter interval: at most ${MOST_RUNS} runs of identical readings, or of missing samples, at a time`,
}]);

const markedOff = ({ runId, span }: SignalMark): Finding =>
  ({ rule: 'off-weld-line', interval: span, runId, time: null, figure: null, limit: null, unit: null, words: 'marked as read beside the weld line' });

function overSplice(number: string, runId: string, interval: Interval, isMarked: boolean): Finding {
  const figure = interval.toMm - interval.fromMm;
  const words = isMarked ? `the probe was lifted over ${figure} mm at splice ${number}` : `no valid sample speaks for ${figure} mm at splice ${number}, which the run went over`;
  return { rule: 'probe-lifted-over-splice', interval, runId, time: null, figure, limit: 0, unit: 'mm', words };
}

function told({ runs }: PlacedSignal, { runId, time, interval, rule, figure, limit, unit, words }: Finding, records: RecordLink[]): WatchFindingAnswer {
  const row = runs.get(runId);
  if (row === undefined) throw new Error(`inspection run ${runId} is not known`);
  return {
    rule, interval: { fromMm: interval.fromMm, toMm: interval.toMm }, run: linkOf(INSPECTION_RUNS, row), from: time === null ? null : instantOf(time.fromUs),
    until: time === null ? null : instantOf(time.toUs), figure, limit, unit, words, records,
  };
}

const costOf = (stretches: readonly WatchedStretch[]): ChannelWatchAnswer['cost'] => ({
  samples: stretches.reduce((sum, { cells }) => sum + cells.reduce((own, { summary }) => own + samplesOf(summary), 0), 0),
  blocks: stretches.reduce((sum, { blocks }) => sum + blocks, 0),
  blocksRead: stretches.reduce((sum, { blocksRead }) => sum + blocksRead, 0),
});

/** Samples without a footage cannot be judged along the pipe. */
export function unplacedCaution({ unplaced }: Pick<PlacedSignal, 'unplaced'>): string[] {
  const samples = unplaced.reduce((sum, one) => sum + one.samples, 0);
  if (samples === 0) return [];
  const why = [...new Set(unplaced.map((one) => one.why.replaceAll('-', ' ')))].join(', ');
  return [`${samples} samples have no footage (${why}) and are in no figure.`];
}
