import { describe, expect, test } from '@jest/globals';
import { gateOf, outsideMm, stripGate, UNKNOWN_RATIO } from './gate.js';

describe('a gate', () => {
  test('takes in the range and ± 2 u, rounded outwards', () => {
    expect(gateOf({ bestMm: 1_000, leastMm: 1_000, mostMm: 1_000, uMm: 0 })).toEqual({ bestMm: 1_000, span: { fromMm: 1_000, toMm: 1_001 } });
    expect(gateOf({ bestMm: 1_000.4, leastMm: 990.4, mostMm: 1_010.4, uMm: 0.3 })).toEqual({ bestMm: 1_000, span: { fromMm: 989, toMm: 1_012 } });
  });

  test('says by how much a place lies outside', () => {
    const gate = { bestMm: 105, span: { fromMm: 100, toMm: 111 } };
    expect([97, 100, 110, 113].map((place) => outsideMm(gate, place))).toEqual([-3, 0, 0, 3]);
  });
});

describe('the gate by strip length', () => {
  const exact = {
    beginMm: 100_000, uBeginMm: 0, beginWeldMm: 400, stripMm: 500_000, uStripMm: 0, forming: { ratio: 1, u: 0 }, endWeldMm: 400, scaleRelativeU: 0,
  };

  test('of exact figures is the millimetre', () => {
    expect(stripGate(exact)).toEqual({ bestMm: 600_000, span: { fromMm: 600_000, toMm: 600_001 } });
  });

  test('reaches from the middle of one weld to the middle of the next: 400/2 − 173/2 = 113.5', () => {
    expect(stripGate({ ...exact, endWeldMm: 173 }).span).toEqual({ fromMm: 600_113, toMm: 600_115 });
  });

  test('carries every input: 2 √(5² + (1.002 · 1250)² + (500 000 · 0.0005)² + (0.0005 · 501 000)²) = 2603.0', () => {
    const given = { ...exact, uBeginMm: 5, uStripMm: 1_250, forming: { ratio: 1.002, u: 0.0005 }, scaleRelativeU: 0.0005 };
    // √(25 + 1 568 756.25 + 62 500 + 62 750.25) = √1 694 031.5 = 1301.549…
    expect(stripGate(given)).toEqual({ bestMm: 601_000, span: { fromMm: 598_396, toMm: 603_605 } });
  });

  test('with nothing known of the forming is wide: 2 · 500 000 · 0.02/√3 = 11 547.0', () => {
    expect(stripGate({ ...exact, forming: UNKNOWN_RATIO }).span).toEqual({ fromMm: 588_452, toMm: 611_549 });
  });
});
