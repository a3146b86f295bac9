import { type Bounds, type Characteristic, type SourcedValue, type StripUnit, type ValueSource } from '#libs/strip';
import { converter, isUnitName } from '#libs/units';
import { readNumber } from './number-cell.js';
import type { ValueHeader } from './value-header.js';

/** What a cell of a value column says: a value, perhaps with a question about it, or what is wrong with the cell. */
export interface CellReading {
  readonly value: SourcedValue | null;
  readonly question: string | null;
  readonly fault: string | null;
}

/** What is said of a value names its line and paper itself. */
const THE_FILE: ValueSource = { label: 'the file', record: null };

/** Readings held for one column. Most columns repeat a few hundred texts, and a full table is begun anew. */
const MOST_HELD = 512;
/** Bounds are decimal and conversions binary: this much of a bound is no difference. */
const SLACK = 1e-9;

/** Reads the cells of one value column; what one text says is worked out once, and equal values are one object. */
export class ValueReader {
  private readonly held = new Map<string, CellReading>();
  private readonly toFirstUnit: (printed: number) => number;

  constructor(readonly column: ValueHeader) {
    const toFirst = unitConverter(column.unit, firstUnit(column.characteristic));
    const multiplier = Number(column.multiplier);
    this.toFirstUnit = (printed) => toFirst(printed / multiplier);
  }

  /** The reading of a cell that is not empty. */
  read(text: string): CellReading {
    const known = this.held.get(text);
    if (known !== undefined) return known;
    const reading = this.readAnew(text);
    if (reading.fault !== null) return reading;
    if (this.held.size >= MOST_HELD) this.held.clear();
    this.held.set(text, reading);
    return reading;
  }

  private readAnew(text: string): CellReading {
    const read = readNumber(text);
    if (typeof read === 'string') return { value: null, question: null, fault: read };
    const { characteristic: { code, possible, usual, units }, analysis, unit, multiplier, temperatureC, baseMm } = this.column;
    const number = this.toFirstUnit(read.number);
    const means = `${read.printed} here means ${code} ${shortNumber(number)} ${units[0] ?? ''}`;
    if (!within(number, possible)) {
      return { value: null, question: null, fault: `impossible: ${means}, and ${spanOf(possible)} is taken.${this.slip(read.number)}` };
    }
    const value: SourcedValue = Object.freeze({
      characteristic: code, analysis, printed: read.printed, unit, multiplier, temperatureC, baseMm,
      expandedU: null, location: null, direction: null, source: THE_FILE, doubt: null,
    });
    const unusual = usual !== null && !within(number, usual);
    const question = unusual ? `unlikely: ${means}, and ${spanOf(usual)} is usual.${this.slip(read.number)} Does the paper print this?` : null;
    return { value, question, fault: null };
  }

  /** Names the units and the power of ten by which the printed digits would be as usual, if there are any. */
  private slip(printed: number): string {
    const { characteristic, unit, multiplier } = this.column;
    const likely = characteristic.usual ?? characteristic.possible;
    const first = firstUnit(characteristic);
    const units = characteristic.units.filter((one) => one !== unit && isLikely(unitConverter(one, first)(printed), likely));
    const here = unitConverter(unit, first);
    const power = SLIPS_OF_TEN.find((one) => String(one) !== multiplier && isLikely(here(printed / one), likely));
    const ways = [...units.map((one) => `read as ${one}`), ...(power === undefined ? [] : [`divided by ${power}`])];
    return ways.length === 0 ? '' : ` It would be as usual ${ways.join(' or ')}: are decimal point, unit and multiplier the paper's?`;
  }
}

const SLIPS_OF_TEN = [10, 100, 1000, 10_000];

const firstUnit = ({ units, code }: Characteristic): StripUnit => {
  const [first] = units;
  if (first === undefined) throw new RangeError(`${code} has no unit`);
  return first;
};

/** Conversion between two units of one characteristic; a hardness scale only to itself. Throws RangeError for any other two. */
function unitConverter(from: StripUnit, to: StripUnit): (value: number) => number {
  if (from === to) return (value) => value;
  if (!isUnitName(from) || !isUnitName(to)) throw new RangeError(`${from} does not convert to ${to}`);
  return converter(from, to);
}

function within(number: number, { min, max }: Bounds): boolean {
  const slack = SLACK * Math.max(Math.abs(min), Math.abs(max));
  return number >= min - slack && number <= max + slack;
}

/** A value of nothing at all, or of less than a thousandth of what is usual, names no slip. */
const isLikely = (number: number, bounds: Bounds): boolean => number > bounds.max / 1000 && within(number, bounds);

const spanOf = ({ min, max }: Bounds): string => `${min} to ${max}`;

const shortNumber = (number: number): string => String(Number(number.toPrecision(6)));
