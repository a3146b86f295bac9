import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import { notFound, Refused, refusedField } from '../http/problem.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { pipeAxisOf, type PipeAxis } from '../signal-views/pipe-axis.js';
import { footageOf } from '../signal-views/signal-views.service.js';
import { answered } from '../trace/answered.js';
import type { ChartedPipe } from './chart-question.js';

/** As many columns as pictures show apart. */
const WIDTH_PX = 1_000;

/** The pipe that a chart is asked of, laid out. */
export interface LaidOutPipe {
  readonly model: StringModel;
  readonly axis: PipeAxis;
  /** Footage, mm. */
  readonly footage: Interval;
}

/** Finds the pipe that a question means. */
@Injectable()
export class ChartedPipes {
  constructor(
    private readonly models: LengthModels,
    private readonly segments: CoilSegmentsService,
  ) {}

  /** Refuses with 404 when the string or the coil was not known, with 422 when nothing is where it was asked for. */
  async of(stringId: string, pipe: ChartedPipe, asKnownAt: string | null): Promise<LaidOutPipe> {
    const model = await this.models.of(stringId, asKnownAt);
    if (pipe.by === 'coil') return laidOut(model, await this.ofCoil(stringId, pipe.coilId, asKnownAt));
    if (pipe.by === 'time') return laidOut(model, await answered(() => weldedBetween(model, pipe.from, pipe.to)));
    const axis = pipeAxisOf(model, { ...pipe, asKnownAt }, WIDTH_PX);
    return { model, axis, footage: pipe.by === 'footage' ? pipe.interval : footageOf(axis) };
  }

  /** From the first to the last pipe of a coil. */
  private async ofCoil(stringId: string, coilId: string, asKnownAt: string | null): Promise<Interval> {
    const spans = (await this.segments.ofCoils([coilId], asKnownAt)).filter((row) => row.stringId === stringId).map(({ span }) => span);
    const [first, ...others] = spans;
    if (first === undefined) throw notFound('coil on this string', coilId);
    return others.reduce((hull, { fromMm, toMm }) => ({ fromMm: Math.min(hull.fromMm, fromMm), toMm: Math.max(hull.toMm, toMm) }), first);
  }
}

function laidOut(model: StringModel, footage: Interval): LaidOutPipe {
  return { model, axis: pipeAxisOf(model, { by: 'footage', interval: footage, shoeMdMm: null, at: null, asKnownAt: null }, WIDTH_PX), footage };
}

function weldedBetween({ lengths, readings }: StringModel, from: string, to: string): Interval {
  const [first, last] = [readings[0], readings.at(-1)];
  if (first === undefined || last === undefined) throw new Refused(422, 'no-readings', 'This string has no counter reading: nothing tells what was welded when.');
  const [fromUs, toUs] = [Math.max(microseconds(from), microseconds(first.observedAt)), Math.min(microseconds(to), microseconds(last.observedAt))];
  if (fromUs >= toUs) throw refusedField('nothing-welded', 'fromTime', from, `a time between the first and the last counter reading, ${first.observedAt} to ${last.observedAt}`);
  const [fromMm, toMm] = [Math.round(lengths.weldFootageAt(fromUs).footageMm), Math.round(lengths.weldFootageAt(toUs).footageMm)];
  if (fromMm >= toMm) throw refusedField('nothing-welded', 'fromTime', from, 'a time in which pipe was welded');
  return { fromMm, toMm };
}
