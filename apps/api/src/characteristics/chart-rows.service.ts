import { Injectable } from '@nestjs/common';
import type { ControlChartPlan } from '../control-charts/control-chart-plan.js';
import { CharacteristicSources } from './characteristic-sources.service.js';
import { ChartGrounds, type ChartQuestion } from './chart-grounds.service.js';
import type { ChartRow } from './chart-row.js';
import { pointsOf } from './row-points.js';

/** Puts the readings of a chart together into its points. */
@Injectable()
export class ChartRows {
  constructor(
    private readonly grounds: ChartGrounds,
    private readonly sources: CharacteristicSources,
  ) {}

  /** The points of a chart on the pipe asked about, each with its readings and their records. Refuses with 404 when there was no such string or channel. */
  async of(plan: ControlChartPlan, question: ChartQuestion): Promise<ChartRow> {
    const source = this.sources.of(plan.characteristic.of);
    const ground = await this.grounds.of(plan, question, source);
    return { ground, ...pointsOf(await source.readings(ground, plan), source, ground, plan) };
  }
}
