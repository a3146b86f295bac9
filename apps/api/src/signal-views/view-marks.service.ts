import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import { roundMm } from '#libs/length';
import { instantOf } from '#libs/persistence';
import type { PipeMarkKind, TrackMarkKind } from '#libs/reports';
import type { Channel } from '../channels/channel.entity.js';
import type { Indication } from '../indications/indication.entity.js';
import { IndicationsService } from '../indications/indications.service.js';
import { CutOutsService } from '../line/cut-outs.service.js';
import { linkOf, CUT_OUTS, INDICATIONS, INSPECTION_RUNS, REFERENCE_CHECKS, SEAM_EVENTS, SIGNAL_MARKS, SPLICES } from '../recall/record-kinds.js';
import { outcomeOf } from '../reference-checks/reference-check.rules.js';
import { ReferenceChecksService } from '../reference-checks/reference-checks.service.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import { SignalMarksService } from '../signal-marks/signal-marks.service.js';
import { reachOf } from '../signals/block-span.js';
import { KeptAnswers } from '../signals/kept-answers.js';
import { SignalStates, type SignalState } from '../signals/signal-states.service.js';
import type { PlacedSignal } from '../signals/signal-stretches.service.js';
import { SplicesService } from '../splices/splices.service.js';
import type { RecordLink } from '../trace/trace.dto.js';

/** Something on record at a place of the pipe, by footage. */
export interface ViewMark<K extends string> extends Interval {
  readonly kind: K;
  readonly label: string;
  readonly record: RecordLink;
}

/** Marks of strings, and of channels, that are kept in all: some 20 MB. */
const KEPT_MARKS = 50_000;
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

/** What stands beside a signal: on the pipe, and in what the channel itself was told. */
@Injectable()
export class ViewMarks {
  private readonly ofStrings = new KeptAnswers<readonly ViewMark<PipeMarkKind>[]>(KEPT_MARKS, ({ length }) => length);
  private readonly ofChannels = new KeptAnswers<readonly ViewMark<TrackMarkKind>[]>(KEPT_MARKS, ({ length }) => length);

  constructor(
    states: SignalStates,
    private readonly splices: SplicesService,
    private readonly cutOuts: CutOutsService,
    private readonly events: SeamEventsService,
    private readonly checks: ReferenceChecksService,
    private readonly marks: SignalMarksService,
    private readonly indications: IndicationsService,
  ) {
    states.watch(events, checks, marks, indications);
  }

  /** Splices, cut-outs and stops of a string that meet a stretch of footage, by what was known at an instant; `state` is what was seen just now. */
  async onPipe(stringId: string, footage: Interval, asKnownAt: string | null, state: SignalState): Promise<ViewMark<PipeMarkKind>[]> {
    // The revision moves with splices and cut-outs.
    const marks = await this.ofStrings.of(`${stringId}@${asKnownAt ?? ''}`, `${state.revision} ${state.versionsOf(this.events)}`, () => this.allOnPipe(stringId, asKnownAt));
    return marks.filter((mark) => meets(mark, footage));
  }

  private async allOnPipe(stringId: string, asKnownAt: string | null): Promise<ViewMark<PipeMarkKind>[]> {
    const [splices, cutOuts, events] = await Promise.all([
      this.splices.ofString(stringId, asKnownAt), this.cutOuts.ofString(stringId, asKnownAt), this.events.inOrder(stringId, asKnownAt),
    ]);
    return [
      ...splices.map((row) => ({ ...row.span, kind: 'splice' as const, label: row.number, record: linkOf(SPLICES, row) })),
      ...cutOuts.map((row) => ({ ...row.span, kind: 'cut-out' as const, label: row.cause.slice(0, 60), record: linkOf(CUT_OUTS, row) })),
      ...events.filter(({ event }) => event === 'stop' || event === 'set-up-change').map((row) => ({
        ...row.span, kind: row.event === 'stop' ? 'stop' as const : 'set-up change' as const, label: row.cause?.slice(0, 60) ?? '', record: linkOf(SEAM_EVENTS, row),
      })),
    ];
  }

