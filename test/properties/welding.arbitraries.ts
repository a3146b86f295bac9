import fc from 'fast-check';
import { arcEnergy, type ActualWeld, type ArcReadings, type Quantity, type WeldChoice, type WeldProcedure } from '#libs/welding';
import type { UnitName } from '#libs/units';
import { decimalBetween } from './conformity.arbitraries.js';
import { scaled } from './conformity.reference.js';
import type { PlainArc, PlainProcedure, PlainRange, PlainValue, PlainWeld } from './welding.reference.js';

const UNITS_OF: Readonly<Record<string, readonly UnitName[]>> = {
  voltage: ['V', 'kV'], 'strip-thickness': ['mm'], 'travel-speed': ['mm/min', 'mm/s', 'm/min'], 'arc-energy': ['kJ/mm', 'J/mm'],
};
const MEASURED = ['voltage', 'strip-thickness', 'travel-speed'] as const;
const CHOICES: readonly WeldChoice[] = ['material', 'hand'];
const WORDS = ['a', 'b', 'c'] as const;
const SOURCE = { label: 'weld', record: null };

/** Small numbers with few digits, so that values fall on limits often. */
const small = decimalBetween(0, 6, 1);
const unitOf = (variable: string): fc.Arbitrary<UnitName> => fc.constantFrom(...UNITS_OF[variable]!);

const range: fc.Arbitrary<PlainRange> = fc.constantFrom(...Object.keys(UNITS_OF)).chain((variable) =>
  fc.tuple(fc.option(small), fc.option(small), unitOf(variable)).map(([a, b, unit]) => {
    const [min, max] = a !== null && b !== null && scaled(a) > scaled(b) ? [b, a] : [a, b];
    return { variable, min, max, unit };
  }));

const list = fc.record({ choice: fc.constantFrom(...CHOICES), allowed: fc.subarray([...WORDS], { minLength: 1 }) });

export const plainProcedure: fc.Arbitrary<PlainProcedure> = fc
  .record({ ranges: fc.array(range, { maxLength: 4 }), lists: fc.array(list, { maxLength: 2 }) })
  .filter(({ ranges, lists }) => ranges.length + lists.length > 0);

const value: fc.Arbitrary<PlainValue> = fc.constantFrom(...MEASURED).chain((variable) =>
  fc.tuple(small, unitOf(variable)).map(([printed, unit]) => ({ variable, printed, unit })));

const arc: fc.Arbitrary<PlainArc> = fc.record({
  volts: fc.option(small, { freq: 9 }), amperes: fc.option(small, { freq: 9 }), mmPerMin: fc.option(decimalBetween(0, 90, 0), { freq: 9 }),
});

export const plainWeld: fc.Arbitrary<PlainWeld> = fc.record({
  values: fc.array(value, { maxLength: 6 }), arc: fc.option(arc),
  chosen: fc.array(fc.record({ choice: fc.constantFrom(...CHOICES), value: fc.constantFrom(...WORDS) }), { maxLength: 4 }),
});

export const asProcedure = ({ ranges, lists }: PlainProcedure): WeldProcedure => ({
  name: 'P-1',
  ranges: ranges.map((one) => ({ ...one, unit: one.unit as UnitName })),
  lists: lists.map((one) => ({ ...one, choice: one.choice as WeldChoice })),
});

export function asWeld({ values, arc: read, chosen }: PlainWeld): ActualWeld {
  return {
    values: [
      ...values.map((one) => ({ ...one, source: SOURCE })),
      ...(read === null ? [] : [{ energy: arcEnergy(readings(read)), source: SOURCE }]),
    ],
    chosen: chosen.map((one) => ({ ...one, choice: one.choice as WeldChoice, source: SOURCE })),
  };
}

export function readings({ volts, amperes, mmPerMin }: PlainArc): ArcReadings {
  const of = (printed: string | null, unit: UnitName): Quantity | null => (printed === null ? null : { printed, unit });
  return { voltage: of(volts, 'V'), current: of(amperes, 'A'), travelSpeed: of(mmPerMin, 'mm/min') };
}

/** A procedure, and the same with limits moved inwards and words struck from its lists. */
export const tightened: fc.Arbitrary<readonly [PlainProcedure, PlainProcedure]> = plainProcedure.chain((loose) =>
  fc.tuple(
    fc.constant(loose),
    fc.record({ ranges: fc.tuple(...loose.ranges.map(tighter)), lists: fc.tuple(...loose.lists.map(shorter)) }),
  ).filter(([, { ranges }]) => ranges.every(({ min, max }) => min === null || max === null || scaled(min) <= scaled(max))));

function tighter(one: PlainRange): fc.Arbitrary<PlainRange> {
  return fc.tuple(fc.option(small), fc.option(small)).map(([a, b]) => ({ ...one, min: inner(one.min, a, 1n), max: inner(one.max, b, -1n) }));
}

/** The limit that leaves less room; `inwards` is the sign of the direction that leaves less. */
function inner(limit: string | null, other: string | null, inwards: bigint): string | null {
  if (limit === null || other === null) return limit ?? other;
  return inwards * (scaled(other) - scaled(limit)) > 0n ? other : limit;
}

function shorter<T extends { readonly allowed: readonly string[] }>(one: T): fc.Arbitrary<T> {
  return fc.subarray([...one.allowed], { minLength: 1 }).map((allowed) => ({ ...one, allowed }));
}
