import { Injectable } from '@nestjs/common';
import { microseconds, type Transaction, type WriteLock } from '#libs/persistence';
import { contradictory, malformed, merged, together, type FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { TestSamplesService } from '../test-samples/test-samples.service.js';
import { DestructiveTestInput, type DestructiveTestContent } from './destructive-test.dto.js';
import { DestructiveTest } from './destructive-test.entity.js';
import { checkFaults, checkFindings, resultFaults, resultFindings, resultOf, unreadable } from './destructive-test.rules.js';
import { cutFrom, failureBefore, retestFlaw, UNKNOWN_PRODUCT } from './retest-piece.js';
import { testChecks } from './test-checks.js';
import { testContentFaults, testContentOf } from './test-content.js';

@Injectable()
export class DestructiveTestsService extends RecordsService<DestructiveTest, DestructiveTestInput, DestructiveTestContent> {
  readonly kind = 'destructive test';
  readonly entity = DestructiveTest;
  readonly input = DestructiveTestInput;
  protected override readonly filters = { stringId: 'string_id', testSampleId: 'test_sample_id', followsTestId: 'follows_test_id' };
  protected override readonly constraints = {
    ck_destructive_test_after_sample: { field: 'observedAt', limit: 'not before its sample was taken', code: 'contradiction' },
    ck_destructive_test_after_followed: { field: 'followsTestId', limit: 'an earlier test of the same kind and string', code: 'contradiction' },
    ck_destructive_test_before_followers: { field: 'observedAt', limit: 'before the tests that follow it, and of their kind', code: 'contradiction' },
  };

  constructor(
    desk: RecordDesk,
    private readonly samples: TestSamplesService,
    private readonly segments: CoilSegmentsService,
  ) {
    super(desk);
  }

  /** The tests of a string known at `asKnownAt`, oldest first. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<DestructiveTest[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by observed_at, id');
  }

  /** The tests of a string are written one after another: a chain of retests is never bent by two writes that do not see each other. */
  protected override lockOf({ stringId }: DestructiveTestInput | DestructiveTest): WriteLock {
    return { about: stringId, mode: 'exclusive' };
  }

  protected async content(tx: Transaction, input: DestructiveTestInput, current: DestructiveTest | null): Promise<Content<DestructiveTest>> {
    const { stringId, testSampleId, kind, method, laboratory } = input;
    const result = resultOf(input);
    const content = testContentOf(input);
    const digits = unreadable(result.readings);
    if (digits.length > 0) throw malformed(digits);
    const impossible = testContentFaults(kind, content);
    const own = [...resultFaults(result), ...impossible, ...(impossible.length > 0 ? [] : checkFaults(result.outcome, testChecks(kind, content)))];
    const others = await this.recordFaults(tx, input, current).catch((error: unknown) => {
      if (own.length > 0) throw merged([contradictory(own), error]);
      throw error;
    });
    const faults = [...own, ...others];
    if (faults.length > 0) throw contradictory(faults);
    return { stringId, testSampleId, kind, method, laboratory, ...result, ...content, followsTestId: input.followsTestId ?? null, note: input.note ?? null };
  }

  /** A bad result is taken and marked, and so is a retest on a piece that cannot answer for the one that failed. */
  protected override async findings(
    _input: DestructiveTestInput, content: Content<DestructiveTest>, tx: Transaction, current: DestructiveTest | null,
  ): Promise<readonly Finding[]> {
    return [
      ...resultFindings(content), ...checkFindings(content.outcome, testChecks(content.kind, content)), ...(await this.retestFindings(tx, content, current)),
    ];
  }

  protected present(row: DestructiveTest): DestructiveTestContent {
    const { stringId, testSampleId, kind, method, laboratory, readings, stated, outcome, voidReason, followsTestId, note } = row;
    const { flattening, flaring, reverseBend, reverseFlattening } = row;
    return {
      stringId, testSampleId, kind, method, laboratory, readings: readings === null ? null : [...readings], stated,
      flattening: flattening === null ? null : { ...flattening, cracks: flattening.cracks === null ? null : [...flattening.cracks] },
      flaring, reverseBend, reverseFlattening, outcome, voidReason, followsTestId, note,
    };
  }

  /** What does not go together with the records that it names, and that name it. */
  private async recordFaults(tx: Transaction, input: DestructiveTestInput, current: DestructiveTest | null): Promise<FieldProblem[]> {
    const faults = await together<FieldProblem[][]>([
      this.sampleFaults(tx, input), this.followedFaults(tx, input, current), current === null ? Promise.resolve([]) : this.followerFaults(tx, input, current),
    ]);
    return faults.flat();
  }

  private async sampleFaults(tx: Transaction, { stringId, testSampleId, observedAt }: DestructiveTestInput): Promise<FieldProblem[]> {
    const sample = await this.samples.namedOnString(tx, 'testSampleId', testSampleId, stringId);
    if (microseconds(observedAt) >= microseconds(sample.observedAt)) return [];
    return [{ field: 'observedAt', value: observedAt, limit: `not before ${sample.observedAt}, when sample ${sample.number} was taken` }];
  }

  private async retestFindings(tx: Transaction, content: Content<DestructiveTest>, current: DestructiveTest | null): Promise<Finding[]> {
    const { stringId, testSampleId, kind, followsTestId } = content;
    if (followsTestId === null) return [];
    const tests = await this.desk.store.select(this.entity, "string_id = $1 and kind = $2 and state = 'active'", [stringId, kind], null, '', tx.manager);
    const failed = failureBefore({ ...content, id: current?.id ?? '' }, new Map(tests.map((test) => [test.id, test])));
    if (failed === null) return [];
    const segments = await this.segments.ofString(stringId, null, tx.manager);
    const pieceOf = async (sampleId: string) => ({ sampleId, cutFrom: cutFrom(await this.samples.named(tx, 'testSampleId', sampleId), segments) });
    const flaw = retestFlaw(await pieceOf(failed.testSampleId), await pieceOf(testSampleId));
    if (flaw === null) return [];
    return [{ tier: flaw === UNKNOWN_PRODUCT ? 'noted' : 'out-of-specification', field: 'testSampleId', value: testSampleId, limit: `for a retest that counts, another piece of the same product; ${flaw}` }];
  }

  /** What it follows is an earlier result of the same test. */
  private async followedFaults(tx: Transaction, input: DestructiveTestInput, current: DestructiveTest | null): Promise<FieldProblem[]> {
    const { stringId, kind, observedAt, followsTestId } = input;
    if (followsTestId == null) return [];
    if (followsTestId === current?.id) return [{ field: 'followsTestId', value: followsTestId, limit: 'another test than itself' }];
    const followed = await this.namedOnString(tx, 'followsTestId', followsTestId, stringId);
    return [
      ...(followed.kind === kind ? [] : [{ field: 'followsTestId', value: followsTestId, limit: `a ${kind} test, as this one is; that is ${followed.kind}` }]),
      ...(microseconds(observedAt) > microseconds(followed.observedAt) ? [] : [{ field: 'observedAt', value: observedAt, limit: `later than ${followed.observedAt}, when the test was made that it follows` }]),
    ];
  }

  /** An amendment leaves what follows the test later than it, and of its kind. */
  private async followerFaults(tx: Transaction, { kind, observedAt }: DestructiveTestInput, { id }: DestructiveTest): Promise<FieldProblem[]> {
    const [first] = await this.desk.store.select(
      this.entity, "follows_test_id = $1 and state = 'active'", [id], null, 'order by observed_at, id limit 1', tx.manager,
    );
    if (first === undefined) return [];
    return [
      ...(first.kind === kind ? [] : [{ field: 'kind', value: kind, limit: `${first.kind}: a ${first.kind} test follows it` }]),
      ...(microseconds(observedAt) < microseconds(first.observedAt) ? [] : [{ field: 'observedAt', value: observedAt, limit: `before ${first.observedAt}, when the test was made that follows it` }]),
    ];
  }
}
