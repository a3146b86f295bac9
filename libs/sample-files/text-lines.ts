import { PartError } from './part-error.js';

/** No line has more bytes. */
export const LINE_BYTES = 64 * 1024;
const [LINE_END, RETURN] = [10, 13];
const BYTE_ORDER_MARK = [0xef, 0xbb, 0xbf];

/** A text in blocks of whole lines, so that no more of it is ever taken apart at once. A byte order mark is left out. */
export class LineBlocks {
  private at: number;
  private block: Uint8Array = new Uint8Array(0);
  private lines = 0;
  /** Number of the first line of the block given last. */
  firstLine = 1;

  constructor(private readonly bytes: Uint8Array) {
    this.at = BYTE_ORDER_MARK.every((byte, index) => bytes[index] === byte) ? BYTE_ORDER_MARK.length : 0;
  }

  /** The next block, or null after the last one. @throws PartError when a line is too long */
  next(): Uint8Array | null {
    this.leave();
    return this.upTo(this.endOfBlock());
  }

  /** The next line that is not empty, alone, or null when there is none. @throws PartError when it is too long */
  nextLine(): Uint8Array | null {
    this.leave();
    for (let empty = this.emptyLine(); empty > 0; empty = this.emptyLine()) [this.at, this.firstLine] = [this.at + empty, this.firstLine + 1];
    const end = this.endOfBlock();
    const lineEnd = this.bytes.subarray(this.at, end).indexOf(LINE_END);
    return this.upTo(lineEnd === -1 ? end : this.at + lineEnd + 1);
  }

  /** Bytes of the empty line that comes next; 0 when none does. */
  private emptyLine(): number {
    if (this.bytes[this.at] === LINE_END) return 1;
    return this.bytes[this.at] === RETURN && this.bytes[this.at + 1] === LINE_END ? 2 : 0;
  }

  private leave(): void {
    this.firstLine += this.lines;
    this.lines = 0;
  }

  private upTo(end: number): Uint8Array | null {
    if (this.at === this.bytes.length) return null;
    this.block = this.bytes.subarray(this.at, end);
    this.lines = lineEndsIn(this.block);
    this.at = end;
    return this.block;
  }

  private endOfBlock(): number {
    if (this.bytes.length - this.at <= LINE_BYTES) return this.bytes.length;
    const last = this.bytes.lastIndexOf(LINE_END, this.at + LINE_BYTES - 1);
    if (last >= this.at) return last + 1;
    throw new PartError('malformed', `line ${this.firstLine} is longer than ${LINE_BYTES} bytes`, { line: this.firstLine, limit: String(LINE_BYTES) });
  }

  /** Number of the line of record `index` of this block, in which empty lines are none. */
  lineOf(index: number): number {
    let [line, records, at] = [this.firstLine, 0, 0];
    for (;;) {
      const end = this.block.indexOf(LINE_END, at);
      const isEmpty = end === at || (end === at + 1 && this.block[at] === RETURN);
      if (!isEmpty && records === index) return line;
      if (end === -1) return line;
      records += isEmpty ? 0 : 1;
      line += 1;
      at = end + 1;
    }
  }
}

function lineEndsIn(block: Uint8Array): number {
  let count = 0;
  for (let at = block.indexOf(LINE_END); at !== -1; at = block.indexOf(LINE_END, at + 1)) count += 1;
  return count;
}
