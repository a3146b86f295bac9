import { describe, expect, test } from '@jest/globals';
import { CellLine, type SimulatedCoil } from './line-cells.reference.js';
import { simulateRandomString, type MomentTruth, type SimulatedString } from './line-simulation.reference.js';
import { truthOf } from './line-truth.reference.js';

interface Example {
  name: string;
  lineMm: number;
  hangOffFootageMm: number;
  endFootageMm: number;
  ratio: number;
  coilEndsMm: number[];
  cutOuts: { fromMm: number; toMm: number; atFootageMm: number }[];
  shoeMdMm: number;
  outer: [string, number, number][];
  inner: [string, number, number][];
}

// Worked examples A, B and C of the length model's design, made there by a separate particle simulation that turned
// whole 10 mm cells; no published source.
const EXAMPLES: Example[] = [
  {
    name: 'A: no cut-out, ratio 1',
    lineMm: 18_000,
    hangOffFootageMm: 2840,
    endFootageMm: 140_840,
    ratio: 1,
    coilEndsMm: [63_080, 100_840, 161_170],
    cutOuts: [],
    shoeMdMm: 62_500,
    outer: [['C001', 2500, 62_500]],
    inner: [
      ['C003', 2500, 24_500],
      ['C002', 24_500, 62_260],
      ['C001', 62_260, 62_500],
    ],
  },
  {
    name: 'B: two cut-outs, ratio 1',
    lineMm: 30_000,
    hangOffFootageMm: 2100,
    endFootageMm: 213_440,
    ratio: 1,
    coilEndsMm: [34_710, 104_030, 169_390, 217_860, 253_980],
    cutOuts: [
      { fromMm: 58_090, toMm: 58_660, atFootageMm: 82_100 },
      { fromMm: 124_540, toMm: 125_310, atFootageMm: 142_950 },
    ],
    shoeMdMm: 92_500,
    outer: [
      ['C001', 2500, 35_110],
      ['C002', 35_110, 92_500],
    ],
    inner: [
      ['C004', 2500, 16_550],
      ['C003', 16_550, 81_140],
      ['C002', 81_140, 92_500],
    ],
  },
  {
    name: 'C: two cut-outs, ratio 0.97',
    lineMm: 26_000,
    hangOffFootageMm: 1780,
    endFootageMm: 231_340,
    ratio: 0.97,
    coilEndsMm: [26_280, 64_240, 137_200, 212_710, 252_620],
    cutOuts: [
      { fromMm: 33_570, toMm: 33_810, atFootageMm: 59_230 },
      { fromMm: 52_430, toMm: 52_640, atFootageMm: 76_290 },
    ],
    shoeMdMm: 102_507,
    outer: [
      ['C001', 2500, 26_265],
      ['C002', 26_265, 62_649.7],
      ['C003', 62_649.7, 102_507],
    ],
    inner: [
      ['C004', 2500, 70_637],
      ['C003', 70_637, 102_507],
    ],
  },
];
const HANG_OFF_MD_MM = 2500;

type Closing = 'closeGapByMill' | 'closeGapByDrawingBack';

function playExample(example: Example, turnsWholeCells: boolean, closing: Closing): MomentTruth {
  const { coilEndsMm, lineMm, ratio } = example;
  const coils = coilEndsMm.map((toMm, index): SimulatedCoil => {
    const fromMm = coilEndsMm[index - 1] ?? 0;
    return { name: `C00${index + 1}`, fromMm, toMm, stripFromMm: 0, stripToMm: toMm - fromMm, headFirst: true };
  });
  const pipe = new CellLine({ cellMm: 10, lineMm, ratio, coils, turnsWholeCells });
  const makeTo = (footageMm: number): void => {
    while (pipe.weldFootageMm < footageMm) pipe.advance();
  };
  makeTo(example.hangOffFootageMm + lineMm);
  expect(pipe.hangOff()).toBe(example.hangOffFootageMm);
  for (const cut of example.cutOuts) {
    makeTo(cut.atFootageMm);
    pipe.takeOut(cut.fromMm, cut.toMm);
    pipe[closing]();
  }
  makeTo(example.endFootageMm);
  return truthOf(pipe, HANG_OFF_MD_MM, '2031-01-01T00:00:00.000Z');
}

function expectWalls(truth: MomentTruth, example: Example, toleranceMm: number): void {
  const expected = [...example.outer, ...example.inner];
  const found = [...truth.outer, ...truth.inner];
  expect(found.map(({ coil }) => coil)).toEqual(expected.map(([coil]) => coil));
  const boundaries = found.flatMap(({ fromMdMm, toMdMm }) => [fromMdMm, toMdMm]);
  const worstMm = Math.max(
    Math.abs(truth.shoeMdMm - example.shoeMdMm),
    ...expected.flatMap(([, fromMm, toMm]) => [fromMm, toMm]).map((mm, index) => Math.abs(mm - boundaries[index]!)),
  );
  expect(worstMm).toBeLessThan(toleranceMm);
}

