import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { run, type RecordVersion } from '#libs/persistence';
import { HOLD_LIFTINGS, HOLDS, NONCONFORMANCES, type RecordKind } from '../recall/record-kinds.js';

/** How many versions of each kind of record there are, by the kind's name, and of samples under `samples`. */
export type Stamps = Readonly<Record<string, string>>;

/** The stamp of some kinds together. Throws where one was not counted. */
export function stampOf(stamps: Stamps, kinds: readonly RecordKind<RecordVersion>[]): string {
  return kinds.map(({ kind }) => {
    const count = stamps[kind];
    if (count === undefined) throw new Error(`nobody counted ${kind}`);
    return count;
  }).join(' ');
}

const SAMPLES = `
(select count(*) from signal_part p join signal_upload u on u.id = p.upload_id where u.string_id = $1)
  || '/' || (select count(*) || '/' || count(attached_again) from signal_detachment where string_id = $1)`;

/** What of another string speaks of this one's pipe, by strip that went into both. */
const BEYOND_STRINGS: ReadonlySet<string> = new Set([NONCONFORMANCES, HOLDS, HOLD_LIFTINGS].map(({ kind }) => kind));

/**
 * Tells what has changed since a question was last answered. Every change of a record adds a version and none is ever taken away, so that
 * their number alone tells; an instant would not, since of two writers at the same moment the later may be seen first.
 */
@Injectable()
export class EvidenceStamps {
  constructor(private readonly dataSource: DataSource) {}

  /** Of kinds that belong to a string, its own; of others, all. In one statement. */
  async of(stringId: string, kinds: readonly RecordKind<RecordVersion>[]): Promise<Stamps> {
    const counts = [...new Map(kinds.map((one) => [one.kind, one])).values()].map((one) => `'${one.kind}', ${this.counted(one)}`);
    const { rows } = await run<{ stamps: Stamps }>(this.dataSource.manager, `select json_build_object(${[...counts, `'samples', ${SAMPLES}`].join(', ')}) as stamps`, [stringId]);
    return rows[0]?.stamps ?? {};
  }

  private counted({ entity, kind }: RecordKind<RecordVersion>): string {
    const metadata = this.dataSource.getMetadata(entity);
    const isOfString = !BEYOND_STRINGS.has(kind) && metadata.findColumnWithPropertyName('stringId') !== undefined;
    return `(select count(*)::text from ${metadata.tableName}${isOfString ? ' where string_id = $1' : ''})`;
  }
}
