import { Injectable } from '@nestjs/common';
import { IntervalSet, type Interval } from '#libs/intervals';
import type { Shoe } from '#libs/length';
import { normalInstant } from '#libs/persistence';
import { atomsOf, cutPipe, foldedWall, ratingProfile, type FoldedWall, type PipeInputs, type PipeKnowledge, type RatingProfile, type WallRatings } from '#libs/ratings';
import { Refused } from '../http/problem.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Repair } from '../repairs/repair.entity.js';
import { RepairsService } from '../repairs/repairs.service.js';
import { answered } from '../trace/answered.js';
import type { Ground } from '../trace/ground.js';
import { Grounds } from '../trace/grounds.service.js';
import { linkTo } from '../trace/record-link.js';
import { shoeFor } from '../trace/trace.service.js';
import { askedOn, viewsAt, type AskedOnWall, type WallView } from '../trace/wall-view.js';
import { inspectedDiameters, inspectedWalls } from './inspected-sizes.js';
import { Origins, refOf } from './origins.js';
import { pipeFolds } from './pipe-folds.js';
import { MOST_WINDOWS, usualWindowMm, type PressureQuestion } from './pressure-question.js';
import { WallMinima } from './wall-minima.service.js';
import { YieldStrengths, type KnownYields } from './yield-strengths.service.js';

/** A stretch of one wall with what its ratings rest on. */
export interface RatedStretch {
  readonly interval: Interval;
  readonly inputs: PipeInputs;
  readonly ratings: WallRatings;
  /** Sizes after the fold with their uncertainty; null for the inner wall, and where κ or λ is missing. */
  readonly folded: FoldedWall | null;
}

/** One wall, rated. */
export interface RatedWall {
  readonly view: WallView;
  readonly asked: AskedOnWall;
  /** By rising footage. */
  readonly stretches: readonly RatedStretch[];
  readonly profile: RatingProfile;
}

/** Both walls, rated by what was known at one instant. */
export interface PressureProfile {
  readonly question: PressureQuestion;
  /** The instant asked about; when it was asked, for what is known now. */
  readonly knownAt: string;
  readonly model: StringModel;
  readonly ground: Ground;
  readonly shoe: Shoe;
  readonly windowMm: number;
  /** Outer, inner. */
  readonly walls: readonly RatedWall[];
  readonly origins: Origins;
  readonly notes: readonly string[];
}

/** What is known of a string's pipe, whichever wall it stands in. */
interface StringKnowledge {
  readonly model: StringModel;
  readonly ground: Ground;
  readonly yields: KnownYields;
  readonly inspections: readonly Inspection[];
  readonly repairs: readonly Repair[];
  readonly origins: Origins;
}

const NO_WALL = { wallThicknessMm: 'no validly read wall thickness is on record for this pipe' };
const NO_COIL = { yieldMpa: 'no coil, and so no yield strength, is on record for this pipe' };
const NO_KAPPA = { kappa: 'no κ (diameter ratio) is on record for the string' };
const REPAIRED = { wallThicknessMm: 'this pipe was repaired, and no wall thickness was read on it since' };

/** Rates both walls of a string along the pipe. */
@Injectable()
export class PressureProfiles {
  constructor(
    private readonly desk: RecordDesk,
    private readonly models: LengthModels,
    private readonly grounds: Grounds,
    private readonly inspections: InspectionsService,
    private readonly repairs: RepairsService,
    private readonly yields: YieldStrengths,
    private readonly minima: WallMinima,
  ) {}

  /** Refuses with 404 for a string not known then, 422 for what its lengths cannot say and for too many windows, 409 while samples are kept outside. */
  async of(stringId: string, question: PressureQuestion): Promise<PressureProfile> {
    const { asKnownAt } = question;
    const knownAt = asKnownAt === null ? await this.desk.databaseNow() : normalInstant(asKnownAt);
    return answered(async () => {
      const model = await this.models.of(stringId, asKnownAt);
      const ground = await this.grounds.of(model, asKnownAt);
      const shoe = shoeFor(model, question);
      const asked = viewsAt(model.lengths, ground, shoe).map((view) => ({ view, asked: askedOf(view, question) }));
      const windowMm = windowOf(question, asked.map((one) => one.asked));
      const origins = new Origins();
      const [inspections, repairs, yields] = await Promise.all([
        this.inspections.ofString(stringId, asKnownAt), this.repairs.inOrder(stringId, asKnownAt), this.yields.of(stringId, ground.pipe, origins, asKnownAt),
      ]);
      const known: StringKnowledge = { model, ground, yields, inspections, repairs, origins };
      const walls: RatedWall[] = [];
      const notes = new Set<string>();
      for (const one of asked) {
        const { wall, notes: more } = await this.rated(one.view, one.asked, windowMm, known, asKnownAt);
        walls.push(wall);
        more.forEach((note) => notes.add(note));
      }
      return { question, knownAt, model, ground, shoe, windowMm, walls, origins, notes: [...notes] };
    });
  }