describe('the worked examples, cell by cell', () => {
  test.each(EXAMPLES)('$name: whole cells turned, as in the example', (example) => {
    expectWalls(playExample(example, true, 'closeGapByMill'), example, 0.051);
  });

  test.each(EXAMPLES)('$name: cells turned little by little agree within one cell', (example) => {
    expectWalls(playExample(example, false, 'closeGapByMill'), example, 10);
  });

  test.each(EXAMPLES)('$name: it does not matter which end closes the gap', (example) => {
    const byMill = playExample(example, false, 'closeGapByMill');
    const byDrawingBack = playExample(example, false, 'closeGapByDrawingBack');
    expect(byDrawingBack.weldFootageMm).toBe(byMill.weldFootageMm);
    expect(byDrawingBack.shoeMdMm).toBeCloseTo(byMill.shoeMdMm, 5);
    expect(byDrawingBack.line).toEqual(byMill.line);
  });
});

const STRINGS = Array.from({ length: 30 }, (_, index) => simulateRandomString(index + 1));
const WITH_CHANGING_RATIO = Array.from({ length: 10 }, (_, index) =>
  simulateRandomString(1000 + index, { ratioChangesAtTies: true, ties: 3, cutOuts: 3, reversals: 2, resets: 2 }),
);
const ALL = [...STRINGS, ...WITH_CHANGING_RATIO];
const SEEDS = ALL.map(({ seed }) => seed);
const stringOf = (seed: number): SimulatedString => ALL.find((string) => string.seed === seed)!;
const momentsOf = (string: SimulatedString): MomentTruth[] => [...string.intermediate, string.end];

const NEAR_MM = 1e-4;
const worstOf = (valuesMm: number[]): number => valuesMm.reduce((worst, mm) => Math.max(worst, mm), 0);
const lengthOf = (runs: { fromMdMm: number; toMdMm: number }[]): number =>
  runs.reduce((sum, run) => sum + run.toMdMm - run.fromMdMm, 0);

describe('every cell is accounted for exactly once', () => {
  test.each(SEEDS)('string %i: pieces join without gap or overlap, from the first metre to the weld point', (seed) => {
    const string = stringOf(seed);
    for (const { pieces, weldFootageMm } of momentsOf(string)) {
      const gapsMm = pieces.map((piece, index) => Math.abs(piece.fromFootage - (pieces[index - 1]?.toFootage ?? 0)));
      expect(worstOf(gapsMm)).toBeLessThan(NEAR_MM);
      expect(pieces.every((piece) => piece.toFootage > piece.fromFootage)).toBe(true);
      expect(pieces.at(-1)!.toFootage).toBe(weldFootageMm);
    }
  });

  test.each(SEEDS)('string %i: line and walls have the lengths they must have', (seed) => {
    const string = stringOf(seed);
    for (const truth of momentsOf(string)) {
      const lineMm = truth.line.reduce((sum, run) => sum + run.toFootage - run.fromFootage, 0);
      const depthMm = truth.shoeMdMm - string.inputs.hangOff.mdMm;
      expect(lineMm).toBe(string.inputs.lineMm);
      expect(depthMm).toBeGreaterThan(0);
      expect(Math.abs(lengthOf(truth.inner) - depthMm)).toBeLessThan(NEAR_MM);
      expect(Math.abs(lengthOf(truth.outer) - depthMm)).toBeLessThan(NEAR_MM);
    }
  });

  test.each(SEEDS)('string %i: what was taken out is what was cut out by then', (seed) => {
    const string = stringOf(seed);
    for (const truth of momentsOf(string)) {
      const cuts = string.inputs.cutOuts.filter((cut) => cut.at <= truth.at);
      const removedMm = truth.cutOut.reduce((sum, run) => sum + run.toFootage - run.fromFootage, 0);
      expect(removedMm).toBe(cuts.reduce((sum, cut) => sum + cut.toMm - cut.fromMm, 0));
      for (const cut of cuts) expect(truth.placeOfFootage(cut.toMm - 1)).toEqual({ kind: 'cut-out' });
    }
  });

  test.each(SEEDS)('string %i: outer wall does not change once it is made', (seed) => {
    const string = stringOf(seed);
    const [first] = string.intermediate;
    const movesMm = first.pieces
      .filter(({ kind }) => kind === 'outer-wall')
      .map((piece) => {
        const later = string.placeOfFootage(piece.fromFootage);
        return later.kind === 'outer-wall' ? Math.abs(later.mdMm - piece.startMm) : Number.POSITIVE_INFINITY;
      });
    expect(movesMm.length).toBeGreaterThan(100);
    expect(worstOf(movesMm)).toBeLessThan(NEAR_MM);
  });
});