  /** Reference checks, indications (the strongest first), marked intervals and reversals of a channel that meet a stretch of footage. */
  async ofChannel(placed: PlacedSignal, footage: Interval, asKnownAt: string | null, state: SignalState): Promise<{ readonly onTrack: ViewMark<TrackMarkKind>[]; readonly reversals: ViewMark<'reversal'>[] }> {
    const { channel } = placed;
    const stamp = `${channel.version} ${state.versionsOf(this.checks, this.marks, this.indications)}`;
    const onTrack = await this.ofChannels.of(`${channel.id}@${asKnownAt ?? ''}`, stamp, () => this.allOfChannel(channel, asKnownAt));
    return { onTrack: onTrack.filter((mark) => meets(mark, footage)), reversals: reversalsOf(placed).filter((mark) => meets(mark, footage)) };
  }

  private async allOfChannel(channel: Channel, asKnownAt: string | null): Promise<ViewMark<TrackMarkKind>[]> {
    const [checks, marks, indications] = await Promise.all([
      this.checks.onString(channel.stringId, channel.id, asKnownAt), this.marks.onString(channel.stringId, asKnownAt), this.indications.ofString(channel.stringId, asKnownAt),
    ]);
    const sense = channel.threshold?.sense ?? 'above';
    const own = indications.filter(({ channelIds }) => channelIds.includes(channel.id)).sort(strongestFirst(sense));
    return [
      ...checks.flatMap((row) => {
        const outcome = outcomeOf(row, channel.id);
        return outcome === null ? [] : [{ ...row.span, kind: `check-${outcome}` as const, label: dayAndTime(row.observedAt), record: linkOf(REFERENCE_CHECKS, row) }];
      }),
      ...own.map((row) => ({ ...row.span, kind: 'indication' as const, label: `${row.imperfection ?? ''} ${peakText(row, sense)}`.trim() || 'seen', record: linkOf(INDICATIONS, row) })),
      ...marks.filter(({ channelIds }) => channelIds.includes(channel.id)).map((row) => ({ ...row.span, kind: row.effect, label: row.cause, record: linkOf(SIGNAL_MARKS, row) })),
    ];
  }
}

function reversalsOf({ stretches, runs, directory }: PlacedSignal): ViewMark<'reversal'>[] {
  return stretches.filter(({ falls }) => falls).flatMap((stretch) => {
    const run = runs.get(stretch.runId);
    if (run === undefined) return [];
    const { fromMm, toMm } = reachOf(directory, stretch);
    return [{ fromMm: roundMm(fromMm), toMm: roundMm(toMm) + 1, kind: 'reversal' as const, label: dayAndTime(instantOf(stretch.fromUs)), record: linkOf(INSPECTION_RUNS, run) }];
  });
}

/** By peak; what has none comes last. */
const strongestFirst = (sense: 'above' | 'below') => (one: Indication, other: Indication): number => {
  const size = ({ peak }: Indication): number => (peak === null ? -Infinity : Number(peak) * (sense === 'above' ? 1 : -1));
  return size(other) - size(one) || one.span.fromMm - other.span.fromMm;
};

/** A saturated peak is at least, or with a threshold below at most, what it says. */
const peakText = ({ peak, peakUnit, peakIsBound }: Indication, sense: 'above' | 'below'): string =>
  (peak === null ? '' : `${peakIsBound === true ? (sense === 'above' ? '≥ ' : '≤ ') : ''}${peak} ${peakUnit ?? ''}`);

/** `3 Mar 07:56 UTC`: a chart goes over many days, and no one of them goes without saying. */
const dayAndTime = (instant: string): string => `${Number(instant.slice(8, 10))} ${MONTHS[Number(instant.slice(5, 7)) - 1] ?? ''} ${instant.slice(11, 16)} UTC`;

const meets = ({ fromMm, toMm }: Interval, footage: Interval): boolean => fromMm < footage.toMm && toMm > footage.fromMm;
