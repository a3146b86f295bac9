import type { FlatTable } from './flat-table.js';
import { demandColumns } from './columns.js';
import { PartError, shown } from './part-error.js';
import type { PartPlan } from './part.js';

const SCHEMA = { endianness: 0, fields: 1 } as const;
const FIELD = { name: 0, typeKind: 2, type: 3, dictionary: 4, children: 5 } as const;
const MOST_FIELDS = 1_000;
const NAME_BYTES = 200;
const UNITS = ['s', 'ms', 'us', 'ns'] as const;
const FLOATS = ['float16', 'float32', 'float64'] as const;
const INTEGERS: ReadonlySet<number> = new Set([8, 16, 32, 64]);
const DECIMALS: ReadonlySet<number> = new Set([32, 64, 128, 256]);

/** The kinds of type of Arrow's Schema.fbs, by their number. */
const KIND_NAMES = [
  'none', 'null', 'int', 'floating point', 'binary', 'utf8', 'bool', 'decimal', 'date', 'time', 'timestamp', 'interval', 'list', 'struct', 'union',
  'fixed-size binary', 'fixed-size list', 'map', 'duration', 'large binary', 'large utf8', 'large list', 'run-end encoded', 'binary view', 'utf8 view',
  'list view', 'large list view',
] as const;

/** A type of which values are read; `bytes` is the width of one. */
export type ArrowType =
  | { readonly kind: 'int'; readonly bytes: number; readonly signed: boolean }
  | { readonly kind: 'float32' | 'float64'; readonly bytes: number }
  | { readonly kind: 'decimal'; readonly bytes: number; readonly scale: number }
  | { readonly kind: 'timestamp'; readonly bytes: number; readonly unit: (typeof UNITS)[number] };

export interface ArrowField {
  readonly name: string;
  readonly type: ArrowType;
}

/**
 * The columns of a schema in the order in which their buffers lie.
 * @throws PartError `wrong-columns`, `wrong-type`, `unsupported` or `malformed`
 */
export function arrowFields(schema: FlatTable, plan: PartPlan): ArrowField[] {
  if (schema.int16(SCHEMA.endianness) !== 0) throw new PartError('unsupported', 'big-endian Arrow streams are not taken');
  const fields = schema.vector(SCHEMA.fields, 4);
  if (fields.count > MOST_FIELDS) {
    throw new PartError('wrong-columns', `the Arrow schema has ${fields.count} columns`, { value: String(fields.count), limit: String(plan.columns.length + 1) });
  }
  const tables = Array.from({ length: fields.count }, (_, index) => schema.tableOf(fields, index));
  const names = tables.map((table) => table.text(FIELD.name, NAME_BYTES) ?? '');
  demandColumns(names, plan);
  return tables.map((table, index) => {
    const name = names[index] as string;
    const use = name !== plan.position.name ? 'value' : plan.position.kind;
    return { name, type: typeOf(table, { name, use }) };
  });
}

/** What a column is for, which says the types that are taken. */
interface Wanted {
  readonly name: string;
  readonly use: 'value' | 'counter' | 'time';
}

const TAKEN: Readonly<Record<Wanted['use'], { readonly types: string; readonly takes: (type: ArrowType) => boolean }>> = {
  value: { types: 'float32, float64, int8 to int64, uint8 to uint64', takes: ({ kind }) => kind === 'float32' || kind === 'float64' || kind === 'int' },
  counter: { types: 'int8 to int64, uint8 to uint64, float64, decimal', takes: ({ kind }) => kind === 'int' || kind === 'float64' || kind === 'decimal' },
  time: {
    types: 'timestamp (s, ms, us or ns) with a time zone, int64 in microseconds since 1970 UTC',
    takes: (type) => type.kind === 'timestamp' || (type.kind === 'int' && type.signed && type.bytes === 8),
  },
};

function typeOf(field: FlatTable, wanted: Wanted): ArrowType {
  const kind = field.uint8(FIELD.typeKind);
  if (field.has(FIELD.dictionary)) throw wrongType(wanted, 'dictionary-encoded');
  if (field.vector(FIELD.children, 4).count > 0) throw wrongType(wanted, `nested (${KIND_NAMES[kind] ?? kind})`);
  const table = field.table(FIELD.type);
  if (table === null) throw new PartError('malformed', `column ${shown(wanted.name)} has no type`, { field: wanted.name });
  const type = READ[kind]?.(table, wanted);
  if (type === undefined || !TAKEN[wanted.use].takes(type)) throw wrongType(wanted, KIND_NAMES[kind] ?? `of the unknown type ${kind}`);
  return type;
}

const READ: Readonly<Record<number, (type: FlatTable, wanted: Wanted) => ArrowType>> = {
  2: intType, 3: floatType, 7: decimalType, 10: timestampType,
};

function intType(type: FlatTable, wanted: Wanted): ArrowType {
  const bits = type.int32(0);
  if (!INTEGERS.has(bits)) throw wrongType(wanted, `int${bits}`);
  return { kind: 'int', bytes: bits / 8, signed: type.uint8(1) !== 0 };
}

function floatType(type: FlatTable, wanted: Wanted): ArrowType {
  const kind = FLOATS[type.int16(0)];
  if (kind !== 'float32' && kind !== 'float64') throw wrongType(wanted, kind ?? 'floating point of unknown width');
  if (wanted.use === 'counter' && kind === 'float32') throw wrongType(wanted, kind);
  return { kind, bytes: kind === 'float32' ? 4 : 8 };
}

/** Decimals are read with a scale of up to 64 digits, far more than a position has. */
function decimalType(type: FlatTable, wanted: Wanted): ArrowType {
  const [scale, bits] = [type.int32(1), type.int32(2, 128)];
  if (!DECIMALS.has(bits) || Math.abs(scale) > 64) throw wrongType(wanted, `decimal${bits} with scale ${scale}`);
  return { kind: 'decimal', bytes: bits / 8, scale };
}

/** Without a zone a timestamp is what some clock showed, nobody knows where: no instant. */
function timestampType(type: FlatTable, wanted: Wanted): ArrowType {
  const unit = UNITS[type.int16(0)];
  if (unit === undefined) throw wrongType(wanted, 'timestamp of unknown unit');
  if (wanted.use === 'time' && (type.text(1, NAME_BYTES) ?? '') === '') throw wrongType(wanted, 'timestamp without a time zone, which says no instant');
  return { kind: 'timestamp', bytes: 8, unit };
}

function wrongType({ name, use }: Wanted, is: string): PartError {
  const { types } = TAKEN[use];
  return new PartError('wrong-type', `column ${shown(name)} is ${is}; taken for it: ${types}`, { field: name, value: is, limit: types });
}
