import { Injectable } from '@nestjs/common';
import { instantFromDatabase, run, type RecordVersion } from '#libs/persistence';
import { linkOf, type RecordKind } from '../recall/record-kinds.js';
import { DERIVED_AGAIN } from '../records/amendment.js';
import { changesBetween } from '../records/record-answer.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordReaders } from '../records/record-readers.js';
import type { FieldChange } from '../records/record.dto.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { byKind, STRING_KIND, STRING_KINDS } from './string-kinds.js';

/** Where a page of versions ended; they go by when they became known, then kind, then id. */
export interface KnownPlace {
  readonly knownFrom: string;
  readonly kind: string;
  readonly id: string;
}

/** Versions of a string's records that became known in a stretch of time. */
export interface KnownSince {
  readonly stringId: string;
  readonly since: string;
  /** Nothing that became known later; everything when null. */
  readonly asKnownAt: string | null;
}

/** What happened to records of a kind, counted. */
export interface ChangeCount {
  readonly kind: string;
  readonly entered: number;
  readonly amended: number;
  readonly voided: number;
  /** Versions that no person wrote: a position followed from another record's change. */
  readonly derivedAgain: number;
}

/** One version that became known. */
export interface KnownChange {
  readonly place: KnownPlace;
  readonly record: RecordLink;
  readonly row: RecordVersion;
  readonly what: 'entered' | 'amended' | 'voided' | 'derived-again';
  readonly changes: FieldChange[];
}

interface Reference {
  readonly known_from: string;
  readonly kind: string;
  readonly id: string;
  readonly version: number;
}

const KINDS = [...STRING_KINDS.map((kind) => ({ kind, column: 'string_id' })), ...(STRING_KIND === undefined ? [] : [{ kind: STRING_KIND, column: 'id' }])];

const IN_TIME = "known_from >= $2::timestamptz and known_from <= coalesce($3::timestamptz, 'infinity')";
const BY_NOBODY = `(version > 1 and state = 'active' and reason like '${DERIVED_AGAIN}%')`;

/** Everything that became known about a string since an instant, whatever its kind. Costs what became known, through an index. */
@Injectable()
export class KnownChanges {
  constructor(
    private readonly desk: RecordDesk,
    private readonly readers: RecordReaders,
  ) {}

  /** How much, by kind; kinds without any left out. */
  async counts({ stringId, since, asKnownAt }: KnownSince): Promise<ChangeCount[]> {
    const parts = KINDS.map(({ kind, column }) => `select '${kind.kind}' as kind, (count(*) filter (where version = 1))::int4 as entered,
      (count(*) filter (where version > 1 and state = 'active' and not ${BY_NOBODY}))::int4 as amended,
      (count(*) filter (where version > 1 and state = 'void'))::int4 as voided,
      (count(*) filter (where ${BY_NOBODY}))::int4 as "derivedAgain" from ${this.tableOf(kind)} where ${column} = $1 and ${IN_TIME}`);
    const { rows } = await run<ChangeCount>(this.desk.dataSource.manager, parts.join(' union all '), [stringId, since, asKnownAt]);
    return rows.filter(({ entered, amended, voided, derivedAgain }) => entered + amended + voided + derivedAgain > 0).sort(byKind);
  }

  /** The next `limit` of them after a place, oldest first; those that no person wrote only when they are asked for. */
  async page(known: KnownSince, after: KnownPlace | null, limit: number, withDerived: boolean): Promise<KnownChange[]> {
    const references = await this.references(known, after, limit, withDerived);
    const byKind = await Promise.all(KINDS.map(async ({ kind }) => this.told(kind, references.filter((one) => one.kind === kind.kind))));
    const told = new Map(byKind.flat().map((change) => [keyOf(change.place), change]));
    return references.flatMap((reference) => told.get(keyOf(placeOf(reference))) ?? []);
  }

  private async references({ stringId, since, asKnownAt }: KnownSince, after: KnownPlace | null, limit: number, withDerived: boolean): Promise<Reference[]> {
    const parts = KINDS.map(({ kind, column }) => `(select known_from, '${kind.kind}' as kind, id, version from ${this.tableOf(kind)}
      where ${column} = $1 and ${IN_TIME} and ($4 or not ${BY_NOBODY})
        and ($5::timestamptz is null or (known_from, '${kind.kind}', id) > ($5::timestamptz, $6::text, $7::uuid))
      order by known_from, id limit $8)`);
    const text = `${parts.join(' union all ')} order by known_from, kind, id limit $8`;
    // Nothing before the place is looked at: the index begins there.
    const from = after?.knownFrom ?? since;
    const values = [stringId, from, asKnownAt, withDerived, after?.knownFrom ?? null, after?.kind ?? null, after?.id ?? null, limit];
    const { rows } = await run<Reference>(this.desk.dataSource.manager, text, values);
    return rows;
  }

  private async told(kind: RecordKind<RecordVersion>, references: readonly Reference[]): Promise<KnownChange[]> {
    const wanted = references.flatMap(({ id, version }) => (version === 1 ? [{ id, version }] : [{ id, version: version - 1 }, { id, version }]));
    const rows = new Map((await this.desk.store.someVersions(kind.entity, wanted)).map((row) => [`${row.id} ${row.version}`, row]));
    return references.flatMap((reference) => {
      const row = rows.get(`${reference.id} ${reference.version}`);
      const before = rows.get(`${reference.id} ${reference.version - 1}`);
      return row === undefined ? [] : [{ place: placeOf(reference), record: linkOf(kind, row), row, what: whatOf(row), changes: this.changes(kind, before, row) }];
    });
  }

  private changes({ entity }: RecordKind<RecordVersion>, before: RecordVersion | undefined, row: RecordVersion): FieldChange[] {
    const reader = this.readers.of(entity);
    return before === undefined ? [] : changesBetween(reader.answer(before), reader.answer(row));
  }

  private tableOf({ entity }: RecordKind<RecordVersion>): string {
    return this.desk.dataSource.getMetadata(entity).tableName;
  }
}

function whatOf({ version, state, reason }: RecordVersion): KnownChange['what'] {
  if (version === 1) return 'entered';
  if (state === 'void') return 'voided';
  return reason?.startsWith(DERIVED_AGAIN) === true ? 'derived-again' : 'amended';
}

const placeOf = ({ known_from: knownFrom, kind, id }: Reference): KnownPlace => ({ knownFrom: instantFromDatabase(knownFrom), kind, id });
const keyOf = ({ knownFrom, kind, id }: KnownPlace): string => `${knownFrom} ${kind} ${id}`;
