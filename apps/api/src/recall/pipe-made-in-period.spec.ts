import { expect, test } from '@jest/globals';
import { pipeMadeIn } from './pipe-made-in-period.js';

const period = {
  record: { kind: 'counter-period', id: 'p', version: 1 }, startReading: 100, startFootageMm: 5000, scaleMmPerCount: 2, scaleRelativeU: 0.001,
};

test('from its start to the greatest reading, a reversal taking nothing back; s times what was counted in doubt', () => {
  expect(pipeMadeIn(period, [100, 5100, 4900], null)).toEqual({ fromMm: 5000, toMm: 15_000, uFromMm: 0, uToMm: 10 });
});

test('to where the next period begins, when that is further than anyone read', () => {
  expect(pipeMadeIn(period, [1100], 9000)?.toMm).toBe(9000);
});

test('nothing was made where nothing was counted', () => {
  expect(pipeMadeIn(period, [], null)).toBeNull();
  expect(pipeMadeIn(period, [100, 90], 5000)).toBeNull();
});
