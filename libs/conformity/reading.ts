import { compare, decimal, decimalsOf, over, ratio } from '#libs/exact';
import type { Ratio } from '#libs/exact';
import type { Zone } from './zone.js';

/** A value as a paper prints it or an instrument shows it. */
export interface Reading {
  /** Digits with a decimal point, and before them what says that only a bound is known: `0.085`, `<0.001`, `≥ 100`. */
  readonly printed: string;
  readonly unit: string;
  /** printed = value × multiplier: `100` where a column headed "× 100" prints 8.5 for 0.085. */
  readonly multiplier: string;
  /** Expanded uncertainty, k = 2, in the unit and unmultiplied; null when not stated. */
  readonly expandedU: string | null;
}

/** What a value can be: everything between two ends. A value that is known outright has one and the same value at both. */
export interface Bounds extends Zone {
  /** Place of the last digit that was printed: digits after the point, negative for tens and more. */
  readonly decimals: number;
}

/** Longer than anything that a paper prints; a longer text is refused rather than computed with. */
const PRINTED_MAX_LENGTH = 40;

const PRINTED = /^(?:(<=?|>=?|≤|≥) ?)?(-?\d+(?:\.\d+)?)$/;
const PLAIN = /^-?\d+(?:\.\d+)?$/;

/**
 * What a reading says, in its own unit, the multiplier taken out. `fault` says, in a sentence, what cannot be read; nothing
 * is guessed: a comma may part decimals or thousands, and a blank may be a lost digit.
 */
export function parseReading(reading: Reading): Bounds | { readonly fault: string } {
  const { printed, multiplier, expandedU } = reading;
  const match = printed.length > PRINTED_MAX_LENGTH ? null : PRINTED.exec(printed);
  if (match === null) return { fault: faultOf(printed) };
  const scale = plainValue(multiplier);
  if (scale === null || scale.numerator <= 0n) return { fault: `the multiplier ${quoted(multiplier)} is not a number above 0` };
  if (expandedU !== null && isFaultyUncertainty(expandedU)) {
    return { fault: `the uncertainty ${quoted(expandedU)} is not a number of 0 or more` };
  }
  const [, sign = '', digits = ''] = match;
  return boundsOf(sign, over(decimal(digits), scale), decimalsOf(digits) + placesOf(scale));
}

/** The text, not longer than anything that a paper prints. */
export function cut(text: string): string {
  return text.length > PRINTED_MAX_LENGTH ? `${text.slice(0, PRINTED_MAX_LENGTH)}…` : text;
}

function quoted(text: string): string {
  return JSON.stringify(cut(text));
}

function boundsOf(sign: string, value: Ratio, decimals: number): Bounds {
  const open = sign === '<' || sign === '>';
  if (sign === '<' || sign === '<=' || sign === '≤') return { low: null, high: value, lowOpen: false, highOpen: open, decimals };
  if (sign === '>' || sign === '>=' || sign === '≥') return { low: value, high: null, lowOpen: open, highOpen: false, decimals };
  return { low: value, high: value, lowOpen: false, highOpen: false, decimals };
}

function isFaultyUncertainty(text: string): boolean {
  const value = plainValue(text);
  return value === null || value.numerator < 0n;
}

function plainValue(text: string): Ratio | null {
  return text.length <= PRINTED_MAX_LENGTH && PLAIN.test(text) ? decimal(text) : null;
}

/** By how many places dividing by `scale` moves the last printed digit: the fewest that keep every digit. */
function placesOf(scale: Ratio): number {
  let places = 0;
  while (compare(powerOfTen(places), scale) < 0) places++;
  while (compare(powerOfTen(places - 1), scale) >= 0) places--;
  return places;
}

function powerOfTen(exponent: number): Ratio {
  return exponent < 0 ? ratio(1n, 10n ** BigInt(-exponent)) : ratio(10n ** BigInt(exponent));
}

function faultOf(printed: string): string {
  if (printed.trim() === '') return 'nothing is printed';
  if (printed.length > PRINTED_MAX_LENGTH) return `${quoted(printed)} is longer than ${PRINTED_MAX_LENGTH} characters`;
  if (printed.includes(',')) return `${quoted(printed)} has a comma, which may part decimals or thousands: only a decimal point is read`;
  if (/\s/.test(printed)) return `${quoted(printed)} has a blank where none belongs`;
  return `${quoted(printed)} is not a number`;
}
