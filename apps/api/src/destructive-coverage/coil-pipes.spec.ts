import { describe, expect, test } from '@jest/globals';
import { representedIntervals } from '#libs/tube-tests';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import { coilPipes, stretchAtCoilEnd } from './coil-pipes.js';
import { layoutOf } from './sample-places.js';

const NUMBERS = new Map([['a', 'LM-01'], ['b', 'LM-02']]);

const segment = (coilId: string, [fromMm, toMm]: [number, number], strip: [number, number], runs: string, observedAt = '2026-03-02T08:15:00.000000Z'): CoilSegmentVersion =>
  ({ coilId, span: { fromMm, toMm }, stripSpan: { fromMm: strip[0], toMm: strip[1] }, runs, observedAt }) as CoilSegmentVersion;

describe('the pipe of coils', () => {
  test('entries that meet on pipe and strip are one length; a part of the strip left out, or another coil between, parts them', () => {
    const stretches = coilPipes([
      segment('a', [0, 100], [0, 100], 'head-first'), segment('a', [100, 200], [100, 200], 'head-first'), segment('a', [200, 300], [250, 350], 'head-first'),
      segment('b', [300, 400], [100, 200], 'tail-first'), segment('b', [400, 500], [0, 100], 'tail-first'), segment('a', [500, 600], [350, 450], 'head-first'),
    ], NUMBERS);
    expect(stretches.map(({ name, pipe: { fromMm, toMm }, strip }) => [name, fromMm, toMm, strip.fromMm, strip.toMm])).toEqual([
      ['LM-01 from 0 mm', 0, 200, 0, 200], ['LM-01 from 200 mm', 200, 300, 250, 350], ['LM-02', 300, 500, 0, 200], ['LM-01 from 500 mm', 500, 600, 350, 450],
    ]);
  });

  test('is laid out though a coil\'s number reads like the name of another\'s stretch', () => {
    const stretches = coilPipes([
      segment('a', [0, 100], [0, 100], 'head-first'), segment('a', [200, 300], [150, 250], 'head-first'), segment('b', [300, 400], [0, 100], 'head-first'),
    ], new Map([['a', 'ZZ'], ['b', 'ZZ from 200 mm']]));
    const { tests: [found] } = representedIntervals(layoutOf(stretches, []), [{ test: 'flattening', rules: [{ rule: 'coil-ends' }] }], []);
    expect(found?.unsampledEnds.map(({ words }) => words).slice(2)).toEqual([
      'no sample at the first end of coil ZZ from 200 mm, at 200 mm', 'no sample at the last end of coil ZZ from 200 mm, at 300 mm',
      'no sample at the first end of coil ZZ from 200 mm, at 300 mm', 'no sample at the last end of coil ZZ from 200 mm, at 400 mm',
    ]);
  });

  test('pipe of one length was made when the first of its entries was, whichever stands first', () => {
    const [early, late] = ['2026-03-01T22:00:00.000000Z', '2026-03-02T06:00:00.000000Z'];
    const madeAt = (first: string, second: string): unknown[] =>
      coilPipes([segment('a', [0, 100], [0, 100], 'head-first', first), segment('a', [100, 200], [100, 200], 'head-first', second)], NUMBERS).map((one) => one.madeAt);
    expect([madeAt(early, late), madeAt(late, early)]).toEqual([[early], [early]]);
  });

  test('the ends of a coil are those of its strip, whichever way it ran', () => {
    const stretches = coilPipes([
      segment('a', [0, 100], [200, 300], 'tail-first'), segment('b', [100, 200], [0, 100], 'head-first'), segment('a', [200, 300], [0, 100], 'tail-first'),
    ], NUMBERS);
    const at = (coilId: string, end: 'head' | 'tail'): unknown => {
      const found = stretchAtCoilEnd(stretches, coilId, end);
      return found && [found.stretch.pipe.fromMm, found.end];
    };
    expect([at('a', 'head'), at('a', 'tail'), at('b', 'head'), at('b', 'tail'), at('c', 'head')]).toEqual([[200, 'to'], [0, 'from'], [100, 'from'], [100, 'to'], null]);
  });
});