  private async rated(view: WallView, asked: AskedOnWall, windowMm: number, known: StringKnowledge, asKnownAt: string | null): Promise<{ readonly wall: RatedWall; readonly notes: readonly string[] }> {
    const { model, inspections, repairs, origins } = known;
    const { pipe } = known.ground;
    const cutsMm = [...pipe.segments.map(({ segment }) => segment.span), ...pipe.splices.map(({ span }) => span)].flatMap(({ fromMm, toMm }) => [fromMm, toMm]);
    const cutting = { pipe: asked.footage, cutsMm, windowMm };
    const folds = view.wall.name === 'outer' ? pipeFolds(model, view.wall, origins) : [];
    const before = { yields: known.yields.yields, folds, reasons: reasonsOn(asked.footage, known) };
    const ends = [...asked.footage.intervals, ...repairs.map(({ span }) => span)].flatMap(({ fromMm, toMm }) => [fromMm, toMm]);
    const found = await this.minima.of(model.string.id, { atoms: atomsOf(cutting, before), hardMm: new Set([...cutsMm, ...ends]), repairs, asKnownAt }, origins);
    const { string } = model;
    const record = linkTo('casing-string', string, string.name);
    const knowledge: PipeKnowledge = {
      ...before, reasons: [...found.reasons, ...before.reasons],
      nominalDiameterMm: origins.with({ value: string.outsideDiameterMm, record: refOf(record) }, { what: 'nominal outside diameter', record, at: null, u: null }),
      diameters: inspectedDiameters(inspections, repairs, origins),
      walls: without([...inspectedWalls(inspections, repairs, origins), ...found.walls], found.below),
    };
    const stretches = cutPipe(cutting, knowledge);
    const profile = ratingProfile(view.wall.name, asked.footage, stretches);
    const rows = stretches.map(({ interval, inputs }, index): RatedStretch => {
      const rating = profile.intervals[index];
      if (rating === undefined || rating.interval.fromMm !== interval.fromMm) throw new Error(`no rating at ${interval.fromMm} mm`);
      return { interval, inputs, ratings: rating.ratings, folded: view.wall.name === 'outer' ? foldedOf(inputs, origins) : null };
    });
    return { wall: { view, asked, stretches: rows, profile }, notes: found.notes };
  }
}

function askedOf(view: WallView, { by, interval }: PressureQuestion): AskedOnWall {
  const { fromMm, toMm } = view.wall.footageRange;
  if (interval === null) return Math.floor(fromMm) < Math.ceil(toMm) ? askedOn(view, null, IntervalSet.of({ fromMm: Math.floor(fromMm), toMm: Math.ceil(toMm) })) : askedOn(view, null, IntervalSet.empty);
  return by === 'md' ? askedOn(view, IntervalSet.of(interval), null) : askedOn(view, null, IntervalSet.of(interval));
}

function windowOf({ windowMm }: PressureQuestion, asked: readonly AskedOnWall[]): number {
  const longestMm = Math.max(...asked.map(({ footage }) => footage.totalLengthMm));
  const chosenMm = windowMm ?? usualWindowMm(longestMm);
  if (longestMm / chosenMm <= MOST_WINDOWS) return chosenMm;
  const limit = `at least ${Math.ceil(longestMm / MOST_WINDOWS) / 1000} m for ${longestMm / 1000} m of wall: at most ${MOST_WINDOWS} windows a wall`;
  throw new Refused(422, 'too-many-windows', 'So many windows are not told in one answer: ask for less pipe, or for longer windows.', [{ field: 'windowM', value: chosenMm / 1000, limit }]);
}

/** The first that stands is told. */
function reasonsOn(pipe: IntervalSet, { model, yields, repairs }: StringKnowledge): PipeKnowledge['reasons'] {
  const everywhere = { ...NO_WALL, ...NO_COIL, ...(model.string.diameterRatio === null ? NO_KAPPA : {}) };
  const hull = pipe.hull();
  return [
    ...repairs.map(({ span }) => ({ interval: span, of: REPAIRED })), ...yields.reasons,
    ...(hull === null ? [] : [{ interval: hull, of: everywhere }]),
  ];
}

/** Pipe whose wall is only known to be below a bound is not rated by what another reading says. */
function without(walls: PipeKnowledge['walls'], below: IntervalSet): PipeKnowledge['walls'] {
  return below.isEmpty ? walls : walls.flatMap(({ interval, of }) => IntervalSet.of(interval).subtract(below).intervals.map((one) => ({ interval: one, of })));
}

function foldedOf({ outsideDiameterMm, wallThicknessMm, kappa, lambda }: PipeInputs, origins: Origins): FoldedWall | null {
  if (outsideDiameterMm === null || wallThicknessMm === null || kappa === null || lambda === null) return null;
  const ratio = (given: NonNullable<typeof kappa>): { value: number; u: number | null } => ({ value: Number(given.value), u: origins.of(given).u });
  return foldedWall(Number(outsideDiameterMm.value), Number(wallThicknessMm.value), ratio(kappa), ratio(lambda));
}
