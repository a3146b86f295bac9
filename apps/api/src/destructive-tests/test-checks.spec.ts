import { describe, expect, test } from '@jest/globals';
import { checkFindings } from './destructive-test.rules.js';
import { testChecks } from './test-checks.js';
import { testContentFaults, type FlatteningContent, type TestContent } from './test-content.js';

const NOTHING: TestContent = { flattening: null, flaring: null, reverseBend: null, reverseFlattening: null };
const FLATTENED: FlatteningContent = {
  outsideDiameterMm: '100', wallThicknessMm: '10', flattenedOn: 'tube-end', pieceLengthMm: null, cutDepthMm: '80', plateWidthMm: '160', plateDistanceMm: null,
  seamPositionDeg: '90', constant: { constant: '1', steel: 'soft', source: 'clause' }, cracks: null,
};
const flattened = (changes: Partial<FlatteningContent>): TestContent => ({ ...NOTHING, flattening: { ...FLATTENED, ...changes } });
const named = (content: TestContent, name: string) => testChecks('flattening', content).find((check) => check.name === name);

describe('the checks of a flattening', () => {
  test('on the end of a tube are of the cut, not of a piece', () => {
    expect(named(flattened({}), 'cut depth')).toMatchObject({ field: 'flattening.cutDepthMm', outcome: 'met', demanded: 'at least 0.8 D = 80 mm' });
    expect(named(flattened({ cutDepthMm: '79.9' }), 'cut depth')).toMatchObject({ outcome: 'not met' });
    expect(named(flattened({}), 'piece length')).toBeUndefined();
  });

  test('say where the walls meet before the plates are as near as is demanded', () => {
    // H = 2 · 10 / (1 + 0.1) = 18.18 mm, less than 2 t = 20 mm.
    expect(named(flattened({}), 'plate distance')).toMatchObject({ outcome: 'not computable', because: expect.stringMatching(/not recorded; H = .*the insides touch before/) });
    expect(named(flattened({ plateDistanceMm: '20' }), 'plate distance')).toMatchObject({ outcome: 'not met', isOwnLimit: true, because: expect.stringContaining('the insides touch before') });
  });

  test('tell cracks one by one, each by the unit it was read in', () => {
    const cracks = [{ length: '0.125', unit: 'in', place: 'elsewhere' }, { length: '3.21', unit: 'mm', place: 'edge' }, { length: '0.126', unit: 'in', place: 'elsewhere' }] as const;
    expect(named(flattened({ cracks }), 'cracks')).toMatchObject({ outcome: 'not met', found: '3, of which 1 rejected', because: expect.stringMatching(/^accepted: .*; ignored: .*; rejected: 0\.126 in/) });
    expect(named(flattened({ cracks: [] }), 'cracks')).toMatchObject({ outcome: 'met', found: 'none', because: 'looked for, and none found' });
  });

  test('leave marks no longer than a mark can be, cut between characters', () => {
    const sources = ['x'.repeat(200), `x${'🜂'.repeat(99)}`, `xx${'🜂'.repeat(99)}`];
    for (const source of sources) {
      const [mark] = checkFindings('fail', testChecks('flattening', flattened({ plateDistanceMm: '99', constant: { constant: '0.100000001', steel: 'y'.repeat(60), source } })));
      expect(mark).toMatchObject({ field: 'flattening.plateDistanceMm', value: '99 mm', limit: expect.stringMatching(/^plate distance: at most .* …$/u) });
      expect([mark!.limit.length, mark!.limit.isWellFormed()]).toEqual([300, true]);
    }
  });
});

describe('what contradicts itself', () => {
  const fields = (content: TestContent): string[] => testContentFaults('flattening', content).map(({ field }) => field);

  test('a bore there is not, plates nearer than the wall or further than the tube, a piece and a cut at once', () => {
    expect(fields(flattened({}))).toEqual([]);
    expect(fields(flattened({ wallThicknessMm: '49.999999999' }))).toEqual([]);
    expect(fields(flattened({ wallThicknessMm: '50' }))).toEqual(['flattening.wallThicknessMm']);
    expect(['10', '10.000000001', '100', '100.000000001'].map((plateDistanceMm) => fields(flattened({ plateDistanceMm })).length)).toEqual([1, 0, 0, 1]);
    expect(fields(flattened({ pieceLengthMm: '50' }))).toEqual(['flattening.pieceLengthMm']);
    expect(fields(flattened({ flattenedOn: 'piece' }))).toEqual(['flattening.cutDepthMm']);
  });
});
