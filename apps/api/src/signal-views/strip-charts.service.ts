import { Injectable } from '@nestjs/common';
import type { ChartTrack, StripChart, StripChartReportData } from '#libs/reports';
import { drawStripChartSvg, ReportDataError } from '#libs/reports';
import { normalInstant } from '#libs/persistence';
import type { Channel } from '../channels/channel.entity.js';
import { ChannelsService } from '../channels/channels.service.js';
import { notFound, Refused, refusedField } from '../http/problem.js';
import { InspectionProofs } from '../inspection-proof/inspection-proofs.service.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf } from '../records/write-request.js';
import { ReportPress } from '../reports/report-press.js';
import { EnvelopeViews } from '../signals/envelope-views.service.js';
import { blocksWithin } from '../signals/block-span.js';
import { SignalStates, type SignalState } from '../signals/signal-states.service.js';
import { SignalStretches, type PlacedSignal } from '../signals/signal-stretches.service.js';
import { WellsService } from '../wells/wells.service.js';
import { pipeAxisOf, type PipeAxis } from './pipe-axis.js';
import { MOST_TRACKS, type StripChartQuestion } from './signal-view-question.js';
import { footageOf } from './signal-views.service.js';
import { ViewMarks, type ViewMark } from './view-marks.service.js';

/** As many columns as paper and screens show apart. */
const WIDTH_PX = 1_000;
/** A column takes in so many times the usual distance of samples: as far apart they leave no gap. */
const STEPS_A_COLUMN = 1.5;
const QUANTITIES = { footage: 'footage', outer: 'outer-wall depth', inner: 'inner-wall depth' } as const;
const UNSURE = 'past the last shoe tie: default length ratio';

/** Draws channels of a string along the pipe, one below the other. */
@Injectable()
export class StripCharts {
  constructor(
    private readonly desk: RecordDesk,
    private readonly states: SignalStates,
    private readonly models: LengthModels,
    private readonly channels: ChannelsService,
    private readonly stretches: SignalStretches,
    private readonly envelopes: EnvelopeViews,
    private readonly proofs: InspectionProofs,
    private readonly marks: ViewMarks,
    private readonly wells: WellsService,
    private readonly press: ReportPress,
  ) {}

  /** The chart as SVG. Refuses as `SignalViews.of`, and with 422 when the string has no channels, or too many to draw all. */
  async svg(stringId: string, question: StripChartQuestion): Promise<string> {
    const { chart } = await this.drawn(stringId, question);
    return drawn(() => drawStripChartSvg(chart));
  }

  /** The chart as a PDF. Refuses as `svg`, and as the press does. */
  async pdf(stringId: string, question: StripChartQuestion): Promise<Uint8Array> {
    const now = await this.desk.databaseNow();
    const asKnownAt = question.asKnownAt === null ? now : normalInstant(question.asKnownAt);
    const { chart, model } = await this.drawn(stringId, question);
    const well = await this.wells.row(model.string.wellId, question.asKnownAt);
    const content = { well: well.name, string: model.string.name, revision: `as known at ${asKnownAt}`, chart };
    const data: StripChartReportData = { ...content, dataCutOff: asKnownAt, generatedAt: now, fingerprintSha256: digestOf(content) };
    return this.press.draw({ report: 'strip-chart', data, paper: question.paper });
  }

  private async drawn(stringId: string, question: StripChartQuestion): Promise<{ readonly chart: StripChart; readonly model: StringModel }> {
    const { asKnownAt, by } = question;
    const model = await this.models.of(stringId, asKnownAt);
    const channels = await this.asked(stringId, question);
    const state = await this.states.of(stringId, null);
    const axis = pipeAxisOf(model, question, WIDTH_PX);
    const footage = footageOf(axis);
    const onPipe = (await this.marks.onPipe(stringId, footage, asKnownAt, state)).flatMap((mark) => placed(axis, mark));
    const tracks: ChartTrack[] = [];
    for (const channel of channels) {
      const signal = await this.stretches.of(stringId, channel.id, asKnownAt);
      const { track, reversals } = await this.track(signal, pipeAxisOf(model, question, columnsFor(signal, footage)), footage, asKnownAt, state);
      tracks.push(track);
      for (const mark of reversals) if (!onPipe.some((other) => other.kind === mark.kind && other.fromMm === mark.fromMm && other.toMm === mark.toMm)) onPipe.push(mark);
    }
    const well = await this.wells.row(model.string.wellId, asKnownAt);
    const chart: StripChart = {
      titles: ['Strip chart', `${model.string.name}, ${channels.map(({ name }) => name).join(', ')}`],
      axis: {
        quantity: QUANTITIES[by], ...axis.interval, depth: axis.plusMinusMm === null ? null : { datum: well.datum, uncertaintyMm: axis.plusMinusMm },
        unsure: axis.unsure.map((span) => ({ ...span, words: UNSURE })), second: axis.footagePieces.length === 0 ? null : { quantity: 'footage', pieces: axis.footagePieces },
      },
      marks: onPipe, tracks,
    };
    return { chart, model };
  }

