import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { run, type NewVersion, type Transaction } from '#libs/persistence';
import { RecordDesk } from '../records/record-desk.js';
import { ChartLimitsVersion } from './chart-limits.entity.js';

const NEXT_NUMBER = 'select coalesce(max(number), 0) + 1 as next from chart_limits where chart_id = $1 and version = 1';

/** The limits of control charts on record. Who may sign some, and on what, is not known here. */
@Injectable()
export class ChartLimitsRows {
  constructor(private readonly desk: RecordDesk) {}

  /** Those of a chart that were not withdrawn, known at `asKnownAt`, by their numbers. */
  async ofChart(chartId: string, asKnownAt: string | null, manager?: EntityManager): Promise<ChartLimitsVersion[]> {
    return this.desk.store.select(ChartLimitsVersion, "chart_id = $1 and state = 'active'", [chartId], asKnownAt, 'order by number', manager);
  }

  /** The same with those that were withdrawn. */
  async allOfChart(chartId: string, asKnownAt: string | null): Promise<ChartLimitsVersion[]> {
    return this.desk.store.select(ChartLimitsVersion, 'chart_id = $1', [chartId], asKnownAt, 'order by number');
  }

  /** Those of all charts of a string that were not withdrawn, known at `asKnownAt`, by chart and number. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<ChartLimitsVersion[]> {
    return this.desk.store.select(ChartLimitsVersion, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by chart_id, number');
  }

  /** One of them, or null. */
  async find(id: string, asKnownAt: string | null, manager?: EntityManager): Promise<ChartLimitsVersion | null> {
    return this.desk.store.find(ChartLimitsVersion, id, asKnownAt, manager);
  }

  /** The number that the next limits of a chart get: withdrawn ones keep theirs. Asked under the lock of the string, under which they are written too. */
  async nextNumber(tx: Transaction, chartId: string): Promise<number> {
    const { rows: [row] } = await run<{ next: number }>(tx.manager, NEXT_NUMBER, [chartId]);
    if (row === undefined) throw new Error('the database told no number');
    return row.next;
  }

  async append(tx: Transaction, row: NewVersion<ChartLimitsVersion>): Promise<ChartLimitsVersion> {
    return this.desk.store.append(tx, ChartLimitsVersion, row);
  }

  /** Withdraws them. Throws StaleVersion when somebody did already. */
  async withdraw(tx: Transaction, row: ChartLimitsVersion, reason: string): Promise<ChartLimitsVersion> {
    return this.desk.store.amend(tx, ChartLimitsVersion, row.version, Object.assign({}, row, { state: 'void', reason }));
  }
}
