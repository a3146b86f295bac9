import { bitsOf, BLOCK_SAMPLES, decodeBlock, decodePage, STATUS, STATUS_NAMES, type Extreme, type Samples, type Summary } from '#libs/signals';
import type { SentPart } from './sent-parts.js';
import type { StoredBlock, StoredSignals } from './stored-signals.js';

// Looked up once: in a test's own realm every look-up of a global costs as much as the call.
const { abs, floor, max, min } = Math;
const { isFinite } = Number;

const nameOf = ({ uploadId, partNo }: { readonly uploadId: string; readonly partNo: number }): string => `part ${partNo} of ${uploadId}`;

/**
 * Everything in which stored signals depart from the parts that were sent: a part missing, there twice or never sent, a sample
 * that is another one, a hole in the numbers of blocks, cells other than those worked out from the samples one by one, at any
 * level. Empty when all is well. `channelIds`: in the order of the columns.
 */
export function signalDepartures(sent: readonly SentPart[], stored: StoredSignals, channelIds: readonly string[]): string[] {
  const byName = new Map(sent.map((part) => [nameOf(part), part]));
  const there = new Set(stored.parts.map(nameOf));
  return [
    ...sent.filter((part) => !there.has(nameOf(part))).map((part) => `lost: ${nameOf(part)}`),
    ...stored.parts.filter((part) => byName.get(nameOf(part))?.sha256 !== part.sha256).map((part) => `never sent: ${nameOf(part)}`),
    ...stored.blocks.filter(({ channelId }) => !channelIds.includes(channelId)).slice(0, 1).map(({ channelId }) => `a channel that was never sent: ${channelId}`),
    ...channelIds.flatMap((channelId, column) => {
      const own = stored.blocks.filter((block) => block.channelId === channelId);
      return ofChannel(byName, own, column).map((departure) => `column ${column}: ${departure}`);
    }),
  ];
}

function ofChannel(byName: ReadonlyMap<string, SentPart>, blocks: readonly StoredBlock[], column: number): string[] {
  const level0 = blocks.filter(({ level }) => level === 0);
  const hole = level0.findIndex(({ blockNo }, index) => blockNo !== index);
  if (hole >= 0) return [`block ${level0[hole]?.blockNo} in place of ${hole}`];
  const samples: Samples[] = level0.map(({ body }) => decodeBlock(body));
  return [...ofSamples(byName, level0, samples, column), ...ofPyramid(blocks.filter(({ level }) => level > 0), samples)];
}

/** The blocks of a part follow each other and are its samples, each once; so every part is there once. */
function ofSamples(byName: ReadonlyMap<string, SentPart>, rows: readonly StoredBlock[], samples: readonly Samples[], column: number): string[] {
  const done = new Set<string>();
  const departures: string[] = [];
  let at = 0;
  for (const [index, row] of rows.entries()) {
    const name = nameOf(row);
    const part = byName.get(name);
    const own = samples[index];
    const isFirst = index === 0 || nameOf(rows[index - 1] as StoredBlock) !== name;
    if (isFirst && done.has(name)) departures.push(`doubled: ${name}`);
    if (isFirst) at = 0;
    done.add(name);
    if (part === undefined || own === undefined) departures.push(`never sent: ${name}`);
    else if (!isSame(own, part, column, at)) departures.push(`other samples: block ${row.blockNo}, ${name}`);
    at += own?.positions.length ?? 0;
    const isLast = index === rows.length - 1 || nameOf(rows[index + 1] as StoredBlock) !== name;
    if (isLast && part !== undefined && at !== part.positions.length) departures.push(`${at} of ${part.positions.length} samples: ${name}`);
  }
  return [...departures, ...[...byName.keys()].filter((name) => !done.has(name)).map((name) => `no samples: ${name}`)];
}

function isSame({ positions, values, statuses }: Samples, part: SentPart, column: number, at: number): boolean {
  const sent = part.columns[column];
  if (sent === undefined || at + positions.length > part.positions.length) return false;
  const [bits, sentBits] = [bitsOf(values), bitsOf(sent.values)];
  for (let index = 0; index < positions.length; index += 1) {
    const from = at + index;
    if (positions[index] !== part.positions[from] || bits[index] !== sentBits[from] || statuses[index] !== sent.statuses[from]) return false;
  }
  return true;
}

const FIRST_SPAN = 256;
const LEVELS = 20;
/** What a block is whole at: level 3. Above, a cell is there once all blocks under it are. */
const WHOLE_WITH_A_BLOCK = 3;

