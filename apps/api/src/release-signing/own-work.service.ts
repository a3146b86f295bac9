import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { run, type RecordVersion } from '#libs/persistence';
import { COIL_DECISIONS, DESTRUCTIVE_TESTS, INDICATION_EVALUATIONS, INSPECTION_RUNS, PERSONS_PLACED, PERSONS_WELDS, type RecordKind } from '../recall/record-kinds.js';
import type { FrozenEvidence } from '../releases/frozen-evidence.js';
import type { RecordLink } from '../trace/trace.dto.js';

/** What people do to the pipe, or see of it. */
const WORK: readonly RecordKind<RecordVersion>[] = [...PERSONS_PLACED, ...PERSONS_WELDS, INSPECTION_RUNS, DESTRUCTIVE_TESTS, INDICATION_EVALUATIONS, COIL_DECISIONS];

/** Finds out who did the work that evidence rests on. */
@Injectable()
export class OwnWork {
  constructor(private readonly dataSource: DataSource) {}

  /** The records of some evidence that a person did, in any of their versions. */
  async of(personId: string, { lines }: Pick<FrozenEvidence, 'lines'>): Promise<RecordLink[]> {
    const links = new Map(lines.flatMap(({ testimonies }) => testimonies.flatMap(({ records }) => records)).map((link) => [`${link.kind} ${link.id}`, link]));
    const own: RecordLink[] = [];
    for (const { kind, entity } of WORK) {
      const ids = [...links.values()].filter((link) => link.kind === kind).map(({ id }) => id);
      if (ids.length === 0) continue;
      const { tableName } = this.dataSource.getMetadata(entity);
      const { rows } = await run<{ id: string }>(this.dataSource.manager, `select distinct id from ${tableName} where id = any($1::uuid[]) and done_by = $2`, [ids, personId]);
      own.push(...rows.flatMap(({ id }) => links.get(`${kind} ${id}`) ?? []));
    }
    return own;
  }
}