describe('what a user would enter', () => {
  test.each(SEEDS)('string %i: times rise strictly, and every event has a reading', (seed) => {
    const { inputs, intermediate, end } = stringOf(seed);
    const times = inputs.readings.map(({ at }) => at);
    expect(times).toEqual([...new Set(times)].sort());
    const events = [inputs.hangOff, ...inputs.cutOuts, ...inputs.shoeTies, ...intermediate, end].map(({ at }) => at);
    const starts = inputs.counterPeriods.map(({ startedAt }) => startedAt);
    expect([...events, ...starts].filter((at) => !times.includes(at))).toEqual([]);
  });

  test.each(SEEDS)('string %i: readings lead back to the footage made, across resets', (seed) => {
    const string = stringOf(seed);
    const { counterPeriods, readings } = string.inputs;
    let startMm = 0;
    const footageAt = new Map<string, number>();
    counterPeriods.forEach((period, index) => {
      const before = counterPeriods[index - 1];
      if (before === undefined) startMm = period.startFootageMm!;
      else startMm += (Number(period.previousEndReading) - Number(before.startReading)) * Number(before.scaleMmPerCount);
      for (const { at, reading } of readings.filter((read) => read.period === index)) {
        footageAt.set(at, startMm + (Number(reading) - Number(period.startReading)) * Number(period.scaleMmPerCount));
      }
    });
    for (const { at, weldFootageMm } of momentsOf(string)) {
      expect(Math.abs(footageAt.get(at)! - weldFootageMm)).toBeLessThan(0.01);
    }
  });

  test.each(SEEDS)('string %i: coils follow one another, and the strip of a coil edge is its strip edge', (seed) => {
    const string = stringOf(seed);
    const { coils } = string.inputs;
    coils.forEach((coil, index) => {
      expect(coil.fromMm).toBe(coils[index - 1]?.toMm ?? 0);
      const first = string.stripOfFootage(coil.fromMm);
      if (first === undefined) return;
      expect(first.coil).toBe(coil.name);
      expect(first.stripMm).toBe(coil.headFirst ? coil.stripFromMm : coil.stripToMm);
      const last = string.stripOfFootage(coil.toMm - 1);
      if (last === undefined) return;
      const stripEndMm = coil.headFirst ? coil.stripToMm : coil.stripFromMm;
      expect(Math.abs(last.stripMm - stripEndMm)).toBeLessThan(1.05);
    });
  });
});

describe('the simulation as a whole', () => {
  test('the same seed gives the same string, another seed another', () => {
    const [text, again, other] = [7, 7, 8].map((seed) => JSON.stringify(simulateRandomString(seed)));
    expect(again).toBe(text);
    expect(other).not.toBe(text);
  });

  test('cell size does not change the truth', () => {
    const fixed = { ratio: 0.96, cutOuts: 2, ties: 0, reversals: 1, lengthMm: 60_000 };
    const [coarse, fine] = ([10, 5] as const).map((cellMm) => simulateRandomString(21, { ...fixed, cellMm }));
    expect(fine!.end.weldFootageMm).toBe(coarse!.end.weldFootageMm);
    expect(fine!.end.shoeMdMm).toBeCloseTo(coarse!.end.shoeMdMm, 4);
  });

  test('the seeds reach every case', () => {
    const count = (has: (string: SimulatedString) => boolean): number => STRINGS.filter(has).length;
    expect(count(({ inputs }) => inputs.cutOuts.length === 0)).toBeGreaterThan(2);
    expect(count(({ inputs }) => inputs.cutOuts.length === 3)).toBeGreaterThan(2);
    expect(count(({ inputs }) => inputs.cutOuts.some((cut) => cut.at < inputs.hangOff.at))).toBeGreaterThan(0);
    expect(count(({ inputs }) => inputs.cutOuts.some((cut) => cut.gapClosing === 'drawn-back'))).toBeGreaterThan(2);
    expect(count(({ inputs }) => inputs.counterPeriods.length === 3)).toBeGreaterThan(2);
    expect(count(({ inputs }) => inputs.counterPeriods.some((period) => period.mistakenScale !== undefined))).toBeGreaterThan(2);
    expect(count(({ inputs }) => inputs.shoeTies.length === 3)).toBeGreaterThan(2);
    expect(count(({ inputs }) => inputs.defaultRatio === 1)).toBeGreaterThan(2);
    expect(count(({ inputs }) => inputs.defaultRatio !== 1)).toBeGreaterThan(2);
  });
});
