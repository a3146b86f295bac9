import { Injectable } from '@nestjs/common';
import { instantFromDatabase, microseconds, normalInstant, run, type Transaction } from '#libs/persistence';
import { CoilsService } from '../coils/coils.service.js';
import { contradictory, refusedField, together, type FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { TestSampleInput, type TestSampleContent } from './test-sample.dto.js';
import { TestSample } from './test-sample.entity.js';
import { custodyFaults, custodyGaps, originFaults, originOf, otherFootage } from './test-sample.rules.js';

const FIRST_TEST = "select min(observed_at) as at from destructive_test where test_sample_id = $1 and known_until is null and state = 'active'";

@Injectable()
export class TestSamplesService extends RecordsService<TestSample, TestSampleInput, TestSampleContent> {
  readonly kind = 'test sample';
  readonly entity = TestSample;
  readonly input = TestSampleInput;
  protected override readonly filters = { stringId: 'string_id', coilId: 'coil_id', spliceId: 'splice_id' };
  protected override readonly constraints = {
    uq_test_sample_number: { field: 'number', limit: 'a number that no other sample of the string has' },
    ck_test_sample_before_tests: { field: 'observedAt', limit: 'not after a test of it', code: 'contradiction' },
  };

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly coils: CoilsService,
    private readonly splices: SplicesService,
    private readonly events: SeamEventsService,
  ) {
    super(desk);
  }

  /** The samples of a string known at `asKnownAt`, by number. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<TestSample[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by number, id');
  }

  protected async content(tx: Transaction, input: TestSampleInput, current: TestSample | null): Promise<Content<TestSample>> {
    const { stringId, number, orientation } = input;
    const origin = originOf(input);
    const custody = (input.custody ?? []).map(({ by, at, from, to }) => ({ by, at: normalInstant(at), from, to }));
    const { footageLimitMm } = await this.strings.named(tx, 'stringId', stringId);
    const faults = [...originFaults(origin, footageLimitMm), ...custodyFaults(input.observedAt, input.custody ?? []), ...(await this.testFaults(tx, input, current))];
    if (faults.length > 0) throw contradictory(faults);
    await together([
      this.coils.namedIfAny(tx, 'coilId', origin.coilId),
      origin.spliceId === null ? null : this.splices.namedOnString(tx, 'spliceId', origin.spliceId, stringId),
      origin.seamEventId === null ? null : this.demandStop(tx, origin.seamEventId, stringId),
    ]);
    return { stringId, number, ...origin, orientation, custody, note: input.note ?? null };
  }

  private async demandStop(tx: Transaction, seamEventId: string, stringId: string): Promise<void> {
    const { stringId: of, event } = await this.events.named(tx, 'seamEventId', seamEventId);
    if (of !== stringId || event !== 'stop') throw refusedField('unknown-reference', 'seamEventId', seamEventId, 'a stop of this string');
  }

  /** An amended sample stays before its tests. Who enters one holds the lock of the string alone, so none comes in meanwhile. */
  private async testFaults(tx: Transaction, { observedAt }: TestSampleInput, current: TestSample | null): Promise<FieldProblem[]> {
    if (current === null) return [];
    const { rows } = await run<{ at: string | null }>(tx.manager, FIRST_TEST, [current.id]);
    const first = rows[0]?.at ?? null;
    if (first === null || microseconds(observedAt) <= microseconds(instantFromDatabase(first))) return [];
    return [{ field: 'observedAt', value: observedAt, limit: `not after ${instantFromDatabase(first)}, when it was first tested` }];
  }

  protected override async findings(_input: TestSampleInput, { custody, seamEventId, stopFootageMm }: Content<TestSample>, tx: Transaction): Promise<Finding[]> {
    const stop = seamEventId === null ? null : await this.events.named(tx, 'seamEventId', seamEventId);
    return [...custodyGaps(custody), ...(stop === null ? [] : otherFootage(stopFootageMm, stop.span.fromMm))];
  }

  protected present(row: TestSample): TestSampleContent {
    const { stringId, number, coilId, coilEnd, stopFootageMm, stopSide, seamEventId, footageMm, spliceId, orientation, custody, note } = row;
    return { stringId, number, coilId, coilEnd, stopFootageMm, stopSide, seamEventId, footageMm, spliceId, orientation, custody: [...custody], note };
  }
}
