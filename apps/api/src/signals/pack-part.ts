import { BLOCK_SAMPLES, cellsOfReadings, encodePositions, encodeReadings, reachesOfCells, STATUS, type EncodedPositions, type Reach, type Readings } from '#libs/signals';
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
  const places = placesOf(positions);
  const bodies: Uint8Array[] = [];
  const packed = columns.map((column) => places.map((place): PackedBlock => {
    const readings = readingsOf(column, place);
    const body = encodeReadings(readings, place.encoded);
    bodies.push(body);
    return blockOf(readings.statuses, place, body.length, cellsOfReadings(readings, 0, place.reaches));
  }));
  return {
    samples: positions.length, narrowed, firstPosition: positions[0] as number, lastPosition: positions.at(-1) as number, columns: packed, bodies: joined(bodies),
  };
}

/** The positions of one block, as all channels of the part share them. */
interface Place {
  readonly firstIndex: number;
  readonly samples: number;
  readonly firstPosition: number;
  readonly lastPosition: number;
  readonly encoded: EncodedPositions;
  readonly reaches: readonly Reach[];
}

const placesOf = (positions: Float64Array): Place[] => Array.from({ length: Math.ceil(positions.length / BLOCK_SAMPLES) }, (_, block) => {
  const firstIndex = block * BLOCK_SAMPLES;
  const own = positions.subarray(firstIndex, firstIndex + BLOCK_SAMPLES);
  return {
    firstIndex, samples: own.length, firstPosition: own[0] as number, lastPosition: own.at(-1) as number, encoded: encodePositions(own), reaches: reachesOfCells(own),
  };
});

const readingsOf = ({ values, statuses }: Readings, { firstIndex, samples }: Place): Readings =>
  ({ values: values.subarray(firstIndex, firstIndex + samples), statuses: statuses.subarray(firstIndex, firstIndex + samples) });

function blockOf(statuses: Uint8Array, { samples, firstPosition, lastPosition, firstIndex }: Place, bytes: number, cells: PackedBlock['cells']): PackedBlock {
  let unread = 0;
  for (let index = 0; index < statuses.length; index += 1) {
    const status = statuses[index];
    if (status === STATUS.missing || status === STATUS.suspectStuck || status === STATUS.implausible) unread += 1;
  }
  return { samples, firstPosition, lastPosition, firstIndex, unread, bytes, cells };
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
