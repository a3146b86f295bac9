import { expect, test } from '@jest/globals';
import { shownDistances } from './station-distances.js';

const stations = [
  { name: 'accumulator', role: null, path: { minMm: 1000, maxMm: 5000, uMm: 5 } },
  { name: 'clamp', role: 'hang-off' as const, path: { minMm: 18_000, maxMm: 18_000, uMm: 3 } },
];

test('± with k = 2 of station, weld point and scale; no distance below 0', () => {
  const distances = [
    { name: 'accumulator', bestMm: 1000, minMm: -1000, maxMm: 3000, uMm: 5 },
    { name: 'clamp', bestMm: 16_000.4, minMm: 16_000.4, maxMm: 16_000.4, uMm: 3 },
  ];
  // √(3² + 4² + (0.006 · 2000)²) = 13
  expect(shownDistances(distances, stations, { weldUMm: 4, scaleRelativeU: 0.006, pathMm: 2000 })).toEqual([
    { name: 'accumulator', isHangOff: false, bestMm: 1000, leastMm: 0, mostMm: 3000, plusMinusMm: 28 },
    { name: 'clamp', isHangOff: true, bestMm: 16_000, leastMm: 16_000, mostMm: 16_000, plusMinusMm: 26 },
  ]);
});
