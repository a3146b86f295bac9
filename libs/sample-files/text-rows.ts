import { bitsOf, NO_VALUE_BITS, STATUS } from '#libs/signals';
import { tooManyRows } from './columns.js';
import { DecimalScanner } from './decimal-text.js';
import { instantMicroseconds } from './instant-text.js';
import { PartError, shown } from './part-error.js';
import type { PartPlan, RawPart } from './part.js';
import { isWithin, missingPosition, notOfCounter, placeText, positionBeyond, wrongPosition, type Place } from './positions.js';

/** A bound that an instrument prints where its range ends. */
const BOUND = /^(>=|≥|<=|≤)\s*(\S+)$/;
const FIRST_ROWS = 1024;

/**
 * The rows of a text, cell by cell. A value is a decimal text with a point, an empty one or null for nothing read, or a bound
 * (">= 100", "≥100", "<=0.5", "≤ 0.5"), which is saturated. Spaces around it are borne. A position is a decimal text with no
 * more decimals than the counter has, or an ISO 8601 instant with Z or an offset, to the microsecond, or a whole number of
 * microseconds since 1970 UTC.
 */
export class TextRows {
  private readonly scanner = new DecimalScanner();
  private count = 0;
  private narrowed = 0;
  private positions = new Float64Array(FIRST_ROWS);
  private readonly columns: { values: Float32Array; statuses: Uint8Array }[];

  /** `line` tells the number of the line that is being read, for a fault. */
  constructor(
    private readonly plan: PartPlan,
    private readonly line: () => number,
  ) {
    this.columns = plan.columns.map(() => ({ values: new Float32Array(FIRST_ROWS), statuses: new Uint8Array(FIRST_ROWS) }));
  }

  /** Begins a row, whose cells are then set. */
  begin(): void {
    if (this.count === this.plan.limits.maxRows) throw tooManyRows(this.plan.limits.maxRows);
    if (this.count === this.positions.length) this.grow();
    this.count += 1;
  }

  private grow(): void {
    const length = this.count * 2;
    const grown = new Float64Array(length);
    grown.set(this.positions);
    this.positions = grown;
    for (const column of this.columns) {
      const bits = new Uint32Array(length);
      bits.set(bitsOf(column.values));
      const statuses = new Uint8Array(length);
      statuses.set(column.statuses);
      [column.values, column.statuses] = [new Float32Array(bits.buffer), statuses];
    }
  }

  private place(): Place {
    return { row: this.count, line: this.line() };
  }

  setPosition(text: string | null): void {
    const { position } = this.plan;
    const trimmed = text === null || this.scanner.scan(text) ? text : text.trim();
    if (trimmed === null || trimmed === '') throw missingPosition(position.name, this.place());
    this.positions[this.count - 1] = position.kind === 'counter' ? this.reading(trimmed, position.name, position.decimals) : this.instant(trimmed, position.name);
  }

  private reading(text: string, name: string, decimals: number): number {
    const whole = this.scanner.scan(text) ? this.scanner.whole(decimals) : null;
    if (whole === null || Object.is(whole, -0)) throw wrongPosition(name, this.place(), text, notOfCounter(decimals));
    if (!isWithin(whole)) throw positionBeyond(name, this.place(), text);
    return whole;
  }

  private instant(text: string, name: string): number {
    const microseconds = this.scanner.scan(text) ? this.scanner.whole(0) : instantMicroseconds(text);
    if (microseconds === null || Object.is(microseconds, -0)) {
      throw wrongPosition(name, this.place(), text, 'is no instant: ISO 8601 with Z or an offset, to the microsecond, or whole microseconds since 1970 UTC');
    }
    if (!isWithin(microseconds)) throw positionBeyond(name, this.place(), text);
    return microseconds;
  }

  /** The value of the column with this index in the shape. */
  setValue(column: number, text: string | null): void {
    const { values, statuses } = this.columns[column] as TextRows['columns'][number];
    const index = this.count - 1;
    if (text !== null && this.scanner.scan(text)) values[index] = this.single();
    else if (text === null || text.trim() === '') {
      bitsOf(values)[index] = NO_VALUE_BITS;
      statuses[index] = STATUS.missing;
    } else this.setOther(values, statuses, column, text);
  }

  private single(): number {
    const single = this.scanner.single();
    if (!this.scanner.isKeptBy(single)) this.narrowed += 1;
    return single;
  }

  private setOther(values: Float32Array, statuses: Uint8Array, column: number, text: string): void {
    const trimmed = text.trim();
    const [, sign, bound] = BOUND.exec(trimmed) ?? [];
    if (!this.scanner.scan(bound ?? trimmed)) throw this.wrongValue(column, text);
    values[this.count - 1] = this.single();
    if (sign !== undefined) statuses[this.count - 1] = sign === '>=' || sign === '≥' ? STATUS.saturatedHigh : STATUS.saturatedLow;
  }

  /** What is thrown for a value that is no reading. */
  wrongValue(column: number, value: string): PartError {
    const name = this.plan.columns[column]?.name ?? this.plan.position.name;
    const at = this.place();
    return new PartError('wrong-value', `${placeText(at)}: ${name} ${shown(value)} is neither a decimal number, nor a bound such as "≥ 100", nor empty`, { field: name, ...at, value });
  }

  end(): RawPart {
    return {
      positions: this.positions.slice(0, this.count), narrowed: this.narrowed,
      columns: this.columns.map(({ values, statuses }) => ({ values: values.slice(0, this.count), statuses: statuses.slice(0, this.count) })),
    };
  }
}
