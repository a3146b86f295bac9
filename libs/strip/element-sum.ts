import { keyOfTexts, remembering } from '#libs/conformity';
import { plus, ratio, type Ratio } from '#libs/exact';
import { carbonEquivalent, elementsOf, type LinearEquivalent } from './carbon-equivalent.js';
import { derivedValue, keyOfValue, reasonNaming, type DerivedValue, type Deriver } from './derivation.js';
import type { Analysis } from './paper.js';
import { isOfOneTest, type SourcedValue } from './sourced-value.js';
import { hull, statedRange, type StatedRange } from './stated-range.js';

/** A sum of elements, each with its factor. */
interface Formula {
  readonly name: string;
  readonly elements: readonly string[];
  readonly verb: 'recomputed' | 'added up';
  readonly sum: (ranges: ReadonlyMap<string, StatedRange>) => { readonly low: Ratio; readonly high: Ratio | null };
}

/** Papers repeat the analysis of a heat on each of its coils. */
const ANSWERS_KEPT = 500;

const ZERO = ratio(0n);

/**
 * What gives a carbon equivalent or a sum of elements from analyses of one kind; null where the characteristic is neither.
 * An element not reported is not zero: the sum is then only known from below. One in doubt could be anything.
 *
 * Each analysis counts by itself, so that a failing one is not softened by another. One that lacks an element takes it from
 * the others, between the least and the most that they say of it.
 */
export function elementSums(characteristic: string, analysis: Analysis | null): Deriver | null {
  const formula = formulaOf(characteristic);
  if (formula === null) return null;
  const wanted = new Set(formula.elements);
  const ofOneAnalysis = remembering(
    (values: readonly SourcedValue[]) => [elementSum(formula, values, [])],
    (values) => keyOfTexts(values[0]?.source.label ?? null) + values.map(keyOfValue).join(''),
    ANSWERS_KEPT,
  );
  return {
    uses: (value) => value.analysis === analysis && wanted.has(value.characteristic),
    from: (values) => {
      const tests = byTest(values);
      if (tests.length === 1) return ofOneAnalysis(values);
      return tests.map((one) => elementSum(formula, one, values.filter((value) => !one.includes(value))));
    },
    isClosedByReport: true,
  };
}

function formulaOf(name: string): Formula | null {
  if (isLinearEquivalent(name)) {
    return { name, elements: elementsOf(name), verb: 'recomputed', sum: (ranges) => carbonEquivalent(name, ranges) };
  }
  const elements = name.split('+');
  return elements.length < 2 ? null : { name, elements, verb: 'added up', sum: (ranges) => plainSum(elements, ranges) };
}

function isLinearEquivalent(name: string): name is LinearEquivalent {
  return name === 'CE(IIW)' || name === 'Pcm' || name === 'CET';
}

function plainSum(elements: readonly string[], ranges: ReadonlyMap<string, StatedRange>): { low: Ratio; high: Ratio | null } {
  let [low, high]: [Ratio, Ratio | null] = [ZERO, ZERO];
  for (const element of elements) {
    const range = ranges.get(element);
    low = plus(low, range?.low ?? ZERO);
    high = high === null || range?.high == null ? null : plus(high, range.high);
  }
  return { low, high };
}

function byTest(values: readonly SourcedValue[]): SourcedValue[][] {
  const tests: [SourcedValue, ...SourcedValue[]][] = [];
  for (const value of values) {
    const same = tests.find(([first]) => isOfOneTest(first, value));
    if (same === undefined) tests.push([value]);
    else same.push(value);
  }
  return tests;
}

/** What follows from one analysis, `others` giving what it lacks. */
function elementSum({ name, elements, verb, sum }: Formula, analysis: readonly SourcedValue[], others: readonly SourcedValue[]): DerivedValue {
  const own = composition(analysis);
  const ranges = new Map([...composition(others), ...own]);
  const missing = elements.filter((element) => !ranges.has(element));
  const doubtful = elements.filter((element) => ranges.get(element)?.isDoubtful === true);
  const because = [
    ...reasonNaming('not reported, and not taken for zero', missing),
    ...reasonNaming('in doubt or not readable', doubtful),
    ...reasonNaming('taken from other analyses', elements.filter((element) => ranges.has(element) && !own.has(element))),
  ];
  const [first] = analysis;
  const label = `${name} ${verb} from the ${first?.analysis ?? ''} analysis of ${first?.source.label ?? ''}`;
  return derivedValue({ ...sum(ranges), unit: '%', label, because, isIncomplete: missing.length > 0, isDoubtful: doubtful.length > 0 });
}

/** Each element in %, between the least and the most that is said of it. */
function composition(values: readonly SourcedValue[]): Map<string, StatedRange> {
  const found = new Map<string, StatedRange>();
  for (const value of values) {
    const one = statedRange(value, '%');
    const other = found.get(value.characteristic);
    found.set(value.characteristic, other === undefined ? one : hull(one, other));
  }
  return found;
}
