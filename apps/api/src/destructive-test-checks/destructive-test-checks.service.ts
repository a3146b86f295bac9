import { Injectable } from '@nestjs/common';
import { readingChecks } from '../destructive-tests/destructive-test.rules.js';
import { DestructiveTestsService } from '../destructive-tests/destructive-tests.service.js';
import { testChecks, type TestCheck } from '../destructive-tests/test-checks.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { TestSamplesService } from '../test-samples/test-samples.service.js';
import { linkTo } from '../trace/record-link.js';
import type { DestructiveTestChecksAnswer, TestCheckAnswer } from './destructive-test-check.dto.js';
import { flareAndFold, testStrains } from './test-strains.js';

const CAUTIONS = [
  'A check that is met shows how the test was made and what it came to; it does not show that the pipe is sound.',
  'Demands with the source of another product are starting values: the project\'s specification decides which apply.',
];

/** Destructive tests beside everything that is demanded of them. */
@Injectable()
export class DestructiveTestChecks {
  constructor(
    private readonly tests: DestructiveTestsService,
    private readonly samples: TestSamplesService,
    private readonly strings: CasingStringsService,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when there was no such test. */
  async of(testId: string, asKnownAt: string | null): Promise<DestructiveTestChecksAnswer> {
    const test = await this.tests.row(testId, asKnownAt);
    const [sample, string] = await Promise.all([this.samples.row(test.testSampleId, asKnownAt), this.strings.row(test.stringId, asKnownAt)]);
    const checks = [...testChecks(test.kind, test), ...readingChecks(test.readings)];
    const count = (outcome: TestCheck['outcome']): number => checks.filter((check) => check.outcome === outcome).length;
    const [notMet, notComputable] = [count('not met'), count('not computable')];
    return {
      test: linkTo('destructive-test', test, `${test.kind} of ${test.observedAt}`), sample: linkTo('test-sample', sample, sample.number), asKnownAt,
      kind: test.kind, outcome: test.outcome, checks: checks.map(checkAnswer), notMet, notComputable,
      strains: testStrains(test.kind, test), fold: flareAndFold(test.kind, test, string.diameterRatio),
      words: wordsOf(test.outcome, checks.length, notMet, notComputable), cautions: CAUTIONS,
    };
  }
}

const checkAnswer = ({ field, name, outcome, found, demanded, because, source }: TestCheck): TestCheckAnswer => ({ field, name, outcome, found, demanded, because, source });

function wordsOf(outcome: string, all: number, notMet: number, notComputable: number): string {
  if (all === 0) return `stated as ${outcome}; nothing was recorded that could be checked`;
  return `stated as ${outcome}; of ${all} checks ${all - notMet - notComputable} are met, ${notMet} not met, ${notComputable} not computable`;
}
