import { doubleText, isPlainDecimal, scaledText, singleText } from './decimal-text.js';
import { LasError } from './las-error.js';
import { headerLines } from './las-header.js';
import type { LasCurve, LasLog, LasRow, LasValue } from './las-log.js';

/** Lines are parted by this, and the last has none behind it (CWLS LAS 2.0, update January 2014, 3.0). */
const LINE_END = '\r\n';
const COLUMN_WIDTH = 12;

/** A curve as its column is written. */
interface Column {
  readonly curve: LasCurve;
  readonly width: number;
}

/**
 * A log as CWLS LAS 2.0, unwrapped, one piece of text after another: `head`, then a row at a time, then `demandEnd`. It keeps
 * nothing but the index of the row before. Columns are right justified; a longer number moves its line's others.
 * The constructor throws LasError for a header that the format cannot hold.
 */
export class LasWriter {
  readonly head: string;
  private rows = 0;
  private lastIndex = Number.NaN;
  private readonly columns: readonly Column[];
  private readonly indexWidth: number;
  private readonly nullNumber: number;

  constructor(private readonly log: LasLog) {
    const { index, curves, nullValue } = log;
    const lines = headerLines(log);
    this.nullNumber = Number(nullValue);
    this.columns = curves.map((curve) => ({ curve, width: Math.max(COLUMN_WIDTH, nullValue.length, curve.mnemonic.length) }));
    this.indexWidth = Math.max(...[index.start, index.stop].map((whole) => scaledText(whole, index.decimals).length), index.mnemonic.length + '~A '.length);
    lines.push(`~A ${index.mnemonic.padStart(this.indexWidth - '~A '.length)}${this.columns.map(({ curve, width }) => ` ${curve.mnemonic.padStart(width)}`).join('')}`);
    for (const line of lines) this.demandLength(line, line.split(/[ .]/, 1).join(''), null);
    this.head = lines.join(LINE_END);
  }

  /** The row, with the line end before it. Throws LasError that names the curve and the row, and leaves the writer as it was. */
  line({ index, values }: LasRow): string {
    this.demandIndex(index);
    if (values.length !== this.columns.length) throw this.refusal('row', this.log.index.mnemonic, `has ${values.length} values for ${this.columns.length} curves`);
    let line = scaledText(index, this.log.index.decimals).padStart(this.indexWidth);
    for (let at = 0; at < this.columns.length; at += 1) {
      const { curve, width } = this.columns[at] as Column;
      line += ` ${this.valueText(curve, values[at] as LasValue).padStart(width)}`;
    }
    this.demandLength(line, this.log.index.mnemonic, this.rows + 1);
    this.rows += 1;
    this.lastIndex = index;
    return LINE_END + line;
  }

  /** Throws LasError unless the last row was at STOP. What was written before is then no valid file. */
  demandEnd(): void {
    const { mnemonic, stop } = this.log.index;
    if (this.rows === 0) throw new LasError('row', mnemonic, 'there is no row');
    if (this.lastIndex !== stop) throw new LasError('index', mnemonic, `the last row is at ${this.lastIndex}, and STOP at ${stop}`, this.rows);
  }

  private demandIndex(index: number): void {
    const { mnemonic, start, stop, step, decimals } = this.log.index;
    if (!Number.isSafeInteger(index)) throw this.refusal('index', mnemonic, `is no safe whole number: ${index}`);
    if (Number(scaledText(index, decimals)) === this.nullNumber) throw this.refusal('index', mnemonic, `${index} would be read as no value, since NULL is ${this.log.nullValue}`);
    if (this.rows === 0) {
      if (index !== start) throw this.refusal('index', mnemonic, `the first row is at ${index}, and STRT at ${start}`);
      return;
    }
    if (step !== 0 && index !== this.lastIndex + step) throw this.refusal('step', mnemonic, `${index} is not ${step} after ${this.lastIndex}`);
    const isOnWay = stop >= start ? index > this.lastIndex && index <= stop : index < this.lastIndex && index >= stop;
    if (!isOnWay) throw this.refusal('index', mnemonic, `${index} is not between ${this.lastIndex} and STOP at ${stop}`);
  }

  private valueText({ mnemonic, numbers }: LasCurve, value: LasValue): string {
    if (value === null) return this.log.nullValue;
    if (typeof value === 'number' && !Number.isFinite(value)) throw this.refusal('value', mnemonic, `is no finite number: ${value}`);
    if (typeof value === 'string' && !isPlainDecimal(value)) throw this.refusal('value', mnemonic, `is not a plain decimal: ${JSON.stringify(value)}`);
    if (typeof value === 'number' && numbers === 'single' && Math.fround(value) !== value) throw this.refusal('value', mnemonic, `is no float32: ${value}`);
    const text = typeof value === 'string' ? value : numbers === 'single' ? singleText(value) : doubleText(value);
    if (Number(text) === this.nullNumber) throw this.refusal('null', mnemonic, `${text} would be read as no value, since NULL is ${this.log.nullValue}`);
    return text;
  }

  private demandLength(line: string, item: string, row: number | null): void {
    const { mostLineCharacters } = this.log;
    const length = line.length + LINE_END.length;
    if (mostLineCharacters !== null && length > mostLineCharacters) throw new LasError('line', item, `its line has ${length} characters with CR LF, and ${mostLineCharacters} are allowed`, row);
  }

  private refusal(fault: LasError['fault'], item: string, why: string): LasError {
    return new LasError(fault, item, why, this.rows + 1);
  }
}
