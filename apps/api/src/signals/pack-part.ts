import {
  BLOCK_LEVEL, BLOCK_SAMPLES, cellsOfReadings, encodeCells, encodePositions, encodeReadings, paged, parentsOf, reachesOfCells,
  type CellPage, type EncodedPositions, type Reach, type Readings, type Summary,
} from '#libs/signals';
import { decodePart, type PartShape } from '#libs/sample-files';
import { freeNow } from '../threads/free-now.js';
import { aboutPage, type PackedBlock, type PackedColumn, type PackedPage, type PackedPart } from './packed-part.js';

/** The bytes of a part as they were sent, and how they are read. */
export interface PackOrder {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly shape: PartShape;
}

/** The positions of one block, as all channels of the part share them: looked at and written once. */
interface Place extends Pick<PackedBlock, 'firstIndex' | 'samples' | 'firstPosition' | 'lastPosition'> {
  readonly encoded: EncodedPositions;
  readonly reaches: readonly Reach[];
}

/** Pieces of bytes that come to lie one after another. */
type Pieces = Uint8Array[];

/**
 * Reads a part and packs it into blocks of up to 4,096 samples, and the cells in them into pages; the order's bytes are gone then.
 * Throws PartError when it cannot be read.
 */
export function packPart({ bytes, shape }: PackOrder): PackedPart {
  const { positions, columns, narrowed } = decodePart(bytes, shape);
  freeNow([bytes]);
  const places = placesOf(positions);
  const [bodies, cells]: [Pieces, Pieces] = [[], []];
  const packed = columns.map((column) => packColumn(column, places, bodies, cells));
  const [samples, firstPosition, lastPosition] = [positions.length, positions[0] as number, positions.at(-1) as number];
  freeNow([positions, ...columns.flatMap(({ values, statuses }) => [values, statuses])]);
  return { samples, narrowed, firstPosition, lastPosition, columns: packed, bodies: joined(bodies), cells: joined(cells) };
}

const placesOf = (positions: Float64Array): Place[] => Array.from({ length: Math.ceil(positions.length / BLOCK_SAMPLES) }, (_, block) => {
  const firstIndex = block * BLOCK_SAMPLES;
  const own = positions.subarray(firstIndex, firstIndex + BLOCK_SAMPLES);
  return {
    firstIndex, samples: own.length, firstPosition: own[0] as number, lastPosition: own.at(-1) as number, encoded: encodePositions(own), reaches: reachesOfCells(own),
  };
});

/** Its blocks, and the cells of each level up to theirs; what they are as bytes is put to `bodies` and `cells`. */
function packColumn({ values, statuses }: Readings, places: readonly Place[], bodies: Pieces, cells: Pieces): PackedColumn {
  const lengths: number[] = [];
  let own: (Summary | null)[] = [];
  for (const [block, { firstIndex, samples, encoded, reaches }] of places.entries()) {
    const readings = { values: values.subarray(firstIndex, firstIndex + samples), statuses: statuses.subarray(firstIndex, firstIndex + samples) };
    const body = encodeReadings(readings, encoded);
    bodies.push(body);
    lengths.push(body.length);
    own.push(...cellsOfReadings(readings, block, reaches));
  }
  const pages: PackedPage[] = [];
  for (let level = 1; level <= BLOCK_LEVEL; level += 1) {
    if (level > 1) own = parentsOf(own, 0);
    pages.push(...paged(level, 0, own).map((page) => packPage(page, cells)));
  }
  return { blocks: places.map((place, nth) => packedBlock(place, own[nth] ?? null, lengths[nth] as number)), pages };
}

const packedBlock = ({ firstIndex, samples, firstPosition, lastPosition }: Place, cell: Summary | null, bytes: number): PackedBlock =>
  ({ samples, firstPosition, lastPosition, firstIndex, unread: cell === null ? 0 : unreadOf(cell), bytes });

const unreadOf = ({ counts }: Summary): number => counts.missing + counts.suspectStuck + counts.implausible;

function packPage(page: CellPage, cells: Pieces): PackedPage {
  const { bytes } = encodeCells(page);
  cells.push(bytes);
  return { ...aboutPage(page), firstIndex: page.firstCellNo, bytes: bytes.length };
}

function joined(pieces: Pieces): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const bytes of pieces) {
    whole.set(bytes, at);
    at += bytes.length;
  }
  return whole;
}
