import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { NetLengths } from '#libs/length';
import { weldFootageWhenAt } from '../../apps/api/src/splice-arrivals/at-station.js';
import { outsideMm, stripGate, UNKNOWN_RATIO } from '../../apps/api/src/splice-arrivals/gate.js';
import { coilRuns, leavingStrip, type PlacedSplice, type RunSegment, type StringStrip } from '../../apps/api/src/splice-arrivals/leaving-strip.js';
import { Reach } from '../../apps/api/src/splice-arrivals/reach.js';
import { aCutOut } from '../fixtures/string-lengths.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { cellsMadeWhenAt, countedEnds, type CellCut, type FedCoil } from './splice-arrivals.reference.js';

/** Standard uncertainties of what is drawn: of a stated length, of the counter's scale (both relative), of a place, mm. */
const [U_STATED, U_SCALE, U_PLACE] = [0.0025, 0.0005, 6];

interface Drawn {
  readonly coils: readonly FedCoil[];
  readonly formingRatio: number;
  readonly scaleError: number;
  readonly placeErrors: readonly number[];
  /** Of each weld: the pipe that it takes, and whether its place was seen. */
  readonly welds: readonly { readonly pipeMm: number; readonly confirmed: boolean }[];
}

/**
 * Up to five coils of 20 to 60 m. By Cauchy and Schwarz the sum of n errors, each within 2/√n of its standard uncertainty, stays
 * within k = 2 of their root sum of squares: every gate must hold, however the errors fall together.
 */
const drawnArbitrary: fc.Arbitrary<Drawn> = fc.integer({ min: 1, max: 5 }).chain((count) => {
  const bound = 2 / Math.sqrt(3 + 3 * count);
  const error = (u: number): fc.Arbitrary<number> => fc.double({ min: -bound * u, max: bound * u, noNaN: true });
  return fc.record({
    coils: fc.array(fc.record({ stripMm: fc.integer({ min: 20_000, max: 60_000 }), statedError: error(U_STATED) }), { minLength: count, maxLength: count }),
    formingRatio: error(UNKNOWN_RATIO.u).map((one) => 1 + one),
    scaleError: error(U_SCALE),
    placeErrors: fc.array(error(U_PLACE), { minLength: count, maxLength: count }),
    welds: fc.array(fc.record({ pipeMm: fc.integer({ min: 0, max: 600 }), confirmed: fc.boolean() }), { minLength: count, maxLength: count }),
  });
});

/**
 * What the shift would have on record of it: stated lengths, segments that end in the middle of a weld and splices at its
 * beginning, each as wrong as drawn. Strip runs out in the middle of a weld: `ends` are where the welds begin.
 */
function recorded({ coils, formingRatio, scaleError, placeErrors, welds }: Drawn): { string: StringStrip; splices: readonly PlacedSplice[]; ends: readonly number[] } {
  const middles = countedEnds(coils, formingRatio, scaleError);
  const beginOf = (middle: number, index: number): number => middle - (welds[index]?.pipeMm ?? 0) / 2;
  const places = middles.map((middle, index) => Math.round(middle + (placeErrors[index] ?? 0)));
  const stated = coils.map(({ stripMm, statedError }) => Math.round(stripMm * (1 + statedError)));
  const uMm = String(U_PLACE);
  const segments = coils.map((_, index): RunSegment => ({
    id: `s${index}`, version: 1, coilId: `c${index}`, stringId: 's', span: { fromMm: places[index - 1] ?? 0, toMm: places[index] ?? 0 },
    stripSpan: { fromMm: 0, toMm: stated[index] ?? 0 }, runs: 'head-first', fromUMm: index === 0 ? '0' : uMm, toUMm: uMm, predicted: false,
  }));
  const splices = places.map((place, index): PlacedSplice => {
    const [fromMm, { pipeMm, confirmed } = { pipeMm: 0, confirmed: true }] = [Math.round(beginOf(place, index)), welds[index]];
    return {
    number: `S-${index}`, leavingCoilId: `c${index}`, enteringCoilId: `c${index + 1}`, span: { fromMm, toMm: fromMm + 300 }, fromUMm: uMm, confirmed, predicted: false, pipeLengthMm: pipeMm,
    };
  });
  const known = stated.map((lengthMm, index) => [`c${index}`, {
    id: `c${index}`, version: 1, number: `C-${index}`, widthMm: '300', thicknessMm: '5', massKg: '1', lengthMm, cropMm: 0, restMm: 0,
  }] as const);
  return { string: { segments, runs: coilRuns(segments), coils: new Map(known), coilSegments: segments, scaleRelativeU: U_SCALE }, splices, ends: middles.map(beginOf) };
}

