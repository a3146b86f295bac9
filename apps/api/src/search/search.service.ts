import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { run } from '#libs/persistence';
import type { FOUND_KINDS, SearchAnswer } from './search.dto.js';

interface FoundRow {
  kind: (typeof FOUND_KINDS)[number];
  id: string;
  number: string;
  more: string;
}

/** Each table with a number, and what else tells its records apart. */
const TABLES = [
  { kind: 'coil', from: 'coil', more: "'heat ' || coalesce((select h.number from heat h where h.id = t.heat_id and h.known_until is null), '')" },
  { kind: 'heat', from: 'heat', more: 't.grade' },
  { kind: 'certificate', from: 'certificate', more: 't.issuer' },
  { kind: 'strip-order', from: 'strip_order', more: 't.mill' },
] as const;

/** The rows of all tables that meet `condition` over `t.number`, the first of each by `order`; then the first of all. */
function overTables(condition: string, order: string, limit: string): string {
  const each = TABLES.map(({ kind, from, more }) =>
    `(select '${kind}' as kind, t.id, t.number, ${more} as more, ${order} as place from ${from} t
       where ${condition} and t.known_until is null and t.state = 'active' order by place, t.number limit ${limit})`);
  return `select kind, id, number, more from (${each.join(' union all ')}) as f order by place, number limit ${limit}`;
}

/** $1 the text, $2 the pattern it makes: numbers that begin with it first. */
const PART = overTables('t.number ilike $2', 'position(upper($1) in upper(t.number))', '$3');
/** $1 the text: the likest first. */
const LIKE = overTables('t.number % $1', '1 - similarity(t.number, $1)', '$2');

/** Looks numbers up by any part of them, and by what looks nearly like them. */
@Injectable()
export class SearchService {
  constructor(private readonly dataSource: DataSource) {}

  /** At most `limit` records: those whose number holds the text; only where none does, those whose number is like it. */
  async find(text: string, limit: number): Promise<SearchAnswer> {
    const pattern = `%${text.replace(/[\\%_]/g, String.raw`\$&`)}%`;
    const { rows: parts } = await run<FoundRow>(this.dataSource.manager, PART, [text, pattern, limit]);
    if (parts.length > 0) return { text, found: parts.map((row) => ({ ...row, match: 'part' })) };
    const { rows: like } = await run<FoundRow>(this.dataSource.manager, LIKE, [text, limit]);
    return { text, found: like.map((row) => ({ ...row, match: 'like' })) };
  }
}
