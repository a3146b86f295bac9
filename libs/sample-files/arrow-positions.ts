import type { ArrowColumn } from './arrow-layout.js';
import { asBigInts, asFloats, asIntegers, asWords } from './arrow-numbers.js';
import { isWithin, missingPosition, notOfCounter, positionBeyond, wrongPosition } from './positions.js';
import type { PositionColumn } from './part.js';

const { floor, round } = Math;
const WORD = 2 ** 32;
/** Microseconds in one unit of a timestamp; nanoseconds go a way of their own. */
const MICROSECONDS = { s: 1_000_000, ms: 1_000, us: 1 } as const;

/** Where positions go: those of one batch, whose first row has the index `row` in the part. */
interface Target {
  readonly name: string;
  readonly positions: Float64Array;
  readonly row: number;
}

/**
 * The positions of a batch, whose first row has the index `row` in the part, into as many places.
 * @throws PartError `wrong-position` naming the row
 */
export function readPositions(column: ArrowColumn, position: PositionColumn, positions: Float64Array, row: number): void {
  const { field: { type }, data } = column;
  const target: Target = { name: position.name, positions, row };
  demandAll(column, target);
  const decimals = position.kind === 'counter' ? position.decimals : 0;
  if (type.kind === 'int' && type.bytes < 8) integers(asIntegers(data, positions.length, type), 10 ** decimals, target);
  else if (type.kind === 'int') longIntegers(data, type.signed, 10 ** decimals, target);
  else if (type.kind === 'float64') doubles(asFloats(data, positions.length), decimals, target);
  else if (type.kind === 'decimal') wideDecimals(data, type.bytes, decimals - type.scale, target);
  else if (type.kind !== 'timestamp') throw new TypeError(`positions of a ${type.kind}`);
  else if (type.unit === 'ns') nanoseconds(data, target);
  else longIntegers(data, true, MICROSECONDS[type.unit], target);
}

function demandAll({ validity }: ArrowColumn, { name, positions, row }: Target): void {
  if (validity === null) return;
  for (let index = 0; index < positions.length; index += 1) {
    if (((validity[index >> 3] as number) & (1 << (index & 7))) === 0) throw missingPosition(name, { row: row + index + 1 });
  }
}

function integers(sent: ReturnType<typeof asIntegers>, scale: number, { name, positions, row }: Target): void {
  for (let index = 0; index < positions.length; index += 1) {
    const whole = (sent[index] as number) * scale;
    if (!isWithin(whole)) throw positionBeyond(name, { row: row + index + 1 }, String(sent[index]));
    positions[index] = whole;
  }
}

/** Integers of 64 bits by their halves. A number made of them is rounded only past 2^53, where it is refused anyway. */
function longIntegers(data: Uint8Array, signed: boolean, scale: number, { name, positions, row }: Target): void {
  const words = asWords(data, positions.length * 2);
  for (let index = 0; index < positions.length; index += 1) {
    const high = words[2 * index + 1] as number;
    const whole = ((signed ? high | 0 : high) * WORD + (words[2 * index] as number)) * scale;
    if (!isWithin(whole)) throw positionBeyond(name, { row: row + index + 1 }, longText(data, index, signed));
    positions[index] = whole;
  }
}

const longText = (data: Uint8Array, index: number, signed: boolean): string => String(asBigInts(data.subarray(index * 8), 1, signed)[0]);

/** A thousandth of 64 bits, half by half, so that no number passes 2^53. */
function nanoseconds(data: Uint8Array, { name, positions, row }: Target): void {
  const words = asWords(data, positions.length * 2);
  for (let index = 0; index < positions.length; index += 1) {
    const high = (words[2 * index + 1] as number) | 0;
    const thousands = floor(high / 1000);
    const rest = (high - thousands * 1000) * WORD + (words[2 * index] as number);
    const microseconds = floor(rest / 1000);
    if (microseconds * 1000 !== rest) throw wrongPosition(name, { row: row + index + 1 }, `${longText(data, index, true)} ns`, 'is not a whole number of microseconds');
    const whole = thousands * WORD + microseconds;
    if (!isWithin(whole)) throw positionBeyond(name, { row: row + index + 1 }, longText(data, index, true));
    positions[index] = whole;
  }
}

/** A double is taken for the decimal with so many places whose nearest double it is. */
function doubles(sent: Float64Array, decimals: number, { name, positions, row }: Target): void {
  const power = 10 ** decimals;
  for (let index = 0; index < positions.length; index += 1) {
    const reading = sent[index] as number;
    const whole = round(reading * power);
    if (whole / power !== reading || (reading === 0 && 1 / reading < 0)) {
      throw wrongPosition(name, { row: row + index + 1 }, Object.is(reading, -0) ? '-0' : String(reading), notOfCounter(decimals));
    }
    if (!isWithin(whole)) throw positionBeyond(name, { row: row + index + 1 }, String(reading));
    positions[index] = whole;
  }
}

/** Decimals of 32 to 256 bits, in two's complement, times a power of ten that need not be positive. */
function wideDecimals(data: Uint8Array, bytes: number, power: number, { name, positions, row }: Target): void {
  const words = bytes / 4;
  const all = asWords(data, positions.length * words);
  const divisor = 10n ** BigInt(power < 0 ? -power : 0);
  const factor = 10n ** BigInt(power > 0 ? power : 0);
  for (let index = 0; index < positions.length; index += 1) {
    let sent = 0n;
    for (let word = words - 1; word >= 0; word -= 1) sent = (sent << 32n) | BigInt(all[index * words + word] as number);
    sent = BigInt.asIntN(bytes * 8, sent) * factor;
    const whole = Number(sent / divisor);
    if (sent % divisor !== 0n) throw wrongPosition(name, { row: row + index + 1 }, `${sent}e${power}`, 'is not a whole number of steps');
    if (!isWithin(whole)) throw positionBeyond(name, { row: row + index + 1 }, `${sent}e${power}`);
    positions[index] = whole;
  }
}
