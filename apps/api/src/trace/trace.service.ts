import { Injectable } from '@nestjs/common';
import { IntervalSet, type Interval } from '#libs/intervals';
import { explainInnerMd, explainOuterMd, LengthError, type Shoe, type Wall, type WallPiece } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { WellPath } from '#libs/survey';
import { Refused } from '../http/problem.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import { NonconformancesService } from '../nonconformances/nonconformances.service.js';
import { answered } from './answered.js';
import { missingOn } from './missing-evidence.js';
import type { Ground } from './ground.js';
import { Grounds } from './grounds.service.js';
import { shoeAnswer, stringAnswer } from './string-answer.js';
import type { TraceQuestion } from './trace-question.js';
import type { BeyondAnswer, ElsewhereAnswer, ExplanationStepAnswer, TraceAnswer, WallAnswer } from './trace.dto.js';
import {
  cutsOn, inspectionsOn, nonconformancesOn, segmentsOn, splicesOn, type AskedOnWall, type WallInputs,
} from './wall-trace.js';

/** Cautions that belong beside every depth (see the trade's own list in the reports). */
export const DEPTH_CAUTIONS = [
  'Depth is an estimate: mind ± and datum before anyone perforates, sets or cuts.',
  'Evidence that is missing is not a clean result.',
  'These records are not a safety interlock; local codes and licensed practice decide.',
];

/** Uncertain ends can let metal stand here that nominally stands up to this far away. */
const LOOK_AROUND_MM = 5_000;

interface Setting {
  readonly model: StringModel;
  readonly ground: Ground;
  readonly shoe: Shoe;
  readonly md: IntervalSet | null;
  readonly footage: IntervalSet | null;
}

/** Answers what stands at a depth, in both walls, from what was known at a time. */
@Injectable()
export class TraceService {
  constructor(
    private readonly models: LengthModels,
    private readonly grounds: Grounds,
    private readonly inspections: InspectionsService,
    private readonly nonconformances: NonconformancesService,
  ) {}

  async trace(stringId: string, question: TraceQuestion): Promise<TraceAnswer> {
    const { asKnownAt } = question;
    const model = await this.models.of(stringId, asKnownAt);
    const ground = await this.grounds.of(model, asKnownAt);
    return answered(async () => {
      const shoe = shoeFor(model, question);
      const setting: Setting = { model, ground, shoe, ...asked(question, ground.path) };
      return wholeAnswer(setting, question, await this.walls(setting, question));
    });
  }

  private async walls(setting: Setting, { asKnownAt }: TraceQuestion): Promise<WallAnswer[]> {
    const { model, shoe } = setting;
    const inputs = [model.lengths.outerWall(shoe), model.lengths.innerWall(shoe)].map((wall) => inputsOf(setting, wall));
    const ground = inputs.reduce((sum, { asked: on }) => sum.union(on.footage), IntervalSet.empty);
    const around = ground.grow(LOOK_AROUND_MM).toMultirange();
    const stringId = model.string.id;
    const coils = setting.ground.pipe.segments.filter(({ segment }) => ground.overlaps(segment.span)).map(({ coil }) => coil.id);
    const [inspections, nonconformances] = await Promise.all([
      this.inspections.touching(stringId, around, asKnownAt),
      this.nonconformances.about(stringId, around, coils, asKnownAt),
    ]);
    return inputs.map((one) => ({
      wall: one.wall.name,
      segments: segmentsOn(one),
      splices: splicesOn(one),
      cutOuts: cutsOn(one),
      inspections: inspectionsOn(one, inspections),
      nonconformances: nonconformancesOn(one, nonconformances),
      missing: missingOn(one, inspections),
      beyond: beyondOf(setting, one.wall),
    }));
  }
}

function wholeAnswer(setting: Setting, question: TraceQuestion, walls: WallAnswer[]): TraceAnswer {
  const { model, ground, shoe } = setting;
  const md = setting.md ?? IntervalSet.from(walls.flatMap(({ segments }) => segments.map(mdOf)));
  return {
    string: stringAnswer(model, ground),
    asked: { by: question.by, interval: question.interval, md: [...md.intervals], asKnownAt: question.asKnownAt },
    shoe: shoeAnswer(shoe),
    walls,
    elsewhere: elsewhere(setting, walls),
    cautions: DEPTH_CAUTIONS,
    explanation: question.explain ? explanation(setting, walls) : null,
  };
}

