import { Injectable } from '@nestjs/common';
import { interval, type Interval } from '#libs/intervals';
import { LengthError, roundMm } from '#libs/length';
import { microseconds } from '#libs/persistence';
import { ChannelsService } from '../channels/channels.service.js';
import { CoilsService } from '../coils/coils.service.js';
import type { ControlChartPlan } from '../control-charts/control-chart-plan.js';
import { madeBy } from '../evidence/evidence-grounds.service.js';
import { InspectionRunsService } from '../inspection-runs/inspection-runs.service.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { ReferenceChecksService } from '../reference-checks/reference-checks.service.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { SplicesService } from '../splices/splices.service.js';
import type { CharacteristicSource } from './characteristic-source.js';
import { boundariesOf, type BreakingRecords, type PlacedChange } from './chart-boundaries.js';
import { exclusionsOf } from './chart-exclusions.js';
import type { BoundaryKind, ChartGround } from './chart-ground.js';

/** Which pipe is charted: all that was made where the interval is null; as known at an instant, or now (null). */
export interface ChartQuestion {
  readonly stringId: string;
  readonly interval: Interval | null;
  /** The row begins at the last boundary up to the interval, and not before this footage: no pattern of the interval is cut then. The interval itself when absent. */
  readonly backToMm?: number;
  readonly asKnownAt: string | null;
}

/** What a source says of the ground that it needs. */
type Needs = Pick<CharacteristicSource, 'brokenBy' | 'leavesOut'>;

/** Gathers the pipe that is charted, with what breaks a row of readings on it and what of it enters no chart. */
@Injectable()
export class ChartGrounds {
  constructor(
    private readonly models: LengthModels,
    private readonly segments: CoilSegmentsService,
    private readonly splices: SplicesService,
    private readonly rejoins: RejoinsService,
    private readonly coils: CoilsService,
    private readonly events: SeamEventsService,
    private readonly checks: ReferenceChecksService,
    private readonly runs: InspectionRunsService,
    private readonly channels: ChannelsService,
  ) {}

  /** Only what the source needs is read. Refuses with 404 when there was no such string. */
  async of({ characteristic: { channelIds }, leaveOut }: Pick<ControlChartPlan, 'characteristic' | 'leaveOut'>, question: ChartQuestion, needs: Needs): Promise<ChartGround> {
    const { stringId, asKnownAt } = question;
    const [model, segments, splices] = await Promise.all([
      this.models.of(stringId, asKnownAt), this.segments.ofString(stringId, asKnownAt), this.splices.ofString(stringId, asKnownAt),
    ]);
    const coilIds = new Set([...segments.map(({ coilId }) => coilId), ...splices.flatMap(({ leavingCoilId, enteringCoilId }) => [leavingCoilId, enteringCoilId])]);
    const [coils, breaking] = await Promise.all([this.coils.rowsByIds([...coilIds], asKnownAt), this.breaking(model, asKnownAt, needs, channelIds)]);
    const coilNumbers = new Map([...coils].map(([id, { number }]) => [id, number]));
    const records: BreakingRecords = { ...breaking, segments, splices, coilNumbers };
    const boundaries = boundariesOf(records, needs.brokenBy);
    const madeMm = madeBy(model);
    const asked = question.interval ?? interval(0, Math.max(madeMm, 1));
    return {
      stringId, asKnownAt, model, interval: begun(asked, question.backToMm ?? asked.fromMm, boundaries), madeMm, segments, splices, coilNumbers, boundaries,
      exclusions: needs.leavesOut ? exclusionsOf(records, leaveOut) : [],
    };
  }

  private async breaking(model: StringModel, asKnownAt: string | null, { brokenBy, leavesOut }: Needs, channelIds: readonly string[]): Promise<Omit<BreakingRecords, 'segments' | 'splices' | 'coilNumbers'>> {
    const { id } = model.string;
    const breaks = (...kinds: readonly BoundaryKind[]): boolean => kinds.some((kind) => brokenBy.includes(kind));
    const [rejoins, events, checks, runs] = await Promise.all([
      leavesOut || breaks('re-join', 'cut-out') ? this.rejoins.ofString(id, asKnownAt) : [],
      leavesOut || breaks('stop', 'set-up change') ? this.events.inOrder(id, asKnownAt) : [],
      breaks('check') ? this.checks.onString(id, null, asKnownAt) : [],
      breaks('inspection run') ? this.runsOf(model, asKnownAt, channelIds) : [],
    ]);
    return {
      rejoins, events, runs, cutOuts: model.records.cutOuts,
      checks: checks.filter(({ results }) => results.some(({ channelId }) => channelIds.includes(channelId))),
      // The first says how the line was, and changed nothing.
      setups: model.records.setups.toSorted((one, other) => microseconds(one.observedAt) - microseconds(other.observedAt)).slice(1).flatMap((row) => placed(model, row, null)),
    };
  }

  /** The runs of some channels, where each began under each of them. */
  private async runsOf(model: StringModel, asKnownAt: string | null, channelIds: readonly string[]): Promise<PlacedChange<Awaited<ReturnType<InspectionRunsService['onString']>>[number]>[]> {
    const { id } = model.string;
    const [runs, channels] = await Promise.all([this.runs.onString(id, asKnownAt), this.channels.everOnString(id, asKnownAt)]);
    const stations = new Map(channels.map((channel) => [channel.id, channel.station]));
    return runs.flatMap((run) => {
      const own = new Set(run.channelIds.filter((one) => channelIds.includes(one)).map((one) => stations.get(one) ?? null));
      return [...own].flatMap((station) => placed(model, run, station));
    });
  }
}

/** The interval from the last boundary up to it on, or from the footage that it goes back to, whichever is nearer. */
function begun({ fromMm, toMm }: Interval, backToMm: number, boundaries: ChartGround['boundaries']): Interval {
  const last = boundaries.findLast(({ atMm }) => atMm <= fromMm)?.atMm ?? backToMm;
  return interval(Math.min(fromMm, Math.max(backToMm, last)), toMm);
}

/** What happened at an instant, with the footage under a station (null: the weld point) then; nowhere where that is not known. */
function placed<R extends { readonly observedAt: string }>({ line, lengths }: StringModel, row: R, station: string | null): PlacedChange<R>[] {
  const atUs = microseconds(row.observedAt);
  const probe = line.probeAt(station, atUs);
  if (probe === null) return [];
  try {
    return [{ row, atMm: roundMm(probe.materialMm(lengths.weldFootageAt(atUs).footageMm)) }];
  } catch (error) {
    if (error instanceof LengthError) return [];
    throw error;
  }
}
