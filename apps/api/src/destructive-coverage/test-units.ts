import { microseconds } from '#libs/persistence';
import { unitStateOf, type RetestRule, type TestResult, type UnitAnswer } from '#libs/tube-tests';
import type { DestructiveTest } from '../destructive-tests/destructive-test.entity.js';

/** A test with the name that answers give it: the number of its sample, and which of the sample's tests of its kind it was. */
export interface NamedTest {
  readonly row: DestructiveTest;
  readonly name: string;
}

/** Results that belong together: those of one sample, and what follows them on whatever sample. */
export interface TestUnit {
  readonly tests: readonly NamedTest[];
  readonly answer: UnitAnswer;
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

/** The units of named tests of one kind, which come oldest first, each with its state by the rule for when its first test was made. */
export function testUnits(tests: readonly NamedTest[], ruleAt: (firstTestAt: string) => RetestRule): TestUnit[] {
  const names = new Map(tests.map(({ row, name }) => [row.id, name]));
  return grouped(tests).map((unit) => {
    const results = unit.map(({ row, name }) => resultOf(row, name, names));
    const first = tests.find((test) => unit.includes(test));
    return { tests: unit, answer: unitStateOf(results, ruleAt(first?.row.observedAt ?? '')) };
  });
}

/** What a test follows is older, and so is in a group before it comes. */
function grouped(tests: readonly NamedTest[]): NamedTest[][] {
  let groups: NamedTest[][] = [];
  for (const test of tests) {
    const belongs = (other: NamedTest): boolean => other.row.testSampleId === test.row.testSampleId || other.row.id === test.row.followsTestId;
    const own = groups.filter((group) => group.some(belongs));
    groups = [...groups.filter((group) => !own.includes(group)), [...own.flat(), test]];
  }
  return groups;
}

function resultOf({ observedAt, followsTestId, outcome, voidReason }: DestructiveTest, id: string, names: ReadonlyMap<string, string>): TestResult {
  const common = { id, atUs: microseconds(observedAt), follows: followsTestId === null ? null : (names.get(followsTestId) ?? null) };
  return outcome === 'void' ? { ...common, outcome, reason: voidReason ?? '' } : { ...common, outcome };
}
