/** Values from the foot to the head of a plot, with round ticks. */
export interface ValueScale {
  readonly least: number;
  readonly greatest: number;
  readonly ticks: readonly { readonly value: number; readonly text: string }[];
}

const STEPS = [1, 2, 2.5, 5];
const END_ROOM = 0.04;
const LARGEST_PLAIN = 1e7;
const SMALLEST_PLAIN = 1e-6;

/**
 * A scale that holds all of the given values with a little room at its ends, and between them ticks at whole steps of 1, 2, 2.5 or 5
 * times a power of ten, which cut it into at most `partsMax` parts (3 or more). Zero is its foot or head where that costs no more
 * than half as much room again. Null when there is no value. Throws RangeError for a value that is not finite.
 */
export function scaleOver(values: Iterable<number>, partsMax: number): ValueScale | null {
  let [least, greatest] = [Infinity, -Infinity];
  for (const value of values) {
    if (!Number.isFinite(value)) throw new RangeError(`not a finite value: ${value}`);
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  if (least > greatest) return null;
  [least, greatest] = withZero(...apart(least, greatest));
  return roundScale(least, greatest, partsMax);
}

/** Room for a value that is the only one: a tenth of it to either side, or 1 about zero. */
function apart(least: number, greatest: number): [number, number] {
  const magnitude = Math.max(Math.abs(least), Math.abs(greatest));
  if (greatest - least > magnitude * 1e-9) return [least, greatest];
  const room = magnitude === 0 ? 1 : magnitude / 10;
  return [least - room, greatest + room];
}

/** An end that is not zero gets room beyond it. */
function withZero(least: number, greatest: number): [number, number] {
  const bearable = (greatest - least) / 2;
  const room = (greatest - least) * END_ROOM;
  const foot = least >= 0 && least <= bearable ? 0 : least - room;
  const head = greatest <= 0 && -greatest <= bearable ? 0 : greatest + room;
  return [foot, head];
}

function roundScale(least: number, greatest: number, partsMax: number): ValueScale {
  const exponent = Math.floor(Math.log10((greatest - least) / partsMax));
  // The widest of these steps cuts any range into few enough parts.
  for (const power of [exponent, exponent + 1, exponent + 2]) {
    for (const factor of STEPS) {
      const step = factor * 10 ** power;
      if ((greatest - least) / step > partsMax) continue;
      return { least, greatest, ticks: ticksOf(Math.ceil(least / step - 1e-9), Math.floor(greatest / step + 1e-9), factor, power) };
    }
  }
  throw new RangeError(`no scale from ${least} to ${greatest} in ${partsMax} parts`);
}

function ticksOf(first: number, last: number, factor: number, power: number): ValueScale['ticks'] {
  const ticks: { value: number; text: string }[] = [];
  for (let number = first; number <= last; number += 1) {
    const text = textOf(number * factor, power);
    ticks.push({ value: Number(text.replace('−', '-')), text });
  }
  return ticks;
}

/** A whole or half number times a power of ten, as exact text. */
function textOf(number: number, power: number): string {
  const value = Number(`${number}e${power}`);
  const magnitude = Math.abs(value);
  const places = Math.max(0, -power + (Number.isInteger(number) ? 0 : 1));
  const isPlain = magnitude === 0 || (magnitude < LARGEST_PLAIN && magnitude >= SMALLEST_PLAIN && places <= 9);
  return (isPlain ? value.toFixed(Math.min(places, 9)) : Number(value.toPrecision(12)).toExponential()).replace('-', '−').replace('e−', 'e-');
}

/**
 * A value with as many places as tell apart what is so much apart, to three digits of that; to four of its own where nothing is apart.
 * @example textTo(5.7294, 0.1094) // '5.729'
 */
export function textTo(value: number, apart: number): string {
  const [magnitude, finest] = [Math.abs(value), Number.isFinite(apart) ? apart / 100 : Math.abs(value) / 1_000];
  const power = finest === 0 ? 0 : -Math.floor(Math.log10(finest));
  const places = Math.max(0, power);
  const isPlain = magnitude < LARGEST_PLAIN && places <= 9;
  const text = isPlain ? value.toFixed(places) : value.toExponential(Math.max(0, Math.min(20, Math.floor(Math.log10(magnitude)) + power)));
  return text.replace('-', '−').replace('e−', 'e-').replace(/^−(0(?:\.0*)?)$/, '$1');
}

/**
 * The shortest decimal that reads back as this float32, which is how samples are kept.
 * @example float32Text(Math.fround(5.61)) // '5.61'
 */
export function float32Text(value: number): string {
  for (let digits = 1; digits <= 9; digits += 1) {
    const short = Number(value.toPrecision(digits));
    if (Math.fround(short) === Math.fround(value)) return String(short).replace('-', '−');
  }
  return String(value).replace('-', '−');
}
