import { describe, expect, test } from '@jest/globals';
import { coilRuns, isConfirmed, leavingStrip, type PlacedSplice, type RunSegment, type StringStrip } from './leaving-strip.js';

const coil = (id: string, changes: object = {}) => ({
  id, version: 1, number: id.toUpperCase(), widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', lengthMm: 500_000, cropMm: 1_200, restMm: 0, ...changes,
});
const segment = (id: string, coilId: string, fromMm: number, toMm: number, changes: Partial<RunSegment> = {}): RunSegment => ({
  id, version: 1, coilId, stringId: 's', span: { fromMm, toMm }, stripSpan: { fromMm: 0, toMm: toMm - fromMm }, runs: 'head-first', fromUMm: '4', toUMm: '4', predicted: false, ...changes,
});
const splice = (number: string, leavingCoilId: string, enteringCoilId: string, fromMm: number, changes: Partial<PlacedSplice> = {}): PlacedSplice => ({
  number, leavingCoilId, enteringCoilId, span: { fromMm, toMm: fromMm + 400 }, fromUMm: '5', confirmed: true, predicted: false, pipeLengthMm: 400, ...changes,
});
const string = (segments: readonly RunSegment[], coils = [coil('a'), coil('b'), coil('c')], elsewhere: readonly RunSegment[] = []): StringStrip => ({
  segments, runs: coilRuns(segments), coils: new Map(coils.map((one) => [one.id, one])), coilSegments: [...segments, ...elsewhere], scaleRelativeU: 0.0005,
});
const stripOf = (found: ReturnType<typeof leavingStrip>) => (typeof found === 'string' ? found : found.strip);

describe('the strip of a coil', () => {
  test('begins at the confirmed splice into it, less crops and rest', () => {
    const [first, second] = [splice('S-1', 'a', 'b', 100_000), splice('S-2', 'b', 'c', 598_000)];
    expect(stripOf(leavingStrip(string([]), 'b', [first], second))).toEqual({
      beginMm: 100_000, uBeginMm: 5, beginWeldMm: 400, stripMm: 498_800, uStripMm: 1_250, forming: { ratio: 1, u: 0.02 / Math.sqrt(3) }, endWeldMm: 400, scaleRelativeU: 0.0005,
    });
  });

  test('begins at its segment where no splice into it is confirmed; square where none is on record', () => {
    const known = string([segment('1', 'a', 0, 100_000), segment('2', 'b', 100_000, 300_000)]);
    expect(stripOf(leavingStrip(known, 'b', [splice('S-1', 'a', 'b', 100_300, { confirmed: false })], null))).toMatchObject({ beginMm: 100_000, uBeginMm: 4, beginWeldMm: 0, endWeldMm: 400 });
    expect(stripOf(leavingStrip(known, 'a', [], splice('S-1', 'a', 'b', 100_000)))).toMatchObject({ beginMm: 0, beginWeldMm: 0, endWeldMm: 400 });
  });

  test('without either is not known, and says why', () => {
    expect(leavingStrip(string([]), 'b', [splice('S-1', 'a', 'b', 100_000, { predicted: true })], null)).toBe(
      'where coil B begins is not known: the place of splice S-1 into it is not confirmed, and it has no segment');
    expect(leavingStrip(string([]), 'b', [], null)).toContain('no splice into it is on record, and it has no segment');
    expect(leavingStrip(string([]), 'x', [], null)).toBe('the coil that ends here is not known');
    expect(leavingStrip(string([segment('1', 'a', 0, 100_000)], [coil('a', { restMm: 498_800 })]), 'a', [], null)).toContain('nothing is left after crops of 1200 mm, a rest of 498800 mm');
  });

  test('is what other strings, and other runs of the coil on this one, have not taken', () => {
    const own = [segment('1', 'a', 0, 100_000), segment('2', 'b', 100_000, 150_000), segment('3', 'a', 150_000, 200_000)];
    const known = string(own, undefined, [segment('9', 'a', 0, 30_000, { stringId: 't' })]);
    // 500 000 − 1200 − 30 000 elsewhere − 50 000 of its second run.
    expect(stripOf(leavingStrip(known, 'a', [], splice('S-1', 'a', 'b', 100_000)))).toMatchObject({ beginMm: 0, stripMm: 418_800 });
    expect(stripOf(leavingStrip(known, 'a', [splice('S-1', 'a', 'b', 100_000), splice('S-2', 'b', 'a', 150_000)], null))).toMatchObject({ beginMm: 150_000, stripMm: 368_800 });
  });

  test('is formed as the pipe before it was, never as its own segment says', () => {
    const own = [
      segment('1', 'a', 0, 100_200, { stripSpan: { fromMm: 0, toMm: 100_000 } }), segment('2', 'b', 100_200, 300_000, { stripSpan: { fromMm: 0, toMm: 150_000 } }),
    ];
    const found = leavingStrip(string(own), 'b', [splice('S-1', 'a', 'b', 100_200)], splice('S-2', 'b', 'c', 300_000));
    // Ends ± 4 each: √32/100 000; the coil's length ± 0.25 %: 1.002 · 0.0025.
    expect(stripOf(found)).toMatchObject({ forming: { ratio: 1.002, u: expect.closeTo(Math.hypot(Math.sqrt(32) / 100_000, 1.002 * 0.0025), 12) } });
  });

  test('is formed as a segment says that ends in the middle of a bias weld, not as one that ends past it, or is its own', () => {
    const formed = (toMm: number, own: readonly RunSegment[] = []): unknown => {
      const before = segment('1', 'a', 0, toMm, { stripSpan: { fromMm: 0, toMm: toMm / 1.002 } });
      return stripOf(leavingStrip(string([before, ...own]), 'b', [splice('S-1', 'a', 'b', 100_200)], null));
    };
    const known = { beginMm: 100_200, beginWeldMm: 400, forming: { ratio: expect.closeTo(1.002, 9) } };
    expect([formed(100_400), formed(100_600)]).toMatchObject([known, known]);
    expect(formed(100_601)).toMatchObject({ forming: { ratio: 1 } });
    expect(formed(100_400, [segment('2', 'b', 100_400, 100_500, { stripSpan: { fromMm: 0, toMm: 50 } })])).toMatchObject(known);
  });

  test('two pieces of one coil are as uncertain as the coil, not less', () => {
    const own = [segment('1', 'a', 0, 50_000), segment('2', 'a', 50_000, 100_000, { stripSpan: { fromMm: 50_000, toMm: 100_000 } }), segment('3', 'b', 100_000, 300_000)];
    const found = stripOf(leavingStrip(string(own), 'b', [], null));
    expect(found).toMatchObject({ forming: { ratio: 1, u: expect.closeTo(Math.hypot(8 / 100_000, 0.0025), 12) } });
  });
});

test('a place given by a station upstream is not confirmed, whatever is said of it', () => {
  expect([isConfirmed({ confirmed: true, predicted: false }), isConfirmed({ confirmed: true, predicted: true }), isConfirmed({ confirmed: false, predicted: false })]).toEqual([true, false, false]);
});
