import { describe, expect, test } from '@jest/globals';
import { charted, type ChartDesign } from '#libs/charting';
import type { RowPoint } from '../characteristics/chart-row.js';
import type { ChartPart } from './chart-part.js';
import { placedSignals } from './chart-signals.js';

const DESIGN: ChartDesign = { chart: 'long-term', rules: ['oneBeyond3Sigma', 'sevenOnOneSide'], lambda: null, width: null, k: null, h: null, batchSize: null, alpha: null };
const METRE_MM = 1_000;

/** Points of a metre each, in standard deviations from the mean; those of some places lie nowhere on the pipe. */
function part(values: readonly number[], { from = 0, unplaced = [] as readonly number[] } = {}): ChartPart {
  const points = values.map((value, index): RowPoint => ({
    values: [value], of: null, beginsAnew: false, readings: [], coil: null, label: `P${index}`, place: unplaced.includes(index) ? null : { fromMm: index * METRE_MM, toMm: (index + 1) * METRE_MM },
  }));
  const limits = { chart: 'long-term', mean: 0, sigma: 1 } as const;
  return { asked: { fromMm: from * METRE_MM, toMm: values.length * METRE_MM }, row: { points }, charted: charted(DESIGN, limits, points) } as unknown as ChartPart;
}

/** `rule at: pattern, watch` in metres. */
const shown = (of: ChartPart): string[] => placedSignals(of).map(({ rule, at, pattern, watch }) => `${rule} ${at.label}: ${metres(pattern)}, ${metres(watch)}`);
const metres = (place: { readonly fromMm: number; readonly toMm: number } | null): string => (place === null ? 'nowhere' : `${place.fromMm / METRE_MM}-${place.toMm / METRE_MM}`);

const UP = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5];

describe('pipe to watch', () => {
  test('goes from the last good point to the end of the pattern', () => {
    expect(shown(part([0.1, -0.1, 4, 0.1]))).toEqual(['oneBeyond3Sigma P2: 2-3, 2-3']);
    expect(shown(part([-0.1, ...UP, -0.1]))).toEqual(['sevenOnOneSide P7: 1-8, 1-8']);
  });

  test('goes back over points that are in other patterns', () => {
    expect(shown(part([-0.1, ...UP, 0.5, -4]))).toEqual(['sevenOnOneSide P7: 1-8, 1-8', 'sevenOnOneSide P8: 2-9, 1-9', 'oneBeyond3Sigma P9: 9-10, 1-10']);
  });

  test('begins with the row where nothing before it was good', () => {
    expect(shown(part([4, 4, 0.1]))).toEqual(['oneBeyond3Sigma P0: 0-1, 0-1', 'oneBeyond3Sigma P1: 1-2, 0-2']);
  });

  test('knows no place of what has none, and takes none of it for the end of good pipe', () => {
    expect(shown(part([0.1, -0.1, 4], { unplaced: [1] }))).toEqual(['oneBeyond3Sigma P2: 2-3, 1-3']);
    expect(shown(part([0.1, 4], { unplaced: [0, 1] }))).toEqual(['oneBeyond3Sigma P1: nowhere, nowhere']);
  });

  test('is told for points that are asked about, with the pattern that reaches into them', () => {
    expect(shown(part([-0.1, ...UP, 0.5, -0.1], { from: 8 }))).toEqual(['sevenOnOneSide P8: 2-9, 1-9']);
  });
});
