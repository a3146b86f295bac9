import { microseconds } from '#libs/persistence';
import { chainFault, unitStateOf, type RetestRule, type TestResult, type UnitAnswer } from '#libs/tube-tests';
import type { DestructiveTest } from '../destructive-tests/destructive-test.entity.js';
import { failureBefore, retestFlaw } from '../destructive-tests/retest-piece.js';

/** A test with the name that answers give it: the number of its sample, and which of the sample's tests of its kind it was. */
export interface NamedTest {
  readonly row: DestructiveTest;
  readonly name: string;
}

/** Results that belong together: those of one sample, and what follows them on whatever sample. */
export interface TestUnit {
  readonly tests: readonly NamedTest[];
  readonly answer: Pick<UnitAnswer, 'state' | 'words' | 'rule'>;
}

/** Names tests of one kind, which come oldest first; a test whose sample is not known is left out. */
export function namedTests(tests: readonly DestructiveTest[], sampleNumbers: ReadonlyMap<string, string>): NamedTest[] {
  const counted = new Map<string, number>();
  return tests.flatMap((row): NamedTest[] => {
    const number = sampleNumbers.get(row.testSampleId);
    if (number === undefined) return [];
    const nth = (counted.get(row.testSampleId) ?? 0) + 1;
    counted.set(row.testSampleId, nth);
    return [{ row, name: `${number}/${nth}` }];
  });
}

/**
 * The units of named tests of one kind, which come oldest first, each with its state by the rule for when its first test was
 * made. A pass on the piece that failed, or on one that is not of the same product, does not count as a retest.
 * @param cutFrom what a sample was cut from, by its id; null where that is not known
 */
export function testUnits(tests: readonly NamedTest[], ruleAt: (firstTestAt: string) => RetestRule, cutFrom: (sampleId: string) => string | null): TestUnit[] {
  const byId = new Map(tests.map((test) => [test.row.id, test]));
  const rows = new Map(tests.map(({ row }) => [row.id, row]));
  const pieceOf = ({ testSampleId }: DestructiveTest) => ({ sampleId: testSampleId, cutFrom: cutFrom(testSampleId) });
  return grouped(tests).map((unit) => {
    const results = unit.map((test) => {
      const failed = failureBefore(test.row, rows);
      return resultOf(test, byId, failed === null ? null : retestFlaw(pieceOf(failed), pieceOf(test.row)));
    });
    const first = tests.find((test) => unit.includes(test));
    return { tests: unit, answer: answerOf(results, ruleAt(first?.row.observedAt ?? '')) };
  });
}

/** Of records whose chain does not hold together nothing is shown to have passed: they say so until they are corrected. */
function answerOf(results: readonly TestResult[], rule: RetestRule): TestUnit['answer'] {
  const fault = chainFault(results);
  if (fault === null) return unitStateOf(results, rule);
  const state = results.some(({ outcome }) => outcome === 'fail') ? 'failed' : 'open';
  const words = `${state}: the records contradict each other and are to be corrected: ${fault}`;
  return { state, words, rule: { words: 'not applied: the chain of retests does not hold together', source: rule.source } };
}

/** Of one sample, or one following the other, in whichever order the records come. */
function grouped(tests: readonly NamedTest[]): NamedTest[][] {
  let groups: NamedTest[][] = [];
  for (const test of tests) {
    const belongs = (other: NamedTest): boolean => other.row.testSampleId === test.row.testSampleId || other.row.id === test.row.followsTestId || other.row.followsTestId === test.row.id;
    const own = groups.filter((group) => group.some(belongs));
    groups = [...groups.filter((group) => !own.includes(group)), [...own.flat(), test]];
  }
  return groups;
}

function resultOf({ row, name: id }: NamedTest, byId: ReadonlyMap<string, NamedTest>, flaw: string | null): TestResult {
  const { observedAt, followsTestId, outcome, voidReason } = row;
  const follows = followsTestId === null ? null : (byId.get(followsTestId)?.name ?? null);
  const common = { id, atUs: microseconds(observedAt), follows, ...(flaw === null ? {} : { discount: flaw }) };
  return outcome === 'void' ? { ...common, outcome, reason: voidReason ?? '' } : { ...common, outcome };
}
