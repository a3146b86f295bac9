import { compare, decimal } from '#libs/exact';
import { interval, IntervalSet, type Interval } from '#libs/intervals';
import { inputsOf, type GivenNumber, type InputName, type PipeInputs, type WhyNotKnown } from './pipe-inputs.js';
import type { StretchInputs } from './rating-profile.js';

/** What stands for a stretch of pipe; footage, whole mm, half-open. */
export interface Standing<T> {
  readonly interval: Interval;
  readonly of: T;
}

/** What is on record about the pipe of one wall, before any of it is chosen. */
export interface PipeKnowledge {
  /** What is stated for all of the pipe. */
  readonly nominalDiameterMm: GivenNumber | null;
  readonly diameters: readonly Standing<GivenNumber>[];
  /** Each for the pipe that it speaks of: pipe without one has no measured wall. */
  readonly walls: readonly Standing<NonNullable<PipeInputs['wallThicknessMm']>>[];
  readonly yields: readonly Standing<NonNullable<PipeInputs['yieldMpa']>>[];
  /** κ and λ; none for the inner wall. */
  readonly folds: readonly Standing<Pick<PipeInputs, 'kappa' | 'lambda'>>[];
  /** Why something is not known, where it is not; of several the first counts. */
  readonly reasons: readonly Standing<WhyNotKnown>[];
}

/** Where the pipe is cut whatever is known of it. */
export interface Cutting {
  readonly pipe: IntervalSet;
  /** Ends of coils, splices, tests, depth pieces: no interval lies across one of them. */
  readonly cutsMm: readonly number[];
  /** Longest stretch of footage for which one lowest reading stands. Intervals are cut at its whole multiples. */
  readonly windowMm: number;
}

/**
 * The pipe cut at the ends of what is asked, at the cuts, at whole windows, and where another yield strength, fold or reason begins
 * to stand; by rising footage. Throws RangeError unless the window is a whole number above 0.
 */
export function atomsOf({ pipe, cutsMm, windowMm }: Cutting, { yields, folds, reasons }: Pick<PipeKnowledge, 'yields' | 'folds' | 'reasons'>): Interval[] {
  if (!Number.isSafeInteger(windowMm) || windowMm < 1) throw new RangeError(`the window must be a whole number of mm above 0: ${windowMm}`);
  const ends = [yields, folds, reasons].flatMap((all) => all.flatMap(({ interval: { fromMm, toMm } }) => [fromMm, toMm]));
  const cuts = [...new Set([...cutsMm, ...ends])].sort((a, b) => a - b);
  let next = 0;
  return pipe.intervals.flatMap(({ fromMm, toMm }) => {
    const atoms: Interval[] = [];
    for (let at = fromMm; at < toMm;) {
      while (next < cuts.length && (cuts[next] as number) <= at) next += 1;
      const end = Math.min(toMm, cuts[next] ?? Infinity, (Math.floor(at / windowMm) + 1) * windowMm);
      atoms.push(interval(at, end));
      at = end;
    }
    return atoms;
  });
}

/**
 * The stretches of a wall's pipe with the inputs of their ratings, by rising footage: all of the pipe, without gap or overlap. Of
 * several readings about one stretch the one counts by which it rates lowest: the least wall, the greatest outside diameter (the
 * nominal one among them), the lowest yield strength. The least wall stands for the measured pipe of its window alone. Neighbours
 * with the same inputs are one stretch, unless a cut lies between them. Throws as `atomsOf`, and SyntaxError for a value that is no
 * plain decimal.
 */
export function cutPipe(cutting: Cutting, knowledge: PipeKnowledge): StretchInputs[] {
  const reading = readerOf(knowledge);
  const hard = new Set(cutting.cutsMm);
  const stretches: StretchInputs[] = [];
  for (const atom of atomsOf(cutting, knowledge)) {
    for (const one of reading(atom)) {
      const before = stretches.at(-1);
      if (before !== undefined && before.interval.toMm === one.interval.fromMm && !hard.has(one.interval.fromMm) && isSame(before, one)) {
        stretches[stretches.length - 1] = { ...before, interval: interval(before.interval.fromMm, one.interval.toMm) };
      } else stretches.push(one);
    }
  }
  return stretches;
}

type Reader = (atom: Interval) => StretchInputs[];

function readerOf({ nominalDiameterMm, diameters, walls, yields, folds, reasons }: PipeKnowledge): Reader {
  const [diametersOn, wallsOn, yieldsOn] = [touching(diameters), touching(walls), touching(yields)];
  const [foldsOn, reasonsOn] = [touching(folds), touching(reasons)];
  return (atom) => {
    const readWalls = wallsOn(atom);
    const [fold] = foldsOn(atom);
    const known: PipeInputs = {
      outsideDiameterMm: extreme([...(nominalDiameterMm === null ? [] : [nominalDiameterMm]), ...diametersOn(atom).map(({ of }) => of)], 1),
      wallThicknessMm: extreme(readWalls.map(({ of }) => of), -1), yieldMpa: extreme(yieldsOn(atom).map(({ of }) => of), -1),
      kappa: fold?.of.kappa ?? null, lambda: fold?.of.lambda ?? null,
    };
    const why: WhyNotKnown = Object.assign({}, ...reasonsOn(atom).map(({ of }) => of).reverse()) as WhyNotKnown;
    const measured = IntervalSet.from(readWalls.map((wall) => wall.interval)).intersect(atom);
    return [
      ...measured.intervals.map((one) => stretchOf(one, known, why)),
      ...IntervalSet.of(atom).subtract(measured).intervals.map((one) => stretchOf(one, { ...known, wallThicknessMm: null }, why)),
    ].sort((a, b) => a.interval.fromMm - b.interval.fromMm);
  };
}

/** Reasons are told for inputs that are missing alone: others would keep neighbours apart. */
function stretchOf(one: Interval, inputs: PipeInputs, why: WhyNotKnown): StretchInputs {
  const missing = inputsOf('outer').filter((name) => inputs[name] === null && why[name] !== undefined);
  return { interval: one, inputs, why: Object.fromEntries(missing.map((name) => [name, why[name]])) };
}

/** Those that touch an interval, in the order given; asked for intervals of rising footage. */
function touching<T>(all: readonly Standing<T>[]): (atom: Interval) => readonly Standing<T>[] {
  const sorted = all.map((one, rank) => ({ one, rank })).sort((a, b) => a.one.interval.fromMm - b.one.interval.fromMm);
  let next = 0;
  let open: typeof sorted = [];
  return ({ fromMm, toMm }) => {
    open = open.filter(({ one }) => one.interval.toMm > fromMm);
    for (let one = sorted[next]; one !== undefined && one.one.interval.fromMm < toMm; one = sorted[next]) {
      if (one.one.interval.toMm > fromMm) open.push(one);
      next += 1;
    }
    return open.toSorted((a, b) => a.rank - b.rank).map(({ one }) => one);
  };
}

/** The greatest or the least; of equal ones the first. */
function extreme<T extends GivenNumber>(all: readonly T[], sign: 1 | -1): T | null {
  let found: T | null = null;
  for (const one of all) if (found === null || compare(decimal(one.value), decimal(found.value)) === sign) found = one;
  return found;
}

const isSame = (one: StretchInputs, other: StretchInputs): boolean => keyOf(one) === keyOf(other);

function keyOf({ inputs, why }: StretchInputs): string {
  return JSON.stringify([inputsOf('outer').map((name: InputName) => plain(inputs[name])), why]);
}

const plain = (given: PipeInputs[InputName]): unknown => (given === null ? null : [given.value, given.record, 'basis' in given ? given.basis : null]);
