import { IntervalSet } from '#libs/intervals';
import { inWords, representedIntervals, UNIT_STATES, type PipeLayout, type TestRepresentation } from '#libs/tube-tests';
import type { TestKind } from '../destructive-tests/destructive-test.dto.js';
import type { DestructiveTest } from '../destructive-tests/destructive-test.entity.js';
import type { TestSample } from '../test-samples/test-sample.entity.js';
import { linkTo } from '../trace/record-link.js';
import type { CoveringSampleAnswer, MetresAnswer, SamplingRuleAnswer, StateMetresAnswer, TestCoverageAnswer, TestResultAnswer } from './destructive-coverage.dto.js';
import type { FoundPlace } from './sample-places.js';
import { COUPON_RULE, STARTING_PLANS } from './sampling-plans.js';
import { namedTests, testUnits, type NamedTest, type TestUnit } from './test-units.js';

export interface PlacedSample {
  readonly sample: TestSample;
  readonly place: FoundPlace;
}

/** A string as its destructive tests cover it. */
export interface CoveredString {
  readonly layout: PipeLayout;
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
  const tested = testedSamples(string, tests.filter((test) => test.kind === kind));
  const plans = STARTING_PLANS.filter(({ test }) => test === kind);
  const counting = tested.flatMap(({ counts, sample, place }) =>
    (counts && place.found === 'pipe' ? [{ sample: sample.id, test: kind, place: place.place }] : []));
  const [representation = null] = representedIntervals(string.layout, plans, counting).tests;
  const samples = tested.map((one) => ({ one, stands: standsFor(one, representation, string.cutOut) }));
  const onPipe = samples.filter(({ one }) => one.place.found === 'pipe').map(({ one, stands }) => ({ state: one.unit.answer.state, set: stands.set }));
  const represented = unionOf(onPipe);
  return {
    test: kind,
    plan: plans.flatMap(({ rules }) => rules.map(inWords)),
    samples: samples.map(({ one, stands }) => sampleAnswer(one, stands)),
    represented: metres(represented),
    byState: byState(onPipe),
    missing: metres(string.pipe.subtract(represented)),
    unsampledEnds: (representation?.unsampledEnds ?? []).map(({ atMm, pipeLies, words }) => ({ atMm, pipeLies, words })),
  };
}

/** Metres, as answers say them. */
export const metres = (set: IntervalSet): MetresAnswer => ({
  lengthMm: set.totalLengthMm, intervals: set.intervals.map(({ fromMm, toMm }) => ({ fromMm, toMm })),
});

function testedSamples({ samples }: CoveredString, tests: readonly DestructiveTest[]): TestedSample[] {
  const named = namedTests(tests, new Map(samples.map(({ sample }) => [sample.id, sample.number])));
  const unitOf = new Map(testUnits(named).flatMap((unit) => unit.tests.map(({ row }) => [row.testSampleId, unit] as const)));
  return samples.flatMap(({ sample, place }): TestedSample[] => {
    const unit = unitOf.get(sample.id);
    if (unit === undefined) return [];
    const own = unit.tests.filter(({ row }) => row.testSampleId === sample.id).sort((a, b) => named.indexOf(a) - named.indexOf(b));
    return [{ sample, place, own, unit, counts: own.some(({ row }) => row.outcome !== 'void') }];
  });
}

interface Standing {
  readonly set: IntervalSet;
  readonly rules: readonly SamplingRuleAnswer[];
}

function standsFor({ sample, place, counts }: TestedSample, representation: TestRepresentation | null, cutOut: IntervalSet): Standing {
  if (counts && place.found === 'splice') return { set: IntervalSet.of(place.span).subtract(cutOut), rules: [COUPON_RULE] };
  const found = representation?.bySample.find((one) => one.sample === sample.id);
  return found === undefined ? { set: IntervalSet.empty, rules: [] } : { set: found.represents.subtract(cutOut), rules: found.rules };
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
