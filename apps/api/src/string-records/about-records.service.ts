import { Injectable } from '@nestjs/common';
import type { RecordVersion, Transaction } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import { linkOf, type RecordKind } from '../recall/record-kinds.js';
import { RecordDesk } from '../records/record-desk.js';
import type { RecordLink } from '../trace/trace.dto.js';
import type { AboutRecordPart } from './about-record.dto.js';
import { STRING_KINDS } from './string-kinds.js';

/** What a note or an item names beside its words: a record of the same string. */
export interface AboutRecord {
  readonly kind: string;
  readonly id: string;
}

export const aboutOf = (about: AboutRecordPart | null | undefined): AboutRecord | null => (about == null ? null : { kind: about.kind, id: about.id });

/** Ids are the clients' own: only with its kind does one name one record. */
export const keyOf = ({ kind, id }: AboutRecord): string => `${kind} ${id}`;

/** Records that others are about. */
@Injectable()
export class AboutRecords {
  constructor(private readonly desk: RecordDesk) {}

  /** Refuses with 422 what is no record of the string, or void; what was named before stays named. */
  async demand(tx: Transaction, field: string, about: AboutRecord | null, stringId: string, before: readonly (AboutRecord | null)[]): Promise<void> {
    if (about === null || before.some((one) => one !== null && keyOf(one) === keyOf(about))) return;
    const row = await this.desk.store.find(kindNamed(about.kind).entity, about.id, null, tx.manager);
    const { stringId: own } = (row ?? {}) as { stringId?: string | null };
    if (row?.state === 'active' && own === stringId) return;
    throw refusedField('unknown-reference', `${field}.id`, about.id, `the id of a ${about.kind} of this string that is not void`);
  }

  /** Links to those known at `asKnownAt`, by their keys. */
  async links(named: readonly AboutRecord[], asKnownAt: string | null): Promise<ReadonlyMap<string, RecordLink>> {
    const kinds = [...new Set(named.map(({ kind }) => kind))].map(kindNamed);
    const links = await Promise.all(kinds.map(async (kind) => {
      const ids = named.filter((one) => one.kind === kind.kind).map(({ id }) => id);
      const rows = await this.desk.store.select(kind.entity, 'id = any($1::uuid[])', [ids], asKnownAt);
      return rows.map((row) => [keyOf({ kind: kind.kind, id: row.id }), linkOf(kind, row)] as const);
    }));
    return new Map(links.flat());
  }
}

function kindNamed(name: string): RecordKind<RecordVersion> {
  const kind = STRING_KINDS.find((one) => one.kind === name);
  if (kind === undefined) throw new Error(`no kind of record is called ${name}`);
  return kind;
}
