import fc from 'fast-check';
import { interval } from '#libs/intervals';
import type { Sample, TestResult } from '#libs/tube-tests';
import type { PlainLayout, PlainRules, PlainSample } from './tube-tests.reference.js';

/** A layout with its samples, as the library takes them and as the oracle does. */
export interface Drawn {
  readonly layout: PlainLayout;
  readonly rules: PlainRules;
  readonly samples: readonly Sample[];
  readonly plain: readonly PlainSample[];
}

interface DrawnPlace {
  readonly kind: string;
  readonly pick: number;
  readonly isFirst: boolean;
  readonly share: number;
  readonly takenAt: number;
  /** Nothing, or how much later it failed. */
  readonly failedAfter: number | null;
}

/** Evenly spread, as doubles are not: nearly all of those lie next to 0. */
export const share = fc.integer({ min: 0, max: 1000 }).map((thousandths) => thousandths / 1000);
const places = fc.array(
  fc.record({ kind: fc.constantFrom('end', 'end', 'stop', 'stop', 'between'), pick: fc.nat(), isFirst: fc.boolean(), share,
    takenAt: fc.nat({ max: 5 }), failedAfter: fc.option(fc.nat({ max: 2 }), { nil: null, freq: 3 }) }), { maxLength: 9 },
);

/** Coils one after the other, some with a gap between, with stops anywhere on them and samples at ends, stops and between. */
export function layouts(longestMm: number): fc.Arbitrary<Drawn> {
  const coil = fc.record({ gapMm: fc.constantFrom(0, 0, 7), lengthMm: fc.integer({ min: 1, max: longestMm }) });
  const rules = fc.record({
    coilEnds: fc.boolean(), stopSides: fc.boolean(), everyMm: fc.option(fc.integer({ min: 1, max: longestMm }), { nil: null }),
  }).filter(({ coilEnds, stopSides, everyMm }) => coilEnds || stopSides || everyMm !== null);
  const coils = fc.array(coil, { minLength: 1, maxLength: 4 });
  const stops = fc.array(fc.tuple(fc.nat(), share), { maxLength: 4 });
  return fc.record({ coils, stops, places, rules }).map((drawn) => {
    const layout = layoutOf(drawn.coils, drawn.stops);
    const both = drawn.places.flatMap((place, index) => sampleAt(place, `P${index}`, layout));
    return { layout, rules: drawn.rules, samples: both.map(([one]) => one), plain: both.map(([, one]) => one) };
  });
}

function layoutOf(lengths: readonly { gapMm: number; lengthMm: number }[], stops: readonly (readonly [pick: number, share: number])[]): PlainLayout {
  let endMm = -5;
  const coils = lengths.map(({ gapMm, lengthMm }, index) => {
    const fromMm = endMm + gapMm;
    endMm = fromMm + lengthMm;
    return { coil: `K${index}`, pipe: interval(fromMm, endMm) };
  });
  return { coils, stops: stops.map(([pick, part], index) => ({ stop: `S${index}`, atMm: on(coils, pick, part, 0) })) };
}

function on(coils: PlainLayout['coils'], pick: number, part: number, lessMm: number): number {
  const { pipe } = coils[pick % coils.length]!;
  return pipe.fromMm + Math.round(part * (pipe.toMm - pipe.fromMm - lessMm));
}

function sampleAt({ kind, pick, isFirst, share: part, takenAt, failedAfter }: DrawnPlace, sample: string, { coils, stops }: PlainLayout): [Sample, PlainSample][] {
  const [test, side] = ['flattening', isFirst ? 'after' : 'before'] as const;
  const failedAt = failedAfter === null ? null : takenAt + failedAfter;
  const [times, plain] = [{ takenAtUs: takenAt, failedAtUs: failedAt }, { takenAt, failedAt }];
  if (kind === 'stop' && stops.length > 0) {
    const { stop, atMm } = stops[pick % stops.length]!;
    const cellMm = isFirst ? atMm : atMm - 1;
    // The side of a stop at the very end has no pipe.
    if (!coils.some(({ pipe }) => pipe.fromMm <= cellMm && cellMm < pipe.toMm)) return [];
    return [[{ sample, test, place: { at: 'stop', stop, side }, ...times }, { sample, atMm, side, ...plain }]];
  }
  if (kind === 'end') {
    const { coil, pipe } = coils[pick % coils.length]!;
    const [end, atMm] = isFirst ? ['from', pipe.fromMm] as const : ['to', pipe.toMm] as const;
    return [[{ sample, test, place: { at: 'coil-end', coil, end }, ...times }, { sample, atMm, side, ...plain }]];
  }
  const atMm = on(coils, pick, part, 1);
  return [[{ sample, test, place: { at: 'footage', footageMm: atMm }, ...times }, { sample, atMm, side: 'after', ...plain }]];
}

/** Results of which each is an original or follows an earlier one, at times that may be equal; mostly passes. */
export const units: fc.Arbitrary<TestResult[]> = fc.array(
  fc.tuple(fc.constantFrom('pass', 'pass', 'pass', 'fail', 'void'), fc.option(fc.nat(), { nil: null, freq: 3 }), fc.nat({ max: 2 }), fc.nat({ max: 4 })),
  { minLength: 1, maxLength: 9 },
).map((drawn) => {
  let atUs = 0;
  return drawn.map(([outcome, pick, laterUs, flaw], index): TestResult => {
    atUs += laterUs;
    const common = { id: `R${index}`, atUs, follows: pick === null || index === 0 ? null : `R${pick % index}`, ...(flaw === 0 ? { discount: 'another coil' } : {}) };
    return outcome === 'void' ? { ...common, outcome, reason: 'Flaw of machining' } : { ...common, outcome };
  });
});

/** D and t in hundredths of a millimetre, D/t from just over 2 to 60. */
export const tubes: fc.Arbitrary<[diameter: number, wall: number]> = fc.integer({ min: 100, max: 60_000 }).chain((diameter) =>
  fc.tuple(fc.constant(diameter), fc.integer({ min: Math.ceil(diameter / 60), max: Math.floor((diameter - 1) / 2) })));

export const hundredths = (value: number): string => (value / 100).toFixed(2);
