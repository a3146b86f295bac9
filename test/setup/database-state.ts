import { createHash } from 'node:crypto';
import type { DataSource } from 'typeorm';

/** What changes without a write that anyone asked for. */
const LEFT_OUT: Readonly<Record<string, string>> = {
  sign_in_failure: '',
  session: "- 'seen_at'",
  // Who watches renews it every few seconds, and lets it lapse.
  string_watch: '',
};

/**
 * What the database holds, as one digest for each table: equal before and after when nothing was written. Failed
 * sign-ins, the times sessions were last seen and who watches a string are left out.
 */
export async function databaseState(owner: DataSource): Promise<Readonly<Record<string, string>>> {
  const tables: { name: string }[] = await owner.query(
    `select tablename as name from pg_tables where schemaname = 'public' order by tablename`,
  );
  const kept = tables.filter(({ name }) => LEFT_OUT[name] !== '');
  const parts = kept.map(({ name }) =>
    `select '${name}' as name, count(*)::text || ' ' || coalesce(sum(hashtextextended((to_jsonb(t) ${LEFT_OUT[name] ?? ''})::text, 0)), 0)::text as state from ${name} t`);
  const rows: { name: string; state: string }[] = await owner.query(parts.join(' union all '));
  return Object.fromEntries(rows.map(({ name, state }) => [name, `${state.split(' ')[0] ?? ''} rows, ${createHash('sha256').update(state).digest('hex').slice(0, 12)}`]));
}
