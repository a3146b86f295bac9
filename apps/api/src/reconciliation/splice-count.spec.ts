import { expect, test } from '@jest/globals';
import { countSplices } from './splice-count.js';

const run = (coilId: string, fromMm: number, toMm: number): { coilId: string; span: { fromMm: number; toMm: number } } =>
  ({ coilId, span: { fromMm, toMm } });
const splice = (id: string, leavingCoilId: string, enteringCoilId: string): { id: string; leavingCoilId: string; enteringCoilId: string } =>
  ({ id, leavingCoilId, enteringCoilId });
const three = [run('a', 0, 100), run('b', 100, 150), run('b', 150, 200), run('c', 200, 300)];

test('three coils, the second in two segments, are joined by two splices', () => {
  const counted = countSplices(three, [splice('s1', 'a', 'b'), splice('s2', 'b', 'c')]);
  expect(counted).toEqual({ coils: 3, splices: 2, agrees: true, withoutSplice: [], withoutJointIds: [] });
});

test('a splice missed, and one of coils that never met: the count agrees, the names do not', () => {
  expect(countSplices(three, [splice('s1', 'a', 'b'), splice('s2', 'a', 'c')])).toEqual({
    coils: 3, splices: 2, agrees: true, withoutSplice: [{ footageMm: 200, leavingCoilId: 'b', enteringCoilId: 'c' }], withoutJointIds: ['s2'],
  });
});

test('a string without pipe has no coils and no splices', () => {
  expect(countSplices([], [])).toMatchObject({ coils: 0, agrees: true });
  expect(countSplices([run('a', 0, 100)], [splice('s1', 'a', 'b')])).toMatchObject({ coils: 1, agrees: false, withoutJointIds: ['s1'] });
});
