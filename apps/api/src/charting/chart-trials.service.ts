import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import { ChartRows } from '../characteristics/chart-rows.service.js';
import type { ChartRow } from '../characteristics/chart-row.js';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import { Refused } from '../http/problem.js';
import { canonicalText } from '../records/canonical-text.js';
import { designOf, planOf } from './chart-design.js';
import type { ChartPart } from './chart-part.js';
import type { ChartStudy } from './frozen-study.js';
import { frozenStudy, studied, type Studied, type Studying } from './chart-study.js';
import { leftOutSums, leftOutWords } from './left-out-sums.js';
import { unmet, type Removal } from './row-places.js';

/** Limits that some pipe would give, with all that they were found from. */
export interface ChartTrial {
  readonly study: ChartStudy;
  /** Canonical JSON of the study, and its SHA-256. */
  readonly text: string;
  readonly sha256: string;
  /** The points against those limits. */
  readonly part: ChartPart;
}

/** What limits are tried of. */
interface Tried {
  readonly chart: ControlChart;
  readonly interval: Interval;
  readonly removal: Removal;
  readonly asKnownAt: string | null;
}

/** By what names a request says which points are to be removed. */
interface RemovalFields {
  readonly places: string;
  readonly labels: string;
}

const REMOVALS: RemovalFields = { places: 'removeM', labels: 'removeLabels' };

/** Finds limits from the points of some pipe, without those that are to be removed. */
@Injectable()
export class ChartTrials {
  constructor(private readonly rows: ChartRows) {}

  /** The limits of some pipe as known now, to be signed. Refuses with 422 when a removal meets no point, and when no limits are to be had from the rest. */
  async propose(chart: ControlChart, interval: Interval, removal: Removal, names: RemovalFields = REMOVALS): Promise<ChartTrial> {
    const { studying, found } = await this.tried({ chart, interval, removal, asKnownAt: null }, names);
    const study = frozenStudy(studying, found);
    return { study, ...canonicalText(study), part: partOf(studying, found, interval) };
  }

  /** The points of some pipe against limits from them, to be seen alone: nothing is put together to be signed. Refuses as `propose`. */
  async part(chart: ControlChart, interval: Interval, removal: Removal, asKnownAt: string | null): Promise<ChartPart> {
    const { studying, found } = await this.tried({ chart, interval, removal, asKnownAt }, REMOVALS);
    return partOf(studying, found, interval);
  }

  private async tried({ chart, interval, removal, asKnownAt }: Tried, names: RemovalFields): Promise<{ readonly studying: Studying; readonly found: Studied }> {
    const plan = planOf(chart);
    const row = await this.rows.of(plan, { stringId: plan.stringId, interval, asKnownAt });
    demandMet(row, removal, names);
    const studying = { chart: { kind: 'control-chart', id: chart.id, version: chart.version }, plan, row, removal } as const;
    return { studying, found: studiedOr422(studying) };
  }
}

const partOf = ({ plan, row }: Studying, { limits, charted, isRemoved, advice, better }: Studied, asked: Interval): ChartPart =>
  ({ limits: null, asked, plan, design: designOf(plan), figures: limits, row, charted, isRemoved, advice, better });

function demandMet({ points }: ChartRow, removal: Removal, names: RemovalFields): void {
  const { places, labels } = unmet(points, removal);
  const faults = [
    ...(places.length === 0 ? [] : [{ field: names.places, value: places.map(({ fromMm, toMm }) => `${fromMm / 1000}-${toMm / 1000}`), limit: 'footage, in m, of points of the chart on this pipe' }]),
    ...(labels.length === 0 ? [] : [{ field: names.labels, value: labels, limit: 'labels of points of the chart that have no place' }]),
  ];
  if (faults.length > 0) throw new Refused(422, 'nothing-removed', 'What is to be removed has to be points of the chart.', faults);
}

function studiedOr422(studying: Studying): Studied {
  try {
    return studied(studying);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const { points, leftOut } = studying.row;
    const [without, why] = [leftOutWords(leftOutSums(leftOut)), points.length === 0 ? 'The chart has no point on this pipe' : `These points give no limits: ${error.message}`];
    throw new Refused(422, 'no-limits', `${why}.${without === '' ? '' : ` Left out: ${without}.`}`);
  }
}
