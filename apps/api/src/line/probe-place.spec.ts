import { describe, expect, test } from '@jest/globals';
import { netLengthMap } from '#libs/length';
import { ProbePlace } from './probe-place.js';

const record = { kind: 'cut-out', id: 'c', version: 1 };
const none = netLengthMap([]);
const cut = netLengthMap([{ record, fromMm: 4_000, toMm: 5_000, atUs: 0 }]);

describe('the place of a probe', () => {
  test('at the weld point it is over what is welded', () => {
    expect([new ProbePlace(none, 0, null).materialMm(7_000), new ProbePlace(none, 0, null).weldFootageMm(7_000)]).toEqual([7_000, 7_000]);
  });

  test('downstream it is over pipe made earlier, and further back by what was cut out between', () => {
    const probe = new ProbePlace(cut, 3_000, 's');
    expect([probe.materialMm(9_000), probe.weldFootageMm(6_000)]).toEqual([6_000, 9_000]);
    expect([probe.materialMm(7_500), probe.weldFootageMm(3_500)]).toEqual([3_500, 7_500]);
  });

  test('upstream it is over strip whose footage is still to come', () => {
    expect([new ProbePlace(cut, -2_000, 's').materialMm(9_000), new ProbePlace(cut, -2_000, 's').weldFootageMm(11_000)]).toEqual([11_000, 9_000]);
  });

  test('two are the same when nothing between them changed', () => {
    const others = [new ProbePlace(cut, 3_000, 's'), new ProbePlace(none, 3_000, 's'), new ProbePlace(cut, 2_999, 's'), new ProbePlace(cut, 3_000, 't')];
    expect(others.map((other) => new ProbePlace(cut, 3_000, 's').isAs(other))).toEqual([true, false, false, false]);
  });

  test('is straight between two footages unless a cut lies between, under the weld point or under the probe', () => {
    const probe = new ProbePlace(cut, 3_000, 's');
    // The weld point is over the cut from 4,000 to 5,000; the probe, 3,000 further on, when 8,000 are welded.
    expect([[0, 4_000], [5_000, 7_999], [8_001, 20_000]].map(([one, other]) => [probe.isStraight(one!, other!), probe.isStraight(other!, one!)])).toEqual([[true, true], [true, true], [true, true]]);
    expect([[3_999, 5_001], [7_999, 8_001], [0, 20_000]].map(([one, other]) => [probe.isStraight(one!, other!), probe.isStraight(other!, one!)])).toEqual([[false, false], [false, false], [false, false]]);
    for (let one = 0; one < 12_000; one += 250) {
      for (let other = one + 500; other < 12_000; other += 250) {
        if (!probe.isStraight(one, other)) continue;
        expect(probe.materialMm((one + other) / 2)).toBeCloseTo((probe.materialMm(one) + probe.materialMm(other)) / 2, 6);
      }
    }
  });
});
