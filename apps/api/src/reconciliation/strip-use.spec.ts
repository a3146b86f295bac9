import { describe, expect, test } from '@jest/globals';
import { formingElongation, stripUse, type UsedSegment } from './strip-use.js';

const coil = {
  id: 'c', version: 1, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', lengthMm: 500_000, cropMm: 1000, restMm: 2000,
};
const segment = (changes: Partial<UsedSegment> = {}): UsedSegment => ({
  id: 's', version: 1, coilId: 'c', stringId: 'here', span: { fromMm: 100_000, toMm: 301_000 }, stripSpan: { fromMm: 1000, toMm: 201_000 },
  runs: 'head-first', fromUMm: '30', toUMm: '40', ...changes,
});

describe('strip of a coil', () => {
  const elsewhere = segment({ stringId: 'there', span: { fromMm: 0, toMm: 50_000 }, stripSpan: { fromMm: 201_000, toMm: 251_000 } });

  test('length less crop, rest and what another string took', () => {
    const use = stripUse(coil, [segment(), elsewhere], 'here', 400_000);
    expect(use).toMatchObject({ onOtherStringsMm: 50_000, notYetFormedMm: 0, consumedMm: 447_000 });
    expect(use.use).toMatchObject({ record: { kind: 'coil', id: 'c', version: 1 }, cropsMm: 1000, restMm: 52_000 });
  });

  test.each([
    [301_000, 0],
    // 100.5 m of pipe are to come of 201 m made from 200 m of strip
    [200_500, 100_000],
    [100_000, 200_000],
    [0, 200_000],
  ])('with %i mm made, %i mm of strip are not formed yet, whichever end led', (madeMm, notYetFormedMm) => {
    expect(stripUse(coil, [segment()], 'here', madeMm).notYetFormedMm).toBeCloseTo(notYetFormedMm, 6);
    expect(stripUse(coil, [segment({ runs: 'tail-first' })], 'here', madeMm).notYetFormedMm).toBeCloseTo(notYetFormedMm, 6);
  });
});

test('elongation over all segments: 251000 / 250000, u = √(30² + 40² + 30² + 40²) / 250000', () => {
  const found = formingElongation([segment(), segment({ span: { fromMm: 301_000, toMm: 351_000 }, stripSpan: { fromMm: 0, toMm: 50_000 } })]);
  expect(found?.ratio).toBeCloseTo(1.004, 12);
  expect(found?.u).toBeCloseTo(Math.sqrt(5000) / 250_000, 12);
  expect(formingElongation([])).toBeNull();
});
