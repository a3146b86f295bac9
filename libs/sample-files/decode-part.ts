import { readArrowPart } from './arrow-part.js';
import { decompressed } from './content-encoding.js';
import { readCsvPart } from './csv-part.js';
import { readNdjsonPart } from './ndjson-part.js';
import { PartError } from './part-error.js';
import { PART_LIMITS, type DecodedPart, type PartFormat, type PartPlan, type PartShape, type RawPart } from './part.js';
import { demandDirection } from './positions.js';
import { applyRules } from './reading-rules.js';

const READERS: Readonly<Record<PartFormat, (bytes: Uint8Array, plan: PartPlan) => RawPart>> = { arrow: readArrowPart, csv: readCsvPart, ndjson: readNdjsonPart };

/**
 * The samples of one part of an upload, whose bytes may share memory with nothing that is given back. It takes the time that
 * it takes, in this thread. Memory stays within a few times `maxDecodedBytes`, whatever the bytes are.
 * @throws PartError naming what is wrong, field, row, value and limit, when any of it cannot be taken; nothing else is thrown
 * for any bytes, and nothing is taken in part
 * @throws RangeError when the shape itself cannot be: no columns, one name twice, decimals beyond 0 to 6
 */
export function decodePart(bytes: Uint8Array, shape: PartShape): DecodedPart {
  demandShape(shape);
  const limits = { ...PART_LIMITS, ...shape.limits };
  const content = decompressed(bytes, shape.encoding, limits.maxDecodedBytes);
  const { positions, columns, narrowed } = READERS[shape.format](content, { ...shape, limits });
  if (positions.length === 0) throw new PartError('empty', 'the part has no samples');
  demandDirection(positions, shape.direction, shape.position.name);
  return {
    positions, narrowed,
    columns: shape.columns.map(({ name, rules }, index) => {
      const { values, statuses } = columns[index] as RawPart['columns'][number];
      applyRules(values, statuses, rules);
      return { name, values, statuses };
    }),
  };
}

function demandShape({ position, columns }: PartShape): void {
  const names = [position.name, ...columns.map(({ name }) => name)];
  if (columns.length === 0) throw new RangeError('a part has at least one column of values');
  if (new Set(names).size < names.length) throw new RangeError(`one name stands for two columns: ${names.join(', ')}`);
  if (position.kind === 'time') return;
  const { decimals } = position;
  if (!Number.isInteger(decimals) || decimals < 0 || decimals > 6) throw new RangeError(`a counter has 0 to 6 decimals, not ${decimals}`);
}
