import { compare, decimal, over, plus, ratio, toNumber, type Ratio } from '#libs/exact';
import { histogram, overallCapability, percentile, summaryOf, type HistogramClass, type OverallCapability, type Summary } from '#libs/spc';
import type { AskedCharacteristic, AskedValue, LimitsOfCoil, ValueKind } from './asked-values.js';
import { grouped } from './grouped.js';
import type { SuppliedCoil } from './supplier-knowledge.js';

/** Fewer values than this say too little of a spread. Common practice, no published source. */
export const LEAST_FOR_CAPABILITY = 20;

/** What counts once in a distribution: a value, or a heat by the mean of what is printed of it. */
export interface Point {
  readonly value: Ratio;
  readonly of: SuppliedCoil;
  readonly source: string;
}

export interface Quartiles {
  readonly lower: number;
  readonly median: number;
  readonly upper: number;
}

/** How much is counted apart from a distribution, and how much lies outside; heats where heats are counted. */
export interface Counts {
  readonly outside: number;
  readonly censored: number;
  /** Of the censored ones, those that do not conform whatever they are. */
  readonly censoredOutside: number;
  readonly unreadable: number;
  readonly inDoubt: number;
  readonly otherConditions: number;
  /** Heats of which papers print more than one number. */
  readonly differingHeats: number;
}

/** Limits that some coils have in common. */
export interface LimitsInForce {
  readonly words: string;
  readonly specifications: readonly string[];
  readonly coilCount: number;
}

/** One characteristic in numbers. */
export interface Distribution {
  /** A heat analysis is one analysis, however many coils it is printed for. */
  readonly countedBy: 'heat' | 'value';
  readonly askedCoilCount: number;
  /** Coils and heats with a number in the distribution. */
  readonly coilCount: number;
  readonly heatCount: number;
  /** Null without numbers. */
  readonly summary: Summary | null;
  readonly quartiles: Quartiles | null;
  readonly least: Point | null;
  readonly greatest: Point | null;
  readonly classes: readonly HistogramClass[];
  readonly limits: readonly LimitsInForce[];
  readonly counts: Counts;
  readonly capability: OverallCapability | { readonly noneBecause: string };
}

/** The distribution of one characteristic. */
export function distributionOf({ requirement, asked, values }: AskedCharacteristic): Distribution {
  const countedBy = requirement.analysis === 'heat' ? 'heat' : 'value';
  const numbers = values.filter(({ kind }) => kind === 'number');
  const points = countedBy === 'heat' ? heatMeans(numbers) : numbers.map(pointOf);
  const doubles = points.map(({ value }) => toNumber(value));
  const summary = doubles.length === 0 ? null : summaryOf(doubles);
  return {
    countedBy,
    askedCoilCount: asked.length,
    coilCount: new Set(numbers.map(({ of }) => of.coil.id)).size,
    heatCount: new Set(numbers.map(({ of }) => of.heat.id)).size,
    summary,
    quartiles: summary === null ? null : { lower: percentile(doubles, 0.25), median: percentile(doubles, 0.5), upper: percentile(doubles, 0.75) },
    least: extreme(points, -1),
    greatest: extreme(points, 1),
    classes: histogram(points.map(({ value }) => value)),
    limits: limitsInForce(asked),
    counts: countsOf(values, countedBy),
    capability: capabilityOf(summary, numbers, countedBy),
  };
}

const pointOf = ({ number, of, source }: AskedValue): Point => ({ value: number ?? ratio(0n), of, source });

/** Each heat by the mean of the different numbers printed of it: a number is not worth more for being printed more often. */
function heatMeans(numbers: readonly AskedValue[]): Point[] {
  return [...grouped(numbers, ({ of }) => of.heat.id).values()].flatMap((ofHeat) => {
    const different = differentNumbers(ofHeat);
    const sum = different.reduce((total, value) => plus(total, value), ratio(0n));
    return ofHeat.slice(0, 1).map((first) => ({ ...pointOf(first), value: over(sum, ratio(BigInt(different.length))) }));
  });
}

