import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import { IntervalSet, type Interval } from '#libs/intervals';
import { explainInnerMd, explainOuterMd, LengthError, type Shoe, type Wall } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { WellPath } from '#libs/survey';
import { Refused } from '../http/problem.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { answered } from './answered.js';
import { EvidenceReader, type Evidence } from './evidence.service.js';
import { missingOn } from './missing-evidence.js';
import type { Ground } from './ground.js';
import { Grounds } from './grounds.service.js';
import { shoeAnswer, stringAnswer } from './string-answer.js';
import type { TraceQuestion } from './trace-question.js';
import type { ExplanationStepAnswer } from './explanation.dto.js';
import type { BeyondAnswer, ElsewhereAnswer, TraceAnswer, WallAnswer } from './trace.dto.js';
import { cutsOn, inspectionsOn, nonconformancesOn, segmentsOn, splicesOn } from './wall-answer.js';
import { askedOn, viewsAt, type AskedOnWall, type WallView } from './wall-view.js';

/** Cautions that belong beside every depth (see the trade's own list in the reports). */
export const DEPTH_CAUTIONS = [
  'Depth is an estimate: mind ± and datum before anyone perforates, sets or cuts.',
  'Evidence that is missing is not a clean result.',
  'These records are not a safety interlock; local codes and licensed practice decide.',
];

/** A record's own doubt about its place can let it reach what was asked from as far away as this. */
const LOOK_AROUND_MM = 5_000;

/** While a line reports without pause a model is always a moment old: after so many tries that moment is taken. */
const ATTEMPTS = 4;

interface Setting {
  readonly model: StringModel;
  readonly ground: Ground;
  readonly shoe: Shoe;
  readonly views: readonly WallView[];
  readonly md: IntervalSet | null;
  readonly footage: IntervalSet | null;
}

/** Walls of one model at the shoes lately asked about. */
type KeptViews = LRUCache<string, Pick<Setting, 'ground' | 'shoe' | 'views'>>;
const KEPT_SHOES = 20;

/** Answers what stands at a depth, in both walls, from what was known at a time. */
@Injectable()
export class TraceService {
  private readonly kept = new WeakMap<StringModel, KeptViews>();

  constructor(
    private readonly models: LengthModels,
    private readonly grounds: Grounds,
    private readonly evidence: EvidenceReader,
  ) {}

  /**
   * What stands there. A kept model is tried first: the evidence is fetched together with the string's revision, and
   * when that has moved on, the question is asked again of a model that is not behind.
   */
  async trace(stringId: string, question: TraceQuestion): Promise<TraceAnswer> {
    const { asKnownAt } = question;
    const kept = asKnownAt === null ? this.models.keptModel(stringId) : null;
    return answered(async () => {
      // A refusal, like an answer, counts only when the model it comes from is not behind.
      const first = kept === null ? null : await this.ask(kept, question, true).catch(() => null);
      if (first !== null) return first;
      for (let attempt = 1; ; attempt += 1) {
        const answer = await this.ask(await this.models.of(stringId, asKnownAt), question, attempt < ATTEMPTS);
        if (answer !== null) return answer;
      }
    });
  }

  /** The answer, or null when the model turned out to be behind what is known and `strict` asks for better. */
  private async ask(model: StringModel, question: TraceQuestion, strict: boolean): Promise<TraceAnswer | null> {
    const { asKnownAt } = question;
    const standing = await this.standing(model, question);
    const setting: Setting = { model, ...standing, ...asked(question, standing.ground.path) };
    const questions = setting.views.map((view) => ({ view, on: askedOn(view, setting.md, setting.footage) }));
    const around = groundAround(questions.map(({ on }) => on));
    const coils = new Set(
      setting.ground.pipe.segments.filter(({ segment }) => around.overlaps(segment.span)).map(({ coil }) => coil.id),
    );
    const evidence = await this.evidence.about(model.string.id, around.toMultirange(), [...coils], asKnownAt);
    if (strict && asKnownAt === null && evidence.revision !== model.revision) return null;
    return wholeAnswer(setting, question, questions.map(({ view, on }) => wallAnswer(setting, view, on, evidence)));
  }

  /** Both walls at the shoe of the question, kept with the model they belong to. */
  private async standing(model: StringModel, question: TraceQuestion): Promise<Pick<Setting, 'ground' | 'shoe' | 'views'>> {
    const views: KeptViews = this.kept.get(model) ?? new LRUCache({ max: KEPT_SHOES });
    this.kept.set(model, views);
    const key = `${question.at ?? ''} ${question.shoeMdMm ?? ''}`;
    const kept = views.get(key);
    if (kept !== undefined) return kept;
    const ground = await this.grounds.of(model, question.asKnownAt);
    const shoe = shoeFor(model, question);
    const made = { ground, shoe, views: viewsAt(model.lengths, ground, shoe) };
    views.set(key, made);
    return made;
  }
}

/** The footage asked about on both walls, and as far around it as doubt about depths can reach. */
function groundAround(asked: readonly AskedOnWall[]): IntervalSet {
  return asked.reduce((sum, { footage, doubtMm }) => sum.union(footage.grow(doubtMm + LOOK_AROUND_MM)), IntervalSet.empty);
}

function wallAnswer(setting: Setting, view: WallView, on: AskedOnWall, { inspections, nonconformances }: Evidence): WallAnswer {
  return {
    wall: view.wall.name,
    segments: segmentsOn(view, on),
    splices: splicesOn(view, on),
    cutOuts: cutsOn(view, on),
    inspections: inspectionsOn(view, on, inspections),
    nonconformances: nonconformancesOn(view, on, nonconformances),
    missing: missingOn(view, on, inspections),
    beyond: beyondOf(setting, view.wall),
  };
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
  const last = model.readings.at(-1);
  const atUs = Number.isFinite(shoe.atUs) ? shoe.atUs : last === undefined ? null : microseconds(last.observedAt);
  return footage.subtract(standing).intervals.map((part) => ({
    footage: { fromMm: part.fromMm, toMm: part.toMm },
    place: atUs === null ? 'unknown' : model.lengths.placeOf(part.fromMm, atUs, [], shoe).place,
  }));
}

const mdOf = ({ mdFromMm, mdToMm }: { mdFromMm: number; mdToMm: number }): Interval => ({ fromMm: mdFromMm, toMm: mdToMm });

/** The shoe of the question: at its depth, at its time, or at the last reading known. */
export function shoeFor({ lengths, readings }: StringModel, { at, shoeMdMm }: Pick<TraceQuestion, 'at' | 'shoeMdMm'>): Shoe {
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
