import { malformed, type Refused } from '../http/problem.js';

/** Which records of a kind are asked for. */
export interface ListQuery {
  readonly filters: Readonly<Record<string, string>>;
  readonly asKnownAt: string | null;
  readonly includeVoid: boolean;
  /** The last id of the page before. */
  readonly after: string | null;
  readonly limit: number;
}

/** What a page's records fulfil, in SQL with its parameters. Refuses a filter that the kind does not have. */
export function pageConditions(query: ListQuery, filters: Readonly<Record<string, string>>): { condition: string; parameters: unknown[] } {
  const conditions = query.includeVoid ? ['true'] : ["state = 'active'"];
  const parameters: unknown[] = [];
  for (const [field, value] of Object.entries(query.filters)) {
    const column = filters[field];
    if (column === undefined) throw unknownFilter(field, value, Object.keys(filters));
    parameters.push(value);
    conditions.push(`${column} = $${parameters.length}`);
  }
  if (query.after !== null) {
    parameters.push(query.after);
    conditions.push(`id > $${parameters.length}`);
  }
  return { condition: conditions.join(' and '), parameters };
}

const unknownFilter = (field: string, value: string, known: readonly string[]): Refused =>
  malformed([{ field, value, limit: known.length === 0 ? 'no filter' : `one of the filters ${known.join(', ')}` }]);