function differentNumbers(values: readonly AskedValue[]): Ratio[] {
  const numbers = values.flatMap(({ number }) => (number === null ? [] : [number]));
  return [...new Map(numbers.map((one) => [`${one.numerator}/${one.denominator}`, one])).values()];
}

/** The first point of the least value (-1) or the greatest (1). */
function extreme(points: readonly Point[], side: -1 | 1): Point | null {
  return points.reduce<Point | null>((best, one) => (best === null || compare(one.value, best.value) === side ? one : best), null);
}

function countsOf(values: readonly AskedValue[], countedBy: Distribution['countedBy']): Counts {
  const count = (some: readonly AskedValue[]): number => (countedBy === 'heat' ? new Set(some.map(({ of }) => of.heat.id)).size : some.length);
  const ofKind = (kind: ValueKind): AskedValue[] => values.filter((value) => value.kind === kind);
  const [numbers, censored] = [ofKind('number'), ofKind('censored')];
  const byHeat = countedBy === 'heat' ? [...grouped(numbers, ({ of }) => of.heat.id).values()] : [];
  return {
    outside: count(numbers.filter(({ isOutside }) => isOutside)),
    censored: count(censored),
    censoredOutside: count(censored.filter(({ isOutside }) => isOutside)),
    unreadable: count(ofKind('unreadable')),
    inDoubt: count(ofKind('in-doubt')),
    otherConditions: count(ofKind('other-conditions')),
    differingHeats: byHeat.filter((ofHeat) => differentNumbers(ofHeat).length > 1).length,
  };
}

/** The limits of the coils, each once, in the order in which they first come. */
function limitsInForce(asked: readonly LimitsOfCoil[]): LimitsInForce[] {
  return [...grouped(asked, ({ limits }) => limits.words)].map(([words, own]) => ({
    words, specifications: [...new Set(own.map(({ specification }) => specification))], coilCount: own.length,
  }));
}

/** Pp and Ppk, where all the numbers are held against the same limits and there are enough of them; else why not. */
function capabilityOf(summary: Summary | null, numbers: readonly AskedValue[], countedBy: Distribution['countedBy']): Distribution['capability'] {
  const n = summary?.n ?? 0;
  const things = countedBy === 'heat' ? 'heats' : 'values';
  const known = numbers.map(({ limits }) => limits);
  const missing = known.find((limits) => 'missing' in limits);
  if (missing !== undefined && 'missing' in missing) return { noneBecause: missing.missing };
  const limits = [...new Map(known.flatMap((one) => ('limits' in one ? [one.limits] : [])).map((one) => [limitsKey(one.min, one.max), one])).values()];
  const [only] = limits;
  if (limits.length > 1) return { noneBecause: `the limits differ: ${limits.length} sets of them are in force` };
  if (only?.min === null && only.max === null) return { noneBecause: 'the value is only asked to be reported: there is no limit' };
  if (summary === null || only === undefined || n < LEAST_FOR_CAPABILITY) {
    return { noneBecause: `${n} ${things} are too few: at least ${LEAST_FOR_CAPABILITY} are asked for` };
  }
  if (!((summary.standardDeviation ?? 0) > 0)) return { noneBecause: `all ${n} ${things} are the same: the standard deviation is 0` };
  return overallCapability(summary, { lower: numberOf(only.min), upper: numberOf(only.max) });
}

/** Limits are the same when they are the same numbers, however many digits they are printed with. */
function limitsKey(min: string | null, max: string | null): string {
  return [min, max].map((text) => (text === null ? '' : `${decimal(text).numerator}/${decimal(text).denominator}`)).join('|');
}

const numberOf = (text: string | null): number | null => (text === null ? null : toNumber(decimal(text)));
