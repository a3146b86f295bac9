import { Injectable } from '@nestjs/common';
import { run, type RecordVersion } from '#libs/persistence';
import { linkOf, type RecordKind } from '../recall/record-kinds.js';
import { RecordDesk } from '../records/record-desk.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { byKind, STRING_KINDS } from './string-kinds.js';

/** A stretch of time on a string: from its beginning to before its end, or on when it has none; as known at an instant or now. */
export interface TimeOnString {
  readonly stringId: string;
  readonly from: string;
  readonly until: string | null;
  readonly asKnownAt: string | null;
}

/** How many records of a kind were done. */
export interface DoneOfKind {
  readonly kind: string;
  /** Not withdrawn. */
  readonly total: number;
  /** Of these, entered after the end. */
  readonly late: number;
  readonly withdrawn: number;
}

/** A record that was entered after the end of the time in which its work was done. */
export interface LateRecord {
  readonly record: RecordLink;
  readonly row: RecordVersion;
  /** Who keyed its first version: later ones may be another person's, or nobody's. */
  readonly firstKeyedBy: string;
}

/** More than these are counted, not listed. */
export const MOST_LATE = 500;

/** A shift is no work that was done in a shift. */
const KINDS: readonly RecordKind<RecordVersion>[] = STRING_KINDS.filter(({ kind }) => kind !== 'shift');

const IN_TIME = "string_id = $1 and observed_at >= $2::timestamptz and observed_at < coalesce($3::timestamptz, 'infinity')";
const KNOWN = `(($4::timestamptz is null and known_until is null)
  or (known_from <= $4::timestamptz and (known_until is null or known_until > $4::timestamptz)))`;

/** What was done on a string in a stretch of time, by the time of the events and not of their entry. */
@Injectable()
export class WorkDone {
  constructor(private readonly desk: RecordDesk) {}

  /** Kinds of which something was done or withdrawn, counted. */
  async counts(time: TimeOnString): Promise<DoneOfKind[]> {
    const rows = await this.overKinds<DoneOfKind>(time, ({ kind }) => `select '${kind}' as kind, (count(*) filter (where state = 'active'))::int4 as total,
      (count(*) filter (where state = 'active' and entered_at > $3::timestamptz))::int4 as late, (count(*) filter (where state = 'void'))::int4 as withdrawn`);
    return rows.filter(({ total, withdrawn }) => total + withdrawn > 0).sort(byKind);
  }

  /** Who did how many of them, withdrawn ones left out. */
  async doers(time: TimeOnString): Promise<{ personId: string; records: number }[]> {
    const rows = await this.overKinds<{ person_id: string; records: number }>(
      time, () => 'select done_by as person_id, count(*)::int4 as records', " and state = 'active' group by done_by",
    );
    const sums = new Map<string, number>();
    for (const { person_id: personId, records } of rows) sums.set(personId, (sums.get(personId) ?? 0) + records);
    return [...sums].map(([personId, records]) => ({ personId, records })).sort((one, other) => other.records - one.records || (one.personId < other.personId ? -1 : 1));
  }

  /** Those entered after the end, of the kinds that `counts` found some of: the first of them, in the order of their entry. */
  async late({ stringId, from, until, asKnownAt }: TimeOnString, counts: readonly DoneOfKind[]): Promise<LateRecord[]> {
    const kinds = KINDS.filter(({ kind }) => counts.some((count) => count.kind === kind && count.late > 0));
    const found = await Promise.all(kinds.map(async (kind) => {
      const condition = "string_id = $1 and state = 'active' and observed_at >= $2 and observed_at < $3 and entered_at > $3";
      const rows = await this.desk.store.select(kind.entity, condition, [stringId, from, until], asKnownAt, `order by entered_at, id limit ${MOST_LATE}`);
      const firsts = await this.desk.store.firstVersions(kind.entity, rows.map(({ id }) => id));
      const keyedBy = new Map(firsts.map((first) => [first.id, first.keyedBy]));
      return rows.map((row) => ({ record: linkOf(kind, row), row, firstKeyedBy: keyedBy.get(row.id) ?? row.keyedBy }));
    }));
    return found.flat().sort(byEntry).slice(0, MOST_LATE);
  }

  private async overKinds<Row extends object>({ stringId, from, until, asKnownAt }: TimeOnString, selected: (kind: RecordKind<RecordVersion>) => string, tail = ''): Promise<Row[]> {
    const { dataSource } = this.desk;
    const parts = KINDS.map((kind) => `${selected(kind)} from ${dataSource.getMetadata(kind.entity).tableName} where ${IN_TIME} and ${KNOWN}${tail}`);
    const { rows } = await run<Row>(dataSource.manager, parts.join(' union all '), [stringId, from, until, asKnownAt]);
    return rows;
  }
}

/** Instants in their one spelling follow each other as their texts do. */
const byEntry = ({ row: one }: LateRecord, { row: other }: LateRecord): number =>
  one.enteredAt === other.enteredAt ? (one.id < other.id ? -1 : 1) : one.enteredAt < other.enteredAt ? -1 : 1;