describe('gates by strip length', () => {
  test('hold the end of every coil, and not that of the next', () => {
    let [narrowed, missed] = [0, 0];
    fc.assert(
      fc.property(drawnArbitrary, (drawn) => {
        const { string, splices, ends } = recorded(drawn);
        splices.forEach((splice, index) => {
          const found = leavingStrip(string, splice.leavingCoilId, splices.slice(0, index), splice);
          if (typeof found === 'string') throw new Error(found);
          const gate = stripGate(found.strip);
          expect(outsideMm(gate, Math.round(ends[index] ?? NaN))).toBe(0);
          // Every segment made before says how the strip is formed, those too that end inside the weld; none does before the first.
          expect(found.restsOn.join()).toContain(index === 0 ? 'no earlier segment' : `by the earlier segments of this string, ${index} of them`);
          narrowed += found.strip.forming.ratio === 1 ? 0 : 1;
          const next = ends[index + 1];
          if (next === undefined) return;
          expect(outsideMm(gate, Math.round(next))).toBeGreaterThan(10_000);
          missed += 1;
        });
      }),
      { ...seedFromEnvironment(), numRuns: 150 },
    );
    expect(Math.min(narrowed, missed)).toBeGreaterThan(50);
  }, 60_000);
});

/** Some eighty cells of pipe, cut at most twice while they are made, and a cell that is looked for down the line. */
const runArbitrary = fc.record({
  marked: fc.integer({ min: 0, max: 40 }),
  path: fc.integer({ min: 1, max: 30 }),
  cuts: fc.uniqueArray(fc.record({ whenMade: fc.integer({ min: 10, max: 78 }), agoCells: fc.integer({ min: 2, max: 20 }), lengthCells: fc.integer({ min: 1, max: 5 }) }), { maxLength: 2, selector: ({ whenMade }) => whenMade }),
}).map(({ marked, path, cuts }) => ({
  marked, path,
  cuts: cuts.map(({ whenMade, agoCells, lengthCells }): CellCut => {
    const from = Math.max(0, whenMade - agoCells);
    return { whenMade, from, to: Math.min(from + lengthCells, whenMade - 1) };
  }).filter(({ from, to }) => from < to),
})).filter(({ cuts: [one, other] }) => one === undefined || other === undefined || one.to <= other.from || other.to <= one.from);

describe('the footage at the weld point when a splice comes to a station', () => {
  test('is what the line makes until then, over cut-outs made before, and none made after', () => {
    const TOTAL = 80;
    let [came, overCuts, taken] = [0, 0, 0];
    fc.assert(
      fc.property(runArbitrary, ({ marked, path, cuts }) => {
        const nets = new NetLengths(cuts.map(({ whenMade, from, to }) => aCutOut(from, to, whenMade)));
        const reach = new Reach(Array.from({ length: TOTAL + 1 }, (_, made) => ({ atUs: made, footageMm: made })));
        const expected = cellsMadeWhenAt(marked, path, cuts, TOTAL);
        const found = weldFootageWhenAt(marked, path, { nets, reach, scaleRelativeU: 0 });
        const wasCut = nets.findCutOut(marked, reach.firstUs(found) ?? Infinity) !== null;
        if (expected === null) {
          expect(wasCut || found > TOTAL).toBe(true);
          taken += wasCut ? 1 : 0;
          return;
        }
        expect([found, wasCut]).toEqual([expected, false]);
        came += 1;
        overCuts += expected > marked + path ? 1 : 0;
      }),
      { ...seedFromEnvironment(), numRuns: 3_000 },
    );
    expect(came).toBeGreaterThan(500);
    expect(Math.min(overCuts, taken)).toBeGreaterThan(50);
  });
});
