import { nearestSingle } from './nearest-single.js';

const { fround } = Math;
/** No reading has more characters. */
const LONGEST = 100;
const LARGEST_EXACT = 2 ** 53;
/** Powers of ten that a double holds exactly. */
const EXACT_PLACES = 22;
const POWERS = Float64Array.from({ length: EXACT_PLACES + 1 }, (_, places) => Number(`1e${places}`));
/** A float32 gives back every decimal of so many digits (FLT_DIG of ISO/IEC 9899). */
const SURE_DIGITS = 6;
const [ZERO, PLUS, MINUS, POINT] = [48, 43, 45, 46];
const EXPONENT = /^[eE][+-]?\d+$/;

/**
 * Reads decimal texts one after the other: a sign, digits with a point, perhaps an exponent. Nearly all are short, and read
 * in one pass over their characters.
 */
export class DecimalScanner {
  private text = '';
  private isNegative = false;
  /** The digits as a whole number, without the zeros that end the fraction; not exact past 2^53. */
  private mantissa = 0;
  /** Digits of the fraction among them. */
  private places = 0;
  private significant = 0;
  private hasExponent = false;
  private readonly beyond = (): number => compareExactly(this.text, this.double());

  /** Whether this is a decimal text; if so, the other functions say what it is. */
  scan(text: string): boolean {
    this.text = text;
    this.hasExponent = false;
    const { length } = text;
    if (length > LONGEST) return false;
    const sign = text.charCodeAt(0);
    this.isNegative = sign === MINUS;
    const first = sign === MINUS || sign === PLUS ? 1 : 0;
    const point = this.wholeDigits(text, first);
    if (point === length) return point > first;
    const end = text.charCodeAt(point) === POINT ? this.fractionDigits(text, point + 1) : point;
    if (end - first <= (end > point ? 1 : 0)) return false; // not one digit
    if (end === length) return true;
    this.hasExponent = EXPONENT.test(text.slice(end));
    return this.hasExponent;
  }

  private wholeDigits(text: string, from: number): number {
    let [mantissa, significant, at] = [0, 0, from];
    for (; at < text.length; at += 1) {
      const digit = text.charCodeAt(at) - ZERO;
      if (digit < 0 || digit > 9) break;
      mantissa = mantissa * 10 + digit;
      if (mantissa > 0) significant += 1;
    }
    [this.mantissa, this.significant, this.places] = [mantissa, significant, 0];
    return at;
  }

  private fractionDigits(text: string, from: number): number {
    let [at, counted] = [from, from];
    for (; at < text.length; at += 1) {
      const digit = text.charCodeAt(at) - ZERO;
      if (digit < 0 || digit > 9) break;
      if (digit === 0) continue;
      const more = at + 1 - counted;
      this.significant = this.mantissa > 0 ? this.significant + more : 1;
      this.mantissa = this.mantissa * (more === 1 ? 10 : 10 ** more) + digit;
      this.places += more;
      counted = at + 1;
    }
    return at;
  }

  private double(): number {
    const isExact = !this.hasExponent && this.mantissa <= LARGEST_EXACT && this.places <= EXACT_PLACES;
    if (!isExact) return Number(this.text);
    const magnitude = this.mantissa / (POWERS[this.places] as number);
    return this.isNegative ? -magnitude : magnitude;
  }

  /** The float32 nearest to it, rounded once. */
  single(): number {
    return nearestSingle(this.double(), this.beyond);
  }

  /** Whether its digits can be had back from that float32. */
  isKeptBy(single: number): boolean {
    if (this.significant <= SURE_DIGITS && !this.hasExponent) return true;
    const double = this.double();
    return fround(double) === double || Number(single.toPrecision(Math.max(this.significant, 1))) === double;
  }

  /** It times a power of ten, up to the sixth, or null when that is no whole number or not written plainly; past 2^53 it is not exact. */
  whole(decimals: number): number | null {
    if (this.hasExponent || this.places > decimals) return null;
    const magnitude = this.mantissa * (POWERS[decimals - this.places] as number);
    return this.isNegative ? -magnitude : magnitude;
  }
}

const PARTS = /^([+-]?)(\d*)\.?(\d*)(?:[eE]([+-]?\d+))?$/;
/** Every float32, and every number halfway between two, is a multiple of this power of two. */
const FINEST = 150;

/** Whether a decimal text lies above (1), at (0) or below (−1) a double that is halfway between two float32s. */
function compareExactly(text: string, double: number): number {
  const [, sign = '', whole = '', fraction = '', exponent = '0'] = PARTS.exec(text) ?? [];
  const power = Number(exponent) - fraction.length;
  let left = BigInt(whole + fraction) * (sign === '-' ? -1n : 1n) * 2n ** BigInt(FINEST);
  let right = BigInt(double * 2 ** FINEST);
  if (power >= 0) left *= 10n ** BigInt(power);
  else right *= 10n ** BigInt(-power);
  return Number(left > right) - Number(left < right);
}