/** Asked footage that stands on neither wall, and where it is instead. */
function elsewhere({ model, shoe, footage }: Setting, walls: readonly WallAnswer[]): ElsewhereAnswer[] {
  if (footage === null) return [];
  const standing = IntervalSet.from(walls.flatMap((one) => one.segments.map((segment) => segment.footage)));
  const atUs = Number.isFinite(shoe.atUs) ? shoe.atUs : microseconds(model.readings.at(-1)?.observedAt ?? '');
  return footage.subtract(standing).intervals.map((part) => ({
    footage: { fromMm: part.fromMm, toMm: part.toMm },
    place: model.lengths.placeOf(part.fromMm, atUs, [], shoe).place,
  }));
}

const mdOf = ({ mdFromMm, mdToMm }: { mdFromMm: number; mdToMm: number }): Interval => ({ fromMm: mdFromMm, toMm: mdToMm });

/** The shoe of the question: at its depth, at its time, or at the last reading known. */
function shoeFor({ lengths, readings }: StringModel, { at, shoeMdMm }: TraceQuestion): Shoe {
  if (shoeMdMm !== null) return lengths.shoeAt({ shoeMdMm });
  if (at !== null) return lengths.shoeAtTime(microseconds(at));
  const last = readings.at(-1);
  if (last === undefined) {
    throw new LengthError('no-readings', 'this string has no counter reading: give shoeMdM to ask at a shoe depth');
  }
  return lengths.shoeAtTime(microseconds(last.observedAt));
}

function asked({ by, interval }: TraceQuestion, path: WellPath | null): Pick<Setting, 'md' | 'footage'> {
  if (by === 'footage') return { md: null, footage: IntervalSet.of(interval) };
  if (by === 'md') return { md: IntervalSet.of(interval), footage: null };
  if (path === null) {
    throw new Refused(422, 'no-survey', 'The well has no survey: a vertical depth cannot be turned into a measured one.');
  }
  const intervals = path
    .mdIntervalsOfTvd(interval.fromMm, interval.toMm)
    .map(({ fromMdMm, toMdMm }) => ({ fromMm: Math.floor(fromMdMm), toMm: Math.ceil(toMdMm) }))
    .filter(({ fromMm, toMm }) => fromMm < toMm);
  if (intervals.length === 0) {
    const { fromTvdMm, toTvdMm } = path.tvdRange();
    throw new Refused(
      422, 'survey-does-not-reach',
      `The survey reaches vertical depths of ${(fromTvdMm / 1000).toFixed(3)} to ${(toTvdMm / 1000).toFixed(3)} m only.`,
    );
  }
  return { md: IntervalSet.from(intervals), footage: null };
}

/** What one wall is asked: given depths as footage, or given footage as depths. */
function inputsOf({ model, ground, md, footage }: Setting, wall: Wall): WallInputs {
  const pieces =
    md === null
      ? (footage ?? IntervalSet.empty).intervals.flatMap((interval) => wall.piecesOfFootage(interval))
      : md.intervals.flatMap((interval) => reached(wall, interval));
  const on: AskedOnWall = {
    md: md ?? IntervalSet.from(pieces.map((piece) => piece.md)),
    footage: IntervalSet.from(pieces.map((piece) => piece.footage)),
  };
  return { wall, model: model.lengths, asked: on, pipe: ground.pipe, path: ground.path };
}

/** The pieces of a depth interval; none when the wall reaches nothing of it. */
function reached(wall: Wall, interval: Interval): readonly WallPiece[] {
  const beyond = IntervalSet.from(wall.beyond(interval).map(({ md }) => md));
  return beyond.covers(interval) ? [] : wall.piecesAtDepth(interval).pieces;
}

function beyondOf({ md }: Setting, wall: Wall): BeyondAnswer[] {
  return (md ?? IntervalSet.empty).intervals.flatMap((interval) => wall.beyond(interval));
}

function explanation({ model, shoe, ground: { path } }: Setting, walls: readonly WallAnswer[]): ExplanationStepAnswer[] {
  const ofWalls = walls.flatMap(({ wall, segments }) => {
    const first = segments.find(({ presence }) => presence !== 'possible');
    if (first === undefined) return [];
    const footageMm = first.footage.fromMm;
    return wall === 'outer' ? explainOuterMd(model.lengths, footageMm, shoe) : explainInnerMd(model.lengths, footageMm, shoe);
  });
  const first = walls.flatMap(({ segments }) => segments).find(({ tvd }) => tvd !== null);
  const vertical = first === undefined || path === null ? [] : path.explainTvd(first.mdFromMm);
  return [...ofWalls, ...vertical];
}
