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
});
