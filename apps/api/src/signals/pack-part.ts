import { BLOCK_SAMPLES, cellsOfBlock, encodeBlock, part as partOf, STATUS, type Samples } from '#libs/signals';
import { decodePart, type PartShape } from '#libs/sample-files';
import type { PackedBlock, PackedPart } from './packed-part.js';

/** The bytes of a part as they were sent, and how they are read. */
export interface PackOrder {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly shape: PartShape;
}

/** Reads a part and packs it into blocks of up to 4,096 samples, each with its cells. Throws PartError when it cannot be read. */
export function packPart({ bytes, shape }: PackOrder): PackedPart {
  const { positions, columns, narrowed } = decodePart(bytes, shape);
  const bodies: Uint8Array[] = [];
  const packed = columns.map(({ values, statuses }) => {
    const blocks: PackedBlock[] = [];
    for (let from = 0; from < values.length; from += BLOCK_SAMPLES) {
      const samples = partOf({ positions, values, statuses }, from, Math.min(from + BLOCK_SAMPLES, values.length));
      const body = encodeBlock(samples);
      bodies.push(body);
      blocks.push(blockOf(samples, from, body.length));
    }
    return blocks;
  });
  return {
    samples: positions.length, narrowed, firstPosition: positions[0] as number, lastPosition: positions.at(-1) as number, columns: packed, bodies: joined(bodies),
  };
}

function blockOf(samples: Samples, firstIndex: number, bytes: number): PackedBlock {
  const { positions, statuses } = samples;
  let unread = 0;
  for (let index = 0; index < statuses.length; index += 1) {
    const status = statuses[index];
    if (status === STATUS.missing || status === STATUS.suspectStuck || status === STATUS.implausible) unread += 1;
  }
  return {
    samples: positions.length, firstPosition: positions[0] as number, lastPosition: positions.at(-1) as number, firstIndex, unread, bytes, cells: cellsOfBlock(samples, 0),
  };
}

function joined(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const bytes of parts) {
    whole.set(bytes, at);
    at += bytes.length;
  }
  return whole;
}
