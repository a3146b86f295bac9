import type { ArrowBatch } from './arrow-messages.js';
import type { ArrowField } from './arrow-schema.js';
import { PartError } from './part-error.js';

const BATCH = { length: 0, nodes: 1, buffers: 2, compression: 3 } as const;
const NODE_BYTES = 16;
const BUFFER_BYTES = 16;
/** The format recommends the first or the last; whatever a writer takes, it takes for all. */
const ALIGNMENTS = [8, 16, 32, 64] as const;
const WIDEST = 64;

/** The buffers of one column of a batch. */
export interface ArrowColumn {
  readonly field: ArrowField;
  /** How many rows have no value. */
  readonly nulls: number;
  /** One bit a row, least significant first, 0 for no value; null when all have one. */
  readonly validity: Uint8Array | null;
  readonly data: Uint8Array;
}

export interface ArrowRows {
  readonly rows: number;
  readonly columns: readonly ArrowColumn[];
}

interface Region {
  readonly offset: number;
  readonly length: number;
}

/**
 * The buffers of a record batch, once everything that is said about them agrees: lengths and counts with each other, and
 * the buffers lying one after the other, aligned, with nothing between them or left over.
 * @throws PartError `malformed` or `unsupported`
 */
export function arrowRows({ header, body }: ArrowBatch, fields: readonly ArrowField[], batch: number): ArrowRows {
  if (header.has(BATCH.compression)) throw new PartError('unsupported', 'compressed buffers within an Arrow stream are not taken: compress the part as a whole');
  const rows = header.length(BATCH.length);
  const nodes = header.vector(BATCH.nodes, NODE_BYTES);
  const buffers = header.vector(BATCH.buffers, BUFFER_BYTES);
  if (nodes.count !== fields.length || buffers.count !== 2 * fields.length) {
    throw damaged(batch, `${nodes.count} columns with ${buffers.count} buffers, where the schema has ${fields.length} columns with two each`);
  }
  const regions = Array.from({ length: buffers.count }, (_, index): Region => {
    const at = buffers.at + index * BUFFER_BYTES;
    return { offset: header.lengthAt(at), length: header.lengthAt(at + 8) };
  });
  demandLayout(regions, body.length, batch);
  const columns = fields.map((field, index): ArrowColumn => {
    const at = nodes.at + index * NODE_BYTES;
    const [length, nulls] = [header.lengthAt(at), header.lengthAt(at + 8)];
    if (length !== rows) throw damaged(batch, `column ${field.name} has ${length} rows, the batch ${rows}`);
    const [validity, data] = [2 * index, 2 * index + 1].map((number) => taken(body, regions[number] as Region));
    return columnOf(field, rows, nulls, validity as Uint8Array, data as Uint8Array, batch);
  });
  return { rows, columns };
}

function demandLayout(regions: readonly Region[], bodyBytes: number, batch: number): void {
  const fits = ALIGNMENTS.some((alignment) => {
    let end = 0;
    for (const { offset, length } of regions) {
      if (offset !== aligned(end, alignment)) return false;
      end = offset + length;
    }
    return aligned(end, alignment) === bodyBytes;
  });
  if (!fits) throw damaged(batch, 'its buffers do not lie one after the other in its body');
}

const aligned = (offset: number, alignment: number): number => Math.ceil(offset / alignment) * alignment;
const taken = (body: Uint8Array, { offset, length }: Region): Uint8Array => body.subarray(offset, offset + length);

function columnOf(field: ArrowField, rows: number, nulls: number, validity: Uint8Array, data: Uint8Array, batch: number): ArrowColumn {
  demandSize(data, rows * field.type.bytes, field, batch);
  if (validity.length === 0) {
    if (nulls !== 0) throw damaged(batch, `column ${field.name} has ${nulls} nulls and does not say which`);
    return { field, nulls, validity: null, data };
  }
  demandSize(validity, Math.ceil(rows / 8), field, batch);
  const counted = rows - onesOf(validity, rows);
  if (counted !== nulls) throw damaged(batch, `column ${field.name} has ${counted} nulls, and says ${nulls}`);
  return { field, nulls, validity: nulls === 0 ? null : validity, data };
}

/** A buffer may be padded, up to the widest alignment. */
function demandSize({ length }: Uint8Array, needed: number, field: ArrowField, batch: number): void {
  if (length < needed || length > aligned(needed, WIDEST)) throw damaged(batch, `column ${field.name} needs a buffer of ${needed} bytes, and has one of ${length}`);
}

const ONES = Uint8Array.from({ length: 256 }, (_, byte) => byte.toString(2).replaceAll('0', '').length);

function onesOf(bits: Uint8Array, count: number): number {
  const whole = count >> 3;
  let ones = 0;
  for (let index = 0; index < whole; index += 1) ones += ONES[bits[index] as number] as number;
  const rest = count & 7;
  return rest === 0 ? ones : ones + (ONES[(bits[whole] as number) & ((1 << rest) - 1)] as number);
}

const damaged = (batch: number, what: string): PartError => new PartError('malformed', `Arrow record batch ${batch}: ${what}`, { value: String(batch) });
