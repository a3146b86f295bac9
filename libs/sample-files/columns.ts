import { PartError, shown } from './part-error.js';
import type { PartPlan } from './part.js';

const NAMED = 5;

/**
 * The columns of a part are exactly those of its shape, each once: an unknown one may be a channel that nobody would find again.
 * @throws PartError `wrong-columns`
 */
export function demandColumns(names: readonly string[], plan: PartPlan): void {
  const wanted = [plan.position.name, ...plan.columns.map(({ name }) => name)];
  const limit = listed(wanted);
  const twice = firstTwice(names);
  if (twice !== undefined) throw new PartError('wrong-columns', `column ${shown(twice)} is there more than once`, { field: twice, limit });
  const missing = wanted.filter((name) => !names.includes(name));
  if (missing.length > 0) throw new PartError('wrong-columns', `missing: ${listed(missing)}; the part has ${listed(names)}`, { field: missing[0], value: listed(names), limit });
  const unknown = names.filter((name) => !wanted.includes(name));
  if (unknown.length > 0) throw new PartError('wrong-columns', `unknown: ${listed(unknown)}; the part is said to have ${limit}`, { field: unknown[0], limit });
}

function firstTwice(names: readonly string[]): string | undefined {
  const seen = new Set<string>();
  for (const name of names) {
    if (seen.has(name)) return name;
    seen.add(name);
  }
  return undefined;
}

function listed(names: readonly string[]): string {
  const first = names.slice(0, NAMED).map((name) => (name === '' ? '""' : shown(name))).join(', ');
  return names.length > NAMED ? `${first} and ${names.length - NAMED} more` : first;
}

export const tooManyRows = (limit: number): PartError => new PartError('too-many-rows', `a part has at most ${limit} samples of a channel`, { limit: String(limit) });
