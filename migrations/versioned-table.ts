/**
 * SQL for a table of record versions, as the migrations of 2026 make it. A later need gets a new function beside this
 * one: what an applied migration said must stay what it says.
 *
 * A record is referred to by its first version, which it has for ever: `(coil_id, one) → coil (id, version)`.
 */
export interface VersionedTable {
  readonly name: string;
  /** Column definitions of the record's own content. */
  readonly columns: readonly string[];
  /** Columns that name another record, and its table. */
  readonly references?: Readonly<Record<string, string>>;
  /** Table constraints. */
  readonly constraints?: readonly string[];
  /** Index definitions, from `index` on, without the trailing semicolon. */
  readonly indexes?: readonly string[];
  /** A span column that must lie inside the string's declared footage. */
  readonly insideString?: 'span' | 'extent';
}

/** Holds for the rows an invariant is about: the open version of a record that is not void. */
export const STANDING = "known_until is null and state = 'active'";

const VERSION_COLUMNS = [
  'id uuid not null',
  'version int4 not null',
  'one int4 generated always as (1) stored',
  'known_from timestamptz not null',
  'known_until timestamptz',
  'entered_at timestamptz not null',
  'observed_at timestamptz not null',
  'state text not null',
  'done_by uuid not null',
  'keyed_by uuid not null',
  'device_id uuid',
  'source text not null',
  'reason text',
  'marks jsonb not null',
  'request_id text not null',
  'digest text not null',
];

/** The statements that make the table, its constraints, indexes, triggers and grants. */
export function versionedTable(table: VersionedTable): string[] {
  const { name, references = {}, constraints = [], indexes = [] } = table;
  const links = { done_by: 'person', keyed_by: 'person', ...references };
  const foreignKeys = Object.entries(links).map(
    ([column, target]) =>
      `constraint fk_${name}_${column} foreign key (${column}, one) references ${target} (id, version)`,
  );
  const parts = [
    ...VERSION_COLUMNS,
    ...table.columns,
    `constraint pk_${name} primary key (id, version)`,
    `constraint ck_${name}_version check (version >= 1)`,
    `constraint ck_${name}_state check (state in ('active', 'void'))`,
    `constraint ck_${name}_reason check (version = 1 or reason is not null)`,
    `constraint ck_${name}_known check (known_until > known_from)`,
    ...foreignKeys,
    ...constraints,
  ];
  return [
    `create table ${name} (${parts.join(',\n  ')})`,
    `create unique index uq_${name}_open on ${name} (id) where known_until is null`,
    ...indexes.map((index) => `create ${index}`),
    ...guards(table),
    `grant select, insert, update (known_until) on ${name} to everymetre_app`,
  ];
}

function guards({ name, insideString }: VersionedTable): string[] {
  const inside =
    insideString === undefined
      ? []
      : [
          `create trigger inside_string before insert on ${name} for each row
           execute function refuse_${insideString}_outside_string()`,
        ];
  return [
    `create trigger guard_version before insert or update or delete on ${name} for each row
     execute function guard_version()`,
    `create trigger guard_truncate before truncate on ${name} for each statement execute function guard_version()`,
    ...inside,
  ];
}
