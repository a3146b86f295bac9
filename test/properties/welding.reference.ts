import type { Verdict } from '#libs/conformity';
import { scaled } from './conformity.reference.js';

/**
 * A weld against its procedure the plain way: single values known outright, whole numbers only, every comparison written
 * out. It uses nothing of the library, and knows the few units below by their size.
 */
const SIZE: Readonly<Record<string, bigint>> = { V: 1n, kV: 1000n, mm: 1n, 'mm/min': 1n, 'mm/s': 60n, 'm/min': 1000n, 'kJ/mm': 1000n, 'J/mm': 1n };

export interface PlainRange {
  readonly variable: string;
  readonly min: string | null;
  readonly max: string | null;
  readonly unit: string;
}

export interface PlainValue {
  readonly variable: string;
  readonly printed: string;
  readonly unit: string;
}

/** An arc in V, A and mm/min; null where the value is missing. */
export interface PlainArc {
  readonly volts: string | null;
  readonly amperes: string | null;
  readonly mmPerMin: string | null;
}

export interface PlainWeld {
  readonly values: readonly PlainValue[];
  readonly arc: PlainArc | null;
  readonly chosen: readonly { readonly choice: string; readonly value: string }[];
}

export interface PlainProcedure {
  readonly ranges: readonly PlainRange[];
  readonly lists: readonly { readonly choice: string; readonly allowed: readonly string[] }[];
}

/** The worst of everything that the procedure limits. */
export function verdictOf({ ranges, lists }: PlainProcedure, weld: PlainWeld): Verdict {
  const found = [
    ...ranges.flatMap((range) => orMissing([
      ...weld.values.filter(({ variable }) => variable === range.variable).map((value) => ofValue(range, value)),
      ...(range.variable === 'arc-energy' && weld.arc !== null ? [ofArc(range, weld.arc)] : []),
    ])),
    ...lists.flatMap(({ choice, allowed }) => orMissing(
      weld.chosen.filter((one) => one.choice === choice).map(({ value }): Verdict => (allowed.includes(value) ? 'conforms' : 'does-not-conform')),
    )),
  ];
  for (const verdict of ['does-not-conform', 'not-reported', 'not-comparable'] as const) if (found.includes(verdict)) return verdict;
  return 'conforms';
}

const orMissing = (found: Verdict[]): Verdict[] => (found.length === 0 ? ['not-reported'] : found);

function ofValue({ min, max, unit }: PlainRange, { printed, unit: read }: PlainValue): Verdict {
  const value = scaled(printed) * SIZE[read]!;
  const isLow = min !== null && value < scaled(min) * SIZE[unit]!;
  const isHigh = max !== null && value > scaled(max) * SIZE[unit]!;
  return isLow || isHigh ? 'does-not-conform' : 'conforms';
}

/** 60 U I / S in J/mm, held against a limit without dividing: U, I, S and the limit are all in whole numbers of the same part. */
function ofArc({ min, max, unit }: PlainRange, { volts, amperes, mmPerMin }: PlainArc): Verdict {
  if (volts === null || amperes === null || mmPerMin === null) return 'not-reported';
  if (scaled(mmPerMin) === 0n) return 'not-comparable';
  const energy = 60n * scaled(volts) * scaled(amperes);
  const isLow = min !== null && energy < scaled(min) * SIZE[unit]! * scaled(mmPerMin);
  const isHigh = max !== null && energy > scaled(max) * SIZE[unit]! * scaled(mmPerMin);
  return isLow || isHigh ? 'does-not-conform' : 'conforms';
}
