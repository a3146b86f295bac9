import { bitsOf, NO_VALUE_BITS, STATUS } from '#libs/signals';
import { arrowRows, type ArrowColumn } from './arrow-layout.js';
import { arrowMessages } from './arrow-messages.js';
import { readPositions } from './arrow-positions.js';
import { arrowFields } from './arrow-schema.js';
import { readValues } from './arrow-values.js';
import { tooManyRows } from './columns.js';
import { PartError } from './part-error.js';
import type { PartPlan, RawPart } from './part.js';

/**
 * An Arrow IPC stream, all record batches of it. The position column is of any integer type, float64 or decimal for a
 * counter, a timestamp with a zone or int64 in microseconds for a time; value columns are float32, whose bits are kept, NaN
 * payloads too, or float64 or integers, which are narrowed to the nearest float32. Nulls are missing.
 *
 * The stream is read here and not by a library: the usual readers trust every length and offset of the metadata.
 */
export function readArrowPart(bytes: Uint8Array, plan: PartPlan): RawPart {
  const { schema, batches, hasDictionaries } = arrowMessages(bytes);
  const fields = arrowFields(schema, plan);
  if (hasDictionaries) throw new PartError('malformed', 'the Arrow stream has a dictionary, and no column that would use it');
  const read = batches.map((batch, index) => arrowRows(batch, fields, index + 1));
  const rows = read.reduce((sum, batch) => sum + batch.rows, 0);
  if (rows > plan.limits.maxRows) throw tooManyRows(plan.limits.maxRows);

  const positions = new Float64Array(rows);
  const columns = plan.columns.map(() => ({ values: new Float32Array(rows), statuses: new Uint8Array(rows) }));
  const places = plan.columns.map(({ name }) => fields.findIndex((field) => field.name === name));
  const positionPlace = fields.findIndex(({ name }) => name === plan.position.name);
  let [row, narrowed] = [0, 0];
  for (const batch of read) {
    const to = row + batch.rows;
    readPositions(batch.columns[positionPlace] as ArrowColumn, plan.position, positions.subarray(row, to), row);
    for (const [index, place] of places.entries()) {
      const column = batch.columns[place] as ArrowColumn;
      const { values, statuses } = columns[index] as (typeof columns)[number];
      narrowed += readValues(column, values.subarray(row, to));
      if (column.validity !== null) markNulls(column.validity, values.subarray(row, to), statuses.subarray(row, to));
    }
    row = to;
  }
  return { positions, columns, narrowed };
}

/** What lies in the place of a null is nothing that was sent. */
function markNulls(validity: Uint8Array, values: Float32Array, statuses: Uint8Array): void {
  const bits = bitsOf(values);
  for (let index = 0; index < values.length; index += 1) {
    if (isThere(validity, index)) continue;
    statuses[index] = STATUS.missing;
    bits[index] = NO_VALUE_BITS;
  }
}

const isThere = (validity: Uint8Array, index: number): boolean => ((validity[index >> 3] as number) & (1 << (index & 7))) !== 0;
