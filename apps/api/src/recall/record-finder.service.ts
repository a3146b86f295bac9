import { Injectable } from '@nestjs/common';
import { microseconds, type RecordClass, type RecordVersion } from '#libs/persistence';
import { notFound } from '../http/problem.js';
import { DERIVED_AGAIN } from '../records/amendment.js';
import { RecordDesk } from '../records/record-desk.js';
import { MOST_LINKS, type LinkList } from './link-list.js';
import { linkOf, type RecordKind } from './record-kinds.js';

/** A condition over the columns of a kind, with its parameters `$1`…. */
interface Condition {
  readonly sql: string;
  readonly parameters: readonly unknown[];
}

/** Finds records of any kind by what they have in common. */
@Injectable()
export class RecordFinder {
  constructor(private readonly desk: RecordDesk) {}

  /** The record known at an instant, or now. Refuses with 404 when there is none. */
  async one<R extends RecordVersion>({ kind, entity }: RecordKind<R>, id: string, asKnownAt: string | null): Promise<R> {
    const row = await this.desk.store.find(entity, id, asKnownAt);
    if (row === null) throw notFound(kind.replaceAll('-', ' '), id);
    return row;
  }

  /** Every version of a record known at an instant, or now, oldest first. */
  async versions<R extends RecordVersion>({ entity }: RecordKind<R>, id: string, asKnownAt: string | null): Promise<R[]> {
    const all = await this.desk.store.versions(entity, id);
    return asKnownAt === null ? all : all.filter(({ knownFrom }) => microseconds(knownFrom) <= microseconds(asKnownAt));
  }

  /** Those of a kind that meet a condition. */
  where<R extends RecordVersion>({ entity }: RecordKind<R>, { sql, parameters }: Condition, asKnownAt: string | null): Promise<R[]> {
    return this.desk.store.select(entity, `state = 'active' and ${sql}`, parameters, asKnownAt, 'order by observed_at, id');
  }

  /**
   * Those of a kind that a person did, or keyed in any version known then. A version that only derived a position again
   * counts for nobody.
   */
  byPerson<R extends RecordVersion>(kind: RecordKind<R>, personId: string, asKnownAt: string | null): Promise<R[]> {
    return this.where(kind, this.personsCondition(kind.entity, personId, asKnownAt), asKnownAt);
  }

  /** As `byPerson`, but only named and counted. */
  async namedByPerson<R extends RecordVersion>(kind: RecordKind<R>, personId: string, asKnownAt: string | null): Promise<LinkList> {
    return this.named(kind, this.personsCondition(kind.entity, personId, asKnownAt), asKnownAt);
  }

  /** Records of a kind whose position rests on another record. */
  restingOn<R extends RecordVersion>(kind: RecordKind<R>, recordId: string, asKnownAt: string | null): Promise<R[]> {
    const parameters = [JSON.stringify([{ id: recordId }])];
    return this.where(kind, { sql: 'rests_on @> $1::jsonb', parameters }, asKnownAt);
  }

  /** How many of a kind meet a condition, and the first of them by name. */
  async named<R extends RecordVersion>(kind: RecordKind<R>, { sql, parameters }: Condition, asKnownAt: string | null): Promise<LinkList> {
    const condition = `state = 'active' and ${sql}`;
    const { store, dataSource } = this.desk;
    const rows = await store.select(kind.entity, condition, parameters, asKnownAt, `order by observed_at, id limit ${MOST_LINKS}`);
    if (rows.length < MOST_LINKS) return { total: rows.length, truncated: false, links: rows.map((row) => linkOf(kind, row)) };
    const known = `coalesce($${parameters.length + 1}::timestamptz, 'infinity')`;
    const counted: { count: string }[] = await dataSource.query(
      `select count(*) from ${this.tableOf(kind.entity)} where (${condition})
        and ((${known} = 'infinity' and known_until is null) or (known_from <= ${known} and (known_until is null or known_until > ${known})))`,
      [...parameters, asKnownAt],
    );
    const total = Number(counted[0]?.count ?? rows.length);
    return { total, truncated: total > rows.length, links: rows.map((row) => linkOf(kind, row)) };
  }

  private personsCondition(entity: RecordClass<RecordVersion>, personId: string, asKnownAt: string | null): Condition {
    const table = this.tableOf(entity);
    return {
      sql: `exists (select 1 from ${table} as written where written.id = ${table}.id
        and (written.done_by = $1 or (written.keyed_by = $1 and coalesce(written.reason, '') not like $2))
        and written.known_from <= coalesce($3::timestamptz, 'infinity'))`,
      parameters: [personId, `${DERIVED_AGAIN}%`, asKnownAt],
    };
  }

  private tableOf(entity: RecordClass<RecordVersion>): string {
    return this.desk.dataSource.getMetadata(entity).tableName;
  }
}
