import {
  AsyncByteQueue, Dictionary, Field, Float32, Float64, Int8, makeData, RecordBatch, RecordBatchStreamWriter, Schema, Struct, TimestampMicrosecond, Utf8, vectorFromArray,
  type Data,
} from 'apache-arrow';
import { STATUS_NAMES } from '#libs/signals';
import { EXPORT_COLUMNS, isMissing, isSentInstead, type ExportBlock, type ExportBlocks, type ExportShape } from './export.js';
import type { PositionColumn } from './part.js';

/**
 * An Arrow IPC stream of these samples, a record batch a block; no more than one block is held. The position is a float64
 * (the double nearest to the reading of the counter) or a timestamp in microseconds UTC, footageMm float64, value and
 * sentInstead float32 bit for bit, status a dictionary of texts.
 */
export async function* writeArrow(shape: ExportShape, blocks: ExportBlocks): AsyncGenerator<Uint8Array> {
  const schema = schemaOf(shape);
  const pieces = new Pieces();
  const writer = new RecordBatchStreamWriter();
  writer.reset(pieces, schema);
  yield pieces.take();
  for await (const block of blocks) {
    if (block.values.length === 0) continue;
    writer.write(batchOf(schema, shape.position, block));
    yield pieces.take();
  }
  writer.finish();
  yield pieces.take();
}

/** Takes what the writer writes as it comes: its own queue gives nothing back before it is closed. */
class Pieces extends AsyncByteQueue {
  private pieces: Uint8Array[] = [];

  override write(piece: Uint8Array): void {
    this.pieces.push(piece);
  }

  /** All that was written since the last time, in memory of its own. */
  take(): Uint8Array {
    const joined = Buffer.concat(this.pieces);
    this.pieces = [];
    return joined;
  }
}

const statusTexts = vectorFromArray(STATUS_NAMES, new Utf8());
const statusType = new Dictionary(new Utf8(), new Int8(), 0);

function schemaOf({ position, about = {} }: ExportShape): Schema {
  const [footageMm, value, sentInstead, status] = EXPORT_COLUMNS;
  return new Schema([
    new Field(position.name, position.kind === 'time' ? new TimestampMicrosecond('UTC') : new Float64(), false),
    new Field(footageMm, new Float64(), true), new Field(value, new Float32(), true), new Field(sentInstead, new Float32(), true), new Field(status, statusType, false),
  ], new Map(Object.entries(about)));
}

function batchOf(schema: Schema, position: PositionColumn, block: ExportBlock): RecordBatch {
  const { positions, values, statuses } = block;
  const { length } = values;
  const children: Data[] = [
    positionData(position, positions),
    floats(new Float64(), block.footageMm ?? new Float64Array(length), (index) => block.footageMm !== null && !Number.isNaN(block.footageMm[index])),
    floats(new Float32(), values, (index) => !isMissing(statuses, index)),
    floats(new Float32(), values, (index) => isSentInstead(block, index)),
    makeData({ type: statusType, length, nullCount: 0, data: new Int8Array(statuses), dictionary: statusTexts }),
  ];
  return new RecordBatch(schema, makeData({ type: new Struct(schema.fields), length, nullCount: 0, children }));
}

function positionData(position: PositionColumn, positions: Float64Array): Data {
  const { length } = positions;
  if (position.kind === 'counter') return makeData({ type: new Float64(), length, nullCount: 0, data: positions.map((whole) => whole / 10 ** position.decimals) });
  return makeData({ type: new TimestampMicrosecond('UTC'), length, nullCount: 0, data: BigInt64Array.from(positions, BigInt) });
}

/** A column of which row `index` has a value when `isThere` says so. */
function floats(type: Float32 | Float64, data: Float32Array | Float64Array, isThere: (index: number) => boolean): Data {
  const { length } = data;
  const nullBitmap = new Uint8Array(Math.ceil(length / 8));
  let nullCount = length;
  for (let index = 0; index < length; index += 1) {
    if (!isThere(index)) continue;
    nullBitmap[index >> 3] = (nullBitmap[index >> 3] as number) | (1 << (index & 7));
    nullCount -= 1;
  }
  return makeData({ type, length, nullCount, nullBitmap, data });
}
