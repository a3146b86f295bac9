import { Injectable } from '@nestjs/common';
import { LengthError } from '#libs/length';
import { microseconds, normalInstant, type Transaction } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CounterPeriodInput, type CounterPeriodContent } from './counter-period.dto.js';
import { CounterPeriodVersion } from './counter-period.entity.js';
import { periodFindings, refuseHalfSaidPeriod, type PeriodBefore } from './counter-period.rules.js';
import { CounterReadingsService } from './counter-readings.service.js';
import { decimalMm, type LineKnowledge, type TimedPeriod } from './line-knowledge.js';
import { timedPeriod, type PeriodColumns } from './line-loader.js';
import { Places, type Move, type PlacedKind, type Stage } from './places.service.js';

@Injectable()
export class CounterPeriodsService
  extends RecordsService<CounterPeriodVersion, CounterPeriodInput, CounterPeriodContent>
  implements PlacedKind<CounterPeriodVersion>
{
  readonly kind = 'counter period';
  readonly entity = CounterPeriodVersion;
  readonly input = CounterPeriodInput;
  readonly stage: Stage = 'counter-periods';
  protected override readonly effect = 'moves';
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    xc_counter_period_during: { field: 'observedAt', limit: 'a time in which no other period of this counter holds' },
    ck_counter_period_during: { field: 'until', limit: 'an end after the beginning' },
    ck_counter_period_start: { field: 'startFootageMm', limit: 'either startFootageMm or previousEndReading' },
    ck_counter_period_scale: { field: 'scaleMmPerCount', limit: 'a scale above 0, its uncertainty 0 or more' },
    xc_cut_out_span: { field: 'scaleMmPerCount', limit: 'a scale and start that leave the cut-outs apart: two would remove the same pipe' },
  };

  constructor(desk: RecordDesk, private readonly places: Places, private readonly readings: CounterReadingsService) {
    super(desk);
    places.register(this);
  }

  moved(row: CounterPeriodVersion, line: LineKnowledge): Move | null {
    const period = line.periodById(row.id);
    if (period === null) return null;
    const startFootageMm = decimalMm(period.startFootageMm);
    if (startFootageMm === row.startFootageMm) return null;
    return { columns: { startFootageMm }, said: `its start at ${row.startFootageMm} mm of footage became ${startFootageMm} mm` };
  }

  protected async content(
    tx: Transaction,
    input: CounterPeriodInput,
    current: CounterPeriodVersion | null,
  ): Promise<Content<CounterPeriodVersion>> {
    refuseHalfSaidPeriod(input);
    const line = await this.places.line(tx, input.stringId);
    const columns: PeriodColumns = {
      counter: input.counter ?? line.masterCounter,
      during: { from: normalInstant(input.observedAt), until: input.until == null ? null : normalInstant(input.until) },
      startReading: input.startReading,
      previousEndReading: input.previousEndReading ?? null,
      startGivenMm: input.startFootageMm ?? null,
      scaleMmPerCount: input.scaleMmPerCount,
      scaleRelativeU: input.scaleRelativeU,
    };
    const startFootageMm = startIn(line, timed(columns, current));
    await this.endEarlier(tx, input.stringId, columns, current);
    return { stringId: input.stringId, ...columns, startFootageMm, wheel: input.wheel ?? null, note: input.note ?? null };
  }

  protected override async findings(
    input: CounterPeriodInput,
    content: Content<CounterPeriodVersion>,
    tx: Transaction,
    current: CounterPeriodVersion | null,
  ): Promise<readonly Finding[]> {
    const line = await this.places.line(tx, input.stringId);
    const before = await this.before(tx, line.withPeriod(timed(content, current)), input.stringId, content);
    const startField = content.startGivenMm === null ? 'previousEndReading' : 'startFootageMm';
    return periodFindings({ ...content, startField }, before);
  }

  /** Where a period gives up time it had, the one that ended at its beginning holds there again. */
  protected override async afterWrite(tx: Transaction, row: CounterPeriodVersion, before: CounterPeriodVersion | null): Promise<void> {
    if (before !== null) await this.reopenEarlier(tx, row, before);
    await super.afterWrite(tx, row, before);
  }

  protected present(row: CounterPeriodVersion): CounterPeriodContent {
    const { stringId, counter, startReading, previousEndReading, scaleMmPerCount, scaleRelativeU, wheel, note } = row;
    return {
      stringId, counter, startReading, previousEndReading, scaleMmPerCount, scaleRelativeU, wheel, note,
      until: row.during.until,
      startFootageMm: row.startGivenMm,
      derivedStartFootageMm: Number(row.startFootageMm),
    };
  }

  /** The period before and the footage its last reading reached. */
  private async before(tx: Transaction, line: LineKnowledge, stringId: string, { counter, during }: PeriodColumns): Promise<PeriodBefore | null> {
    const earlier = line.periodBefore(counter, microseconds(during.from));
    if (earlier === null) return null;
    const sought = { stringId, counter, at: during.from, exceptId: null };
    const last = await this.readings.lastBefore(tx, line, sought);
    return { scaleMmPerCount: earlier.scaleMmPerCount, reachedMm: last?.footageMm ?? null };
  }

  private async endEarlier(tx: Transaction, stringId: string, { counter, during }: PeriodColumns, current: CounterPeriodVersion | null): Promise<void> {
    const rows = await this.desk.store.select(
      CounterPeriodVersion,
      `string_id = $1 and counter = $2 and state = 'active' and id is distinct from $3 and lower(during) < $4 and upper(during) is not distinct from $5`,
      [stringId, counter, current?.id ?? null, during.from, null], null, '', tx.manager,
    );
    for (const row of rows) await this.amendEnd(tx, row, during.from, `Closed by the next period, which begins at ${during.from}.`);
    if (current === null || microseconds(during.from) >= microseconds(current.during.from)) return;
    for (const row of await this.endingAt(tx, current)) {
      if (microseconds(row.during.from) >= microseconds(during.from)) continue;
      await this.amendEnd(tx, row, during.from, `Closed earlier: the next period was amended to begin at ${during.from}.`);
    }
  }

  private async reopenEarlier(tx: Transaction, row: CounterPeriodVersion, before: CounterPeriodVersion): Promise<void> {
    const until = row.state === 'void' ? before.during.until : row.during.from;
    const gained = row.state === 'void' || microseconds(row.during.from) > microseconds(before.during.from);
    if (!gained || row.counter !== before.counter) return;
    const why = row.state === 'void' ? `period ${row.id} after it was withdrawn` : `the next period was amended to begin at ${row.during.from}`;
    for (const earlier of await this.endingAt(tx, before)) await this.amendEnd(tx, earlier, until, `Holds longer: ${why}.`);
  }

  /** The other period of the counter that ended where `period` began: none or one. */
  private endingAt(tx: Transaction, { id, stringId, counter, during }: CounterPeriodVersion): Promise<CounterPeriodVersion[]> {
    return this.desk.store.select(
      CounterPeriodVersion,
      "string_id = $1 and counter = $2 and state = 'active' and id <> $3 and upper(during) = $4",
      [stringId, counter, id, during.from], null, '', tx.manager,
    );
  }

  private async amendEnd(tx: Transaction, row: CounterPeriodVersion, until: string | null, reason: string): Promise<void> {
    const during = { from: row.during.from, until };
    await this.desk.store.amend(tx, CounterPeriodVersion, row.version, { ...row, during, reason });
  }
}

/** The period as the chain takes it; a new one has no id yet. */
function timed(columns: PeriodColumns, current: CounterPeriodVersion | null): TimedPeriod {
  return timedPeriod(columns, { kind: 'counter-period', id: current?.id ?? 'new', version: (current?.version ?? 0) + 1 });
}

/** The footage a period starts at among the others, mm. */
function startIn(line: LineKnowledge, period: TimedPeriod): string {
  const chained = chainedWith(line, period).periodById(period.record.id);
  return decimalMm(chained?.startFootageMm ?? 0);
}

function chainedWith(line: LineKnowledge, period: TimedPeriod): LineKnowledge {
  try {
    return line.withPeriod(period);
  } catch (error) {
    if (!(error instanceof LengthError)) throw error;
    const limit = `a period of counter ${period.counter} with one recorded before it, or startFootageMm: ${error.message}`;
    throw refusedField('no-earlier-period', 'previousEndReading', null, limit);
  }
}