  private async asked(stringId: string, { channelIds, asKnownAt }: StripChartQuestion): Promise<Channel[]> {
    const all = await this.channels.onString(stringId, asKnownAt);
    if (channelIds === null) {
      if (all.length === 0) throw refusedField('no-channels', 'channelIds', null, 'channels of the string; it has none');
      if (all.length > MOST_TRACKS) throw refusedField('too-many-channels', 'channelIds', null, `at most ${MOST_TRACKS} channels; the string has ${all.length}: name some of them`);
      return all;
    }
    return channelIds.map((id) => {
      const channel = all.find((one) => one.id === id);
      if (channel === undefined) throw notFound('channel', id);
      return channel;
    });
  }

  private async track(
    signal: PlacedSignal, axis: PipeAxis, footage: { readonly fromMm: number; readonly toMm: number }, asKnownAt: string | null, state: SignalState,
  ): Promise<{ readonly track: ChartTrack; readonly reversals: ReturnType<typeof placed<'reversal'>> }> {
    const { channel } = signal;
    const columns = await this.envelopes.of(signal, axis.edgesMm);
    const { onTrack, reversals } = await this.marks.ofChannel(signal, footage, asKnownAt, state);
    // What tells of the process inspects no pipe, and has no reference check that could prove it.
    const proof = channel.method === null ? null : await this.proofs.of(channel.stringId, { channelId: channel.id, ...footage, asKnownAt });
    const coverage = (proof?.channels ?? []).flatMap(({ states }) => states.flatMap(({ state, metres }) =>
      metres.intervals.flatMap((span) => axis.onAxis(span).map((place) => ({ ...place, state })))));
    return {
      track: {
        channel: channel.name, measures: channel.measures.replaceAll('-', ' '), unit: channel.unit, threshold: channel.threshold, columns: axis.columnsOf(columns),
        coverage, marks: onTrack.flatMap((mark) => placed(axis, mark)),
      },
      reversals: reversals.flatMap((mark) => placed(axis, mark)),
    };
  }
}

/** As many columns as have a sample each, where nothing is missing: narrower ones would show gaps between samples that stand far apart. */
function columnsFor({ directory, stretches }: PlacedSignal, footage: { readonly fromMm: number; readonly toMm: number }): number {
  const stepsMm = stretches.flatMap((stretch) => {
    const { fromBlock, toBlock } = blocksWithin(directory, stretch, footage);
    return Array.from({ length: toBlock - fromBlock }, (_, nth) => directory.block(fromBlock + nth)).filter(({ samples }) => samples > 1)
      .map(({ firstPosition, lastPosition, samples }) => Math.abs(stretch.footageOf(lastPosition) - stretch.footageOf(firstPosition)) / (samples - 1));
  }).sort((a, b) => a - b);
  const usualMm = stepsMm[stepsMm.length >>> 1] ?? 0;
  const most = Math.floor((footage.toMm - footage.fromMm) / (usualMm * STEPS_A_COLUMN));
  return Math.min(Math.max(most, 1), WIDTH_PX);
}

const placed = <K extends string>(axis: PipeAxis, { kind, label, fromMm, toMm }: ViewMark<K>): { kind: K; label: string; fromMm: number; toMm: number }[] =>
  axis.onAxis({ fromMm, toMm: Math.max(toMm, fromMm + 1) }).map((place) => ({ kind, label, ...place }));

function drawn(work: () => string): string {
  try {
    return work();
  } catch (error) {
    if (error instanceof ReportDataError) throw new Refused(422, 'not-drawn', `The chart cannot be drawn: ${error.message}.`);
    throw error;
  }
}
