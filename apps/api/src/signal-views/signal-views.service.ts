import { Injectable } from '@nestjs/common';
import { samplesOf } from '#libs/signals';
import { LengthModels } from '../line/length-models.service.js';
import { CHANNELS, linkOf } from '../recall/record-kinds.js';
import { EnvelopeViews, type PipeColumn } from '../signals/envelope-views.service.js';
import { SignalStates } from '../signals/signal-states.service.js';
import { SignalStretches } from '../signals/signal-stretches.service.js';
import { samplesOffPipe } from '../signals/stretch.js';
import { linkTo } from '../trace/record-link.js';
import { pipeAxisOf, type PipeAxis } from './pipe-axis.js';
import type { SignalViewQuestion } from './signal-view-question.js';
import type { SignalViewAnswer, ViewColumnsAnswer, ViewMarkAnswer } from './signal-view.dto.js';
import { ViewMarks, type ViewMark } from './view-marks.service.js';

const CAUTIONS = [
  'A column shows the least, the greatest and the mean of its samples; where it is empty nothing was read, which is not a clean result.',
  'No indication means none above this threshold, with this reference reflector, on these metres. It is not "no defect".',
  'These records are not a safety interlock.',
];
const DEPTH_CAUTION = 'Depth is an estimate: mind ± and datum.';
const UNSURE_CAUTION = 'Some of these depths lie past the last shoe tie and rest on the default length ratio.';

/** Looks at a channel along the pipe. */
@Injectable()
export class SignalViews {
  constructor(
    private readonly states: SignalStates,
    private readonly models: LengthModels,
    private readonly stretches: SignalStretches,
    private readonly envelopes: EnvelopeViews,
    private readonly marks: ViewMarks,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 for a string or channel not known then, 422 for depths that are not there, 409 while the samples are kept outside. */
  async of(stringId: string, question: SignalViewQuestion): Promise<SignalViewAnswer> {
    const { channelId, asKnownAt, widthPx } = question;
    const state = await this.states.of(stringId, channelId);
    const axis = pipeAxisOf(await this.models.of(stringId, asKnownAt, state.revision), question, widthPx);
    const footage = footageOf(axis);
    const placed = await this.stretches.of(stringId, channelId, asKnownAt, state);
    const [columns, onPipe, { onTrack, reversals }] = await Promise.all([
      this.envelopes.of(placed, axis.edgesMm), this.marks.onPipe(stringId, footage, asKnownAt, state), this.marks.ofChannel(placed, footage, asKnownAt, state),
    ]);
    const { channel, model } = placed;
    return {
      string: linkTo('casing-string', model.string, model.string.name), channel: linkOf(CHANNELS, channel), unit: channel.unit, by: axis.by, interval: { ...axis.interval },
      widthPx, plusMinusMm: axis.plusMinusMm, asKnownAt, threshold: channel.threshold === null ? null : { ...channel.threshold },
      columns: columnsAnswer(axis.columnsOf(columns)),
      marks: [...onPipe, ...reversals, ...onTrack].flatMap((mark) => onAxis(axis, mark)),
      unplacedSamples: samplesOffPipe(placed),
      cautions: [...CAUTIONS, ...(axis.plusMinusMm === null ? [] : [DEPTH_CAUTION]), ...(axis.unsure.length === 0 ? [] : [UNSURE_CAUTION])],
    };
  }
}

/** The footage that an axis reaches over, in whole mm. */
export function footageOf({ edgesMm }: PipeAxis): { readonly fromMm: number; readonly toMm: number } {
  return { fromMm: Math.max(0, Math.floor(edgesMm[0] as number)), toMm: Math.max(1, Math.ceil(edgesMm.at(-1) as number)) };
}

const onAxis = (axis: PipeAxis, { kind, label, record, fromMm, toMm }: ViewMark<ViewMarkAnswer['kind']>): ViewMarkAnswer[] =>
  axis.onAxis({ fromMm, toMm: Math.max(toMm, fromMm + 1) }).map((place) => ({ ...place, kind, label, record }));

function columnsAnswer(columns: readonly PipeColumn[]): ViewColumnsAnswer {
  const figure = (of: (column: PipeColumn) => number | null): (number | null)[] => columns.map(of);
  return {
    min: figure(({ summary }) => summary?.least?.value ?? null),
    max: figure(({ summary }) => summary?.greatest?.value ?? null),
    mean: figure(({ summary }) => (summary === null || summary.n === 0 ? null : summary.mean)),
    samples: figure(({ summary }) => (summary === null ? 0 : samplesOf(summary))),
    missing: figure(({ summary }) => summary?.counts.missing ?? 0),
    doubtful: figure(({ summary }) => (summary === null ? 0 : summary.counts.suspectStuck + summary.counts.implausible)),
    saturated: figure(({ summary }) => (summary === null ? 0 : summary.counts.saturatedHigh + summary.counts.saturatedLow)),
    looks: figure(({ looks }) => looks),
    sharpness: columns.map(({ sharpness }) => sharpness[0]).join(''),
  };
}
