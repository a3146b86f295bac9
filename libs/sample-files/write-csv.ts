import { bitsOf, shortestDecimal, STATUS_NAMES } from '#libs/signals';
import { EXPORT_COLUMNS, isMissing, isSentInstead, type ExportBlock, type ExportBlocks, type ExportShape } from './export.js';
import type { PositionColumn } from './part.js';

/**
 * A CSV text (UTF-8, commas, LF) of these samples, a block at a time. Counters have all their decimals, instants are ISO 8601 in
 * UTC to the microsecond. A number is the shortest decimal whose nearest float32 it is; a NaN is written with its bits.
 */
export async function* writeCsv({ position }: ExportShape, blocks: ExportBlocks): AsyncGenerator<Uint8Array> {
  yield Buffer.from(`${[quoted(position.name), ...EXPORT_COLUMNS].join(',')}\n`);
  for await (const block of blocks) if (block.values.length > 0) yield Buffer.from(linesOf(position, block));
}

const quoted = (name: string): string => (/[",\r\n]/.test(name) ? `"${name.replaceAll('"', '""')}"` : name);

function linesOf(position: PositionColumn, block: ExportBlock): string {
  const { positions, values, statuses, footageMm } = block;
  const text = position.kind === 'time' ? instantText : readingText(position.decimals);
  let lines = '';
  for (let index = 0; index < values.length; index += 1) {
    const footage = footageMm === null || Number.isNaN(footageMm[index]) ? '' : String(footageMm[index]);
    const number = singleText(values, index);
    const value = isMissing(statuses, index) ? '' : number;
    const instead = isSentInstead(block, index) ? number : '';
    lines += `${text(positions[index] as number)},${footage},${value},${instead},${STATUS_NAMES[statuses[index] as number] ?? ''}\n`;
  }
  return lines;
}

/** A whole number of steps as the counter shows it, with all its decimals. */
const readingText = (decimals: number) => (whole: number): string => {
  if (decimals === 0) return String(whole);
  const digits = String(Math.abs(whole)).padStart(decimals + 1, '0');
  return `${whole < 0 ? '-' : ''}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
};

/** An instant in UTC; past what a calendar with four digits of a year holds, its whole microseconds. */
function instantText(microseconds: number): string {
  const ms = Math.floor(microseconds / 1000);
  const date = new Date(ms);
  const year = date.getUTCFullYear();
  if (!(year >= 1 && year <= 9999)) return String(microseconds);
  return `${date.toISOString().slice(0, -1)}${String(microseconds - ms * 1000).padStart(3, '0')}Z`;
}

/** The shortest decimal text whose nearest float32 is that of this index. */
export function singleText(values: Float32Array, index: number): string {
  const value = values[index] as number;
  if (Number.isNaN(value)) return `NaN 0x${(bitsOf(values)[index] as number).toString(16)}`;
  if (Object.is(value, -0)) return '-0';
  return String(shortestDecimal(value));
}
