import { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import { representedIntervals, UNIT_STATES, type SamplingRuleName, type TestRepresentation, type UnitState, type UnsampledEnd } from '#libs/tube-tests';
import type { TestKind } from '../destructive-tests/destructive-test.dto.js';
import type { DestructiveTest } from '../destructive-tests/destructive-test.entity.js';
import { ofCoil, ofSplice } from '../destructive-tests/retest-piece.js';
import type { TestSample } from '../test-samples/test-sample.entity.js';
import { linkTo } from '../trace/record-link.js';
import type {
  CoveringSampleAnswer, MetresAnswer, SamplingRuleAnswer, StateMetresAnswer, TestCoverageAnswer, TestResultAnswer, UnsampledEndAnswer,
} from './destructive-coverage.dto.js';
import type { FoundPlace } from './sample-places.js';
import { basisOf, COUPON_RULE, plannedRules, retestRule, ruleAnswer, type PlannedPipe, type StringPlans } from './sampling-plans.js';
import { namedTests, testUnits, type NamedTest, type TestUnit } from './test-units.js';

export interface PlacedSample {
  readonly sample: TestSample;
  readonly place: FoundPlace;
}

/** A string as its destructive tests cover it. */
export interface CoveredString {
  readonly plans: StringPlans;
  /** The pipe by the plan that was in force when it was made; none of a plan that came later. */
  readonly planned: readonly PlannedPipe[];
  readonly cutOut: IntervalSet;
  /** Pipe of the coils, without what was cut out. */
  readonly pipe: IntervalSet;
  /** By number. */
  readonly samples: readonly PlacedSample[];
}

/** A sample with its own tests of one kind, and the unit that they belong to. */
interface TestedSample extends PlacedSample {
  readonly own: readonly NamedTest[];
  readonly unit: TestUnit;
  readonly counts: boolean;
}

/** What tests of one kind say of a string; `tests` are all of the string, oldest first. */
export function testCoverage(kind: TestKind, string: CoveredString, tests: readonly DestructiveTest[]): TestCoverageAnswer {
  const tested = testedSamples(kind, string, tests.filter((test) => test.kind === kind));
  const parts = partsOf(kind, string, tested);
  const samples = tested.map((one) => ({ one, stands: standsFor(one, parts, string.cutOut) }));
  const onPipe = samples.filter(({ one }) => one.place.found === 'pipe').map(({ one, stands }) => ({ state: one.unit.answer.state, set: stands.set }));
  const represented = unionOf(onPipe);
  return {
    test: kind,
    plan: parts.flatMap(({ rules }) => rules),
    basis: parts.map(({ basis }) => basis),
    samples: samples.map(({ one, stands }) => sampleAnswer(one, stands)),
    represented: metres(represented),
    byState: byState(onPipe),
    missing: metres(string.pipe.subtract(represented)),
    unsampledEnds: parts.flatMap(({ representation }) => (representation?.unsampledEnds ?? []).map((end) => endAnswer(end, string.cutOut))),
  };
}

/** Tests that belong together, and how they stand. */
export interface StandingUnit {
  readonly kind: TestKind;
  readonly tests: readonly [NamedTest, ...NamedTest[]];
  /** The ids of its tests. */
  readonly along: readonly string[];
  readonly samples: readonly TestSample[];
  readonly state: UnitState;
  readonly words: string;
  /** What its samples stand for, pipe that was cut out among it; nothing where no frequency is set, and where all its tests are void. */
  readonly footage: IntervalSet;
}

/** The units of one kind of test; `tests` are all of the string, oldest first. */
export function standingUnits(kind: TestKind, string: CoveredString, tests: readonly DestructiveTest[]): StandingUnit[] {
  const tested = testedSamples(kind, string, tests.filter((test) => test.kind === kind));
  const parts = partsOf(kind, string, tested);
  return [...new Set(tested.map(({ unit }) => unit))].flatMap(({ tests: all, answer: { state, words } }): StandingUnit[] => {
    const [first, ...others] = all;
    if (first === undefined) return [];
    const own = tested.filter(({ unit }) => unit.tests === all);
    const footage = unionOf(own.map((one) => standsFor(one, parts, IntervalSet.empty)));
    return [{ kind, tests: [first, ...others], along: all.map(({ row }) => row.id), samples: own.map(({ sample }) => sample), state, words, footage }];
  });
}

/** Those that did not pass, nor were answered by passing retests; `tests` are all of the string, oldest first. */
export const unsettledUnits = (kind: TestKind, string: CoveredString, tests: readonly DestructiveTest[]): StandingUnit[] =>
  standingUnits(kind, string, tests).filter(({ state }) => state === 'open' || state === 'failed');

/** The pipe of which samples of a kind are demanded, by the plans in force and the starting values. */
export const sampledPipe = (kind: TestKind, planned: readonly PlannedPipe[]): IntervalSet =>
  planned.filter(({ assigned }) => plannedRules(kind, assigned).length > 0).reduce((sum, { pipe }) => sum.union(pipe), IntervalSet.empty);

const partsOf = (kind: TestKind, { planned }: CoveredString, tested: readonly TestedSample[]): PartCoverage[] =>
  planned.filter(({ stretches }) => stretches.length > 0).map((pipe) => partCoverage(kind, pipe, tested));

/** What tests of one kind say of the pipe that one plan is in force for. */
interface PartCoverage {
  readonly rules: readonly SamplingRuleAnswer[];
  readonly basis: string;
  /** Null where no frequency is set. */
  readonly representation: TestRepresentation | null;
}

function partCoverage(kind: TestKind, { assigned, stretches, layout }: PlannedPipe, tested: readonly TestedSample[]): PartCoverage {
  const rules = plannedRules(kind, assigned);
  const own = new Set(stretches.map(({ key }) => key));
  const counting = tested.flatMap(({ counts, sample, place, unit }) => (counts && place.found === 'pipe' && own.has(place.stretch)
    ? [{ sample: sample.id, test: kind, place: place.place, takenAtUs: microseconds(sample.observedAt), failedAtUs: firstFailureUs(unit) }] : []));
  const [representation = null] = representedIntervals(layout, rules.length === 0 ? [] : [{ test: kind, rules }], counting).tests;
  return { rules: rules.map((rule) => ruleAnswer(kind, rule, assigned)), basis: basisOf(kind, assigned), representation };
}

function endAnswer({ atMm, pipeLies, words }: UnsampledEnd, cutOut: IntervalSet): UnsampledEndAnswer {
  const isCutOut = cutOut.contains(pipeLies === 'after' ? atMm : atMm - 1);
  return { atMm, pipeLies, words: isCutOut ? `${words}; that pipe was cut out` : words, isCutOut };
}

function firstFailureUs({ tests }: TestUnit): number | null {
  const failed = tests.filter(({ row }) => row.outcome === 'fail').map(({ row }) => microseconds(row.observedAt));
  return failed.length === 0 ? null : Math.min(...failed);
}

/** Metres, as answers say them. */
export const metres = (set: IntervalSet): MetresAnswer => ({
  lengthMm: set.totalLengthMm, intervals: set.intervals.map(({ fromMm, toMm }) => ({ fromMm, toMm })),
});

function testedSamples(kind: TestKind, { samples, plans }: CoveredString, tests: readonly DestructiveTest[]): TestedSample[] {
  const named = namedTests(tests, new Map(samples.map(({ sample }) => [sample.id, sample.number])));
  const cutFrom = new Map(samples.map(({ sample, place }) => [sample.id, productOf(sample, place)]));
  const units = testUnits(named, (firstTestAt) => retestRule(kind, firstTestAt, plans), (sampleId) => cutFrom.get(sampleId) ?? null);
  const unitOf = new Map(units.flatMap((unit) => unit.tests.map(({ row }) => [row.testSampleId, unit] as const)));
  return samples.flatMap(({ sample, place }): TestedSample[] => {
    const unit = unitOf.get(sample.id);
    if (unit === undefined) return [];
    const own = unit.tests.filter(({ row }) => row.testSampleId === sample.id).sort((a, b) => named.indexOf(a) - named.indexOf(b));
    return [{ sample, place, own, unit, counts: own.some(({ row }) => row.outcome !== 'void') }];
  });
}

function productOf({ coilId }: TestSample, place: FoundPlace): string | null {
  if (place.found === 'splice') return ofSplice(place.spliceId);
  if (place.found === 'pipe') return ofCoil(place.coilId);
  return coilId === null ? null : ofCoil(coilId);
}

interface Standing {
  readonly set: IntervalSet;
  readonly rules: readonly SamplingRuleAnswer[];
}

function standsFor({ sample, place, counts }: TestedSample, parts: readonly PartCoverage[], cutOut: IntervalSet): Standing {
  if (counts && place.found === 'splice') return { set: IntervalSet.of(place.span).subtract(cutOut), rules: [COUPON_RULE] };
  for (const { representation, rules } of parts) {
    const found = representation?.bySample.find((one) => one.sample === sample.id);
    const isBy = (rule: SamplingRuleName): boolean => found?.rules.some((one) => one.rule === rule) === true;
    if (found !== undefined) return { set: found.represents.subtract(cutOut), rules: rules.filter(({ rule }) => rule !== 'coupon' && isBy(rule)) };
  }
  return { set: IntervalSet.empty, rules: [] };
}

function sampleAnswer({ sample, place, own, unit, counts }: TestedSample, { set, rules }: Standing): CoveringSampleAnswer {
  const { state, words, rule } = unit.answer;
  const names = new Map(unit.tests.map(({ row, name }) => [row.id, name]));
  return {
    sample: linkTo('test-sample', sample, sample.number), cut: place.words, represents: metres(set), rules: [...rules], counts, state, because: words,
    retestRule: `${rule.words}; source: ${rule.source}`, results: own.map((test) => resultAnswer(test, names)),
  };
}

const resultAnswer = ({ row, name }: NamedTest, names: ReadonlyMap<string, string>): TestResultAnswer => ({
  test: linkTo('destructive-test', row, name), at: row.observedAt, outcome: row.outcome, voidReason: row.voidReason,
  follows: row.followsTestId === null ? null : (names.get(row.followsTestId) ?? null),
});

interface Stated {
  readonly state: StateMetresAnswer['state'];
  readonly set: IntervalSet;
}

/** Each metre once, under the worst of its states; worst first. */
function byState(stated: readonly Stated[]): StateMetresAnswer[] {
  let taken = IntervalSet.empty;
  return [...UNIT_STATES].reverse().flatMap((state): StateMetresAnswer[] => {
    const set = unionOf(stated.filter((one) => one.state === state)).subtract(taken);
    taken = taken.union(set);
    return set.isEmpty ? [] : [{ state, metres: metres(set) }];
  });
}

const unionOf = (stated: readonly { readonly set: IntervalSet }[]): IntervalSet => IntervalSet.from(stated.flatMap(({ set }) => set.intervals));