function ofPyramid(pages: readonly StoredBlock[], samples: readonly Samples[]): string[] {
  const departures: string[] = [];
  for (let [level, span] = [1, FIRST_SPAN]; level <= LEVELS; level += 1, span *= 4) {
    const cells = new Map<number, Summary | null>();
    for (const { body, blockNo } of pages.filter((page) => page.level === level)) {
      const page = decodePage(body);
      if (page.firstCellNo !== blockNo || page.level !== level) departures.push(`level ${level}: page ${blockNo} says ${page.level}, ${page.firstCellNo}`);
      for (const [index, cell] of page.cells.entries()) {
        if (cells.has(blockNo + index)) departures.push(`level ${level}: cell ${blockNo + index} twice`);
        cells.set(blockNo + index, cell);
      }
    }
    const whole = floor((samples.length * BLOCK_SAMPLES) / span);
    if (cells.size !== whole) departures.push(`level ${level}: ${cells.size} cells, not ${whole}`);
    for (let cell = 0; cell < whole; cell += 1) {
      const difference = differenceOf(cells.get(cell), naive(samples, cell * span, (cell + 1) * span));
      if (difference !== null) departures.push(`level ${level}, cell ${cell}: ${difference}`);
    }
    if (whole === 0 && level > WHOLE_WITH_A_BLOCK && cells.size === 0) break;
  }
  return departures;
}

/** What some addresses come to, worked out from nothing but the samples. */
interface Naive {
  readonly counts: readonly number[];
  readonly least: Extreme | null;
  readonly greatest: Extreme | null;
  readonly n: number;
  readonly mean: number;
  readonly squares: number;
  readonly ends: readonly number[];
  readonly size: number;
}

function naive(blocks: readonly Samples[], fromAddress: number, toAddress: number): Naive | null {
  const counts = STATUS_NAMES.map(() => 0);
  const extremes: { least: Extreme | null; greatest: Extreme | null } = { least: null, greatest: null };
  let [n, sum, size] = [0, 0, 0];
  const ends: number[] = [];
  each(blocks, fromAddress, toAddress, (value, status, position, address) => {
    counts[status] = (counts[status] ?? 0) + 1;
    if (ends.length === 0) ends.push(position, position, position, position);
    ends[1] = position;
    if (position < (ends[2] as number)) ends[2] = position;
    if (position > (ends[3] as number)) ends[3] = position;
    const isBounding = isFinite(value) && (status === STATUS.read || status === STATUS.saturatedHigh || status === STATUS.saturatedLow);
    if (!isBounding) return;
    if (extremes.least === null || value < extremes.least.value) extremes.least = { value, address };
    if (extremes.greatest === null || value > extremes.greatest.value) extremes.greatest = { value, address };
    if (status !== STATUS.read) return;
    n += 1;
    sum += value;
    size = max(size, abs(value));
  });
  if (ends.length === 0) return null;
  const mean = n === 0 ? 0 : sum / n;
  let squares = 0;
  each(blocks, fromAddress, toAddress, (value, status) => {
    if (status === STATUS.read && isFinite(value)) squares += (value - mean) ** 2;
  });
  return { counts, ...extremes, n, mean, squares, ends, size };
}

type Sample = (value: number, status: number, position: number, address: number) => void;

/** The samples at these addresses, one after another. */
function each(blocks: readonly Samples[], fromAddress: number, toAddress: number, take: Sample): void {
  for (let no = floor(fromAddress / BLOCK_SAMPLES); no * BLOCK_SAMPLES < toAddress; no += 1) {
    const block = blocks[no];
    if (block === undefined) return;
    const start = no * BLOCK_SAMPLES;
    const end = min(toAddress - start, block.values.length);
    for (let index = max(fromAddress - start, 0); index < end; index += 1) {
      take(block.values[index] as number, block.statuses[index] as number, block.positions[index] as number, start + index);
    }
  }
}

/** A mean may be off by the last digits of its largest sample, squares by as many of theirs. */
const ROUNDING = 1e-9;

function differenceOf(cell: Summary | null | undefined, expected: Naive | null): string | null {
  if (cell === undefined) return 'is not there';
  if (cell === null || expected === null) return cell === null && expected === null ? null : `is ${cell === null ? 'empty' : 'not empty'}`;
  const { counts, least, greatest, n, mean, squares, ends, size } = expected;
  if (STATUS_NAMES.some((name, index) => cell.counts[name] !== counts[index])) return 'counts';
  if (!isSameExtreme(cell.least, least) || !isSameExtreme(cell.greatest, greatest)) return 'extremes';
  if ([cell.firstPosition, cell.lastPosition, cell.fromPosition, cell.toPosition].some((position, index) => position !== ends[index])) return 'positions';
  if (cell.n !== n || !(abs(cell.mean - mean) <= ROUNDING * size)) return 'mean';
  return abs(cell.squares - squares) <= ROUNDING * n * size * size ? null : 'squares';
}

const isSameExtreme = (one: Extreme | null, other: Extreme | null): boolean =>
  one?.address === other?.address && Object.is(one?.value, other?.value);
