import { describe, expect, test } from '@jest/globals';
import { attribute, boxesOf, collisionsOf, type DrawnSvg, drawnSvg, words } from '../strip-chart/drawn-svg.reference.js';
import { INK_COLOURS } from '../strip-chart/shapes.js';
import { pointsOf, type ReadElement } from '../strip-chart/svg-reader.reference.js';
import { drawControlChartSvg } from './control-chart-svg.js';
import { crowdedControlChart, fullControlChart, oneControlChart, onePanel, onePoint, oneSignals, orderedChart, scattered, tightControlChart } from './control-chart.factory.js';
import type { ControlChartPicture, PicturePanel, PicturePoint } from './control-chart-data.js';

const PLOT = { leftPx: 15.5 * 12, widthPx: 800 };
const xOf = (mm: number): number => PLOT.leftPx + (mm / 100_000) * PLOT.widthPx;
const drawn = (picture: ControlChartPicture): DrawnSvg => drawnSvg(drawControlChartSvg(picture));
const withPanel = (changes: Partial<PicturePanel>, more: Partial<ControlChartPicture> = {}): DrawnSvg => drawn(oneControlChart({ panels: [onePanel(changes)], ...more }));
const said = (chart: DrawnSvg): string => words(chart).join(' ');

const penOf = ({ attributes }: ReadElement): string =>
  [attributes.get('stroke') ?? 'none', attributes.get('stroke-width') ?? '', attributes.get('stroke-dasharray') ?? 'whole'].join(' ');
const inPlot = (points: readonly (readonly [number, number])[]): boolean => points.every(([x]) => x >= PLOT.leftPx - 0.01 && x <= PLOT.leftPx + PLOT.widthPx + 0.01);
/** Lines of a pen that lie in the plot; the pen as `colour width dash`. */
const linesOf = ({ all }: DrawnSvg, pen: string): [number, number][][] =>
  all.filter((element) => element.name === 'path' && penOf(element) === pen).flatMap(({ attributes }) => pointsOf(attributes.get('d') ?? '')).filter(inPlot);
const LIMIT = '#000000 1.3 5';
const CENTRE = '#000000 0.6 whole';
const ZONE = '#555555 0.5 1.5';
const WALL = '#000000 2.6 whole';
const ROW = '#000000 0.8 whole';

/** Where squares of signals stand, but for the one in the key. */
const squaresOf = ({ all, texts }: DrawnSvg): [number, number][] => {
  const keyPx = Math.min(...texts.filter(({ text }) => text === 'point').map((element) => attribute(element, 'y'))) - 12;
  return all.filter((element) => element.attributes.get('fill') === '#000000' && penOf(element) === '#ffffff 0.8 whole').map(({ attributes }) => pointsOf(attributes.get('d') ?? '')[0] ?? [])
    .map((points): [number, number] => [(points[0]![0] + points[2]![0]) / 2, (points[0]![1] + points[2]![1]) / 2]).filter((centre) => inPlot([centre]) && centre[1] < keyPx);
};
const yOfTick = ({ texts }: DrawnSvg, value: string): number =>
  texts.filter(({ text, attributes }) => text === value && attributes.get('text-anchor') === 'end').map((element) => attribute(element, 'y') - 0.34 * 12)[0] ?? NaN;

describe('the document', () => {
  test('is well-formed and 1,200 wide, with a title and all of it in words, and nothing that runs or leads away', () => {
    const { root, all } = drawn(fullControlChart());
    expect(root.attributes.get('width')).toBe('1200');
    expect(root.children[0]?.text).toBe('Control chart S-1, bead height after trimming');
    for (const part of [
      'Control chart of footage 1,204.310 to 1,804.310 m. 3 signals · 1 warning · watch 129 m.', 'means in mm: 60 points, centre 5.620, lower limit 5.511, upper limit 5.729, upper specification 5.85.',
      'Signal E3: Means, at footage 1,714.310', 'E: 8 points in a row on one side', 'Warning: Coil LM-09',
    ]) expect(root.children[1]?.text).toContain(part);
    expect([...new Set(all.map(({ name }) => name))].sort()).toEqual(['desc', 'g', 'path', 'rect', 'svg', 'text', 'title']);
    expect(all.flatMap(({ attributes }) => [...attributes.keys()]).filter((name) => /^on|href|style|class/.test(name))).toEqual([]);
  });

  test('is the same, byte for byte, when drawn again, and changes with a value', () => {
    expect(drawControlChartSvg(fullControlChart())).toBe(drawControlChartSvg(fullControlChart()));
    const points = onePanel().points.map((point, at) => (at === 4 ? { ...point, value: 9.6 } : point));
    expect(drawControlChartSvg(oneControlChart({ panels: [onePanel({ points })] }))).not.toBe(drawControlChartSvg(oneControlChart()));
  });

  test.each([
    ['full', fullControlChart()], ['of a thousand points', fullControlChart(1_000)], ['crowded', crowdedControlChart()], ['of no point', oneControlChart({ panels: [onePanel({ points: [] })] })],
    ['with more beside it than it is high', tightControlChart()],
    ['in an order', orderedChart(Array.from({ length: 300 }, (_, at) => `coil ${at} of a very long name`), scattered(300, 3).map((value, at) => onePoint(at, value, { toMm: at + 1 })))],
  ])('%s lets no text lie on another or be cut off', (_name, picture) => {
    const chart = drawn(picture);
    expect(collisionsOf(chart)).toEqual([]);
    const [width, height] = [attribute(chart.root, 'width') - 28, attribute(chart.root, 'height') - 28];
    for (const { left, right, top, bottom } of boxesOf(chart)) {
      expect(left).toBeGreaterThanOrEqual(-0.01);
      expect(right).toBeLessThanOrEqual(width + 0.01);
      expect(top).toBeGreaterThanOrEqual(0);
      expect(bottom).toBeLessThanOrEqual(height);
    }
  });
});

describe('points', () => {
  test('stand where they are on the pipe and on the scale, joined until something else began', () => {
    const chart = withPanel({ points: [onePoint(10_000, 9), onePoint(30_000, 11), onePoint(50_000, 9, { beginsAnew: true }), onePoint(70_000, 11)] });
    const [nine, eleven] = [yOfTick(chart, '9'), yOfTick(chart, '11')];
    const lines = linesOf(chart, ROW).filter((points) => points.length === 2 && points[0]![1] !== points[1]![1]);
    expect(lines).toHaveLength(2);
    lines.forEach((line, at) => {
      expect(line.map(([x]) => x)).toEqual([xOf(10_500 + at * 40_000), xOf(30_500 + at * 40_000)]);
      expect(line[0]![1]).toBeCloseTo(nine, 0);
      expect(line[1]![1]).toBeCloseTo(eleven, 0);
    });
  });

  test('that the limits were taken without are open and crossed, and have the number of the reason under the plot', () => {
    const points = [onePoint(10_000, 9, { leftOut: 'the line stood' }), onePoint(40_000, 11, { leftOut: 'a splice' }), onePoint(70_000, 9, { leftOut: 'the line stood' })];
    const chart = withPanel({ points });
    const plates = chart.texts.filter(({ text }) => /^\(\d\)$/.test(text));
    expect(plates.map((element) => [element.text, attribute(element, 'x')])).toEqual([['(1)', xOf(10_500)], ['(2)', xOf(40_500)], ['(1)', xOf(70_500)]]);
    expect(said(chart)).toContain('(1) Limits were taken without 2 points, the line stood: 10.000 to 11.000 m; 70.000 to 71.000 m.');
    const open = (picture: DrawnSvg): number => picture.all.filter((element) => element.attributes.get('fill') === '#ffffff' && penOf(element) === '#000000 0.9 whole' && inPlot(pointsOf(element.attributes.get('d') ?? '')[0] ?? [])).length;
    expect([open(chart), open(drawn(oneControlChart()))]).toEqual([3, 0]);
  });
});

describe('signals', () => {
  test('stand at their points as squares, under the letter of their rule and their number, and in the list', () => {
    const signals = [...oneSignals(1), { number: 2, rule: 'eightOnOneSide' as const, text: 'Means, coil LM-09. Not answered.' }];
    const chart = withPanel({ points: [onePoint(20_000, 14, { signals: [1] }), onePoint(60_000, 11, { signals: [2] }), onePoint(80_000, 10)] }, { signals });
    expect(squaresOf(chart).map(([x]) => x)).toEqual([xOf(20_500), xOf(60_500)]);
    const plates = chart.texts.filter(({ text }) => text === 'A1' || text === 'E2');
    expect(plates.map(({ text }) => text)).toEqual(['A1', 'E2', 'A1', 'E2']);
    expect(plates.slice(0, 2).map((element) => attribute(element, 'x'))).toEqual([xOf(20_500), xOf(60_500)]);
    for (const part of ['2 signals', 'Means, point 1. Not answered.', 'Means, coil LM-09. Not answered.', 'A: 1 point beyond 3 standard deviations. E: 8 points in a row on one side of the centre line.']) expect(said(chart)).toContain(part);
  });

  test('off the chart are listed as such, and none is said where there is none', () => {
    expect(said(withPanel({}, { signals: oneSignals(1) }))).toContain('Means, point 1. Not answered. (off this chart)');
    expect(words(withPanel({}))).toContain('no signal');
  });

  test('are all drawn among more points than there are pixels, and all named, however flat the line is there', () => {
    const [count, every] = [20_000, 200];
    const points = scattered(count, 11).map((value, at): PicturePoint => {
      const isSignal = at % every === 100;
      return onePoint(at * 5, isSignal ? 10 : 10 + value, { toMm: at * 5 + 5, signals: isSignal ? [(at - 100) / every + 1] : [] });
    });
    const chart = withPanel({ points }, { signals: oneSignals(count / every) });
    const squares = squaresOf(chart);
    expect(squares.map(([x]) => Math.round(x * 10) / 10)).toEqual(Array.from({ length: 100 }, (_, index) => Math.round(xOf((index * every + 100) * 5 + 2.5) * 10) / 10));
    const tenPx = yOfTick(chart, '10');
    for (const [, y] of squares) expect(y).toBeCloseTo(tenPx, 0);
    const named = chart.texts.slice(0, chart.texts.findIndex(({ text }) => text === 'Signals')).flatMap(({ text }) => {
      const [, from, to = from] = /^A(\d+)(?:–A?(\d+))?$/.exec(text) ?? [];
      return from === undefined ? [] : Array.from({ length: Number(to) - Number(from) + 1 }, (_, at) => Number(from) + at);
    });
    expect(named).toEqual(Array.from({ length: 100 }, (_, index) => index + 1));
    const longest = Math.max(...linesOf(chart, ROW).map((line) => line.length));
    expect(longest).toBeGreaterThan(PLOT.widthPx);
    expect(longest).toBeLessThanOrEqual(4 * (PLOT.widthPx + 1));
  });
});

describe('what points are held against', () => {
  test('is told by its pen alone, in black and white: control limits, centre, zones and specification', () => {
    const chart = withPanel({ hasZones: true, specification: { lower: '6.5', upper: '13.5' } });
    // A copy in black and white keeps what is darker than half.
    const isKept = (colour: string): boolean => parseInt(colour.slice(1, 3), 16) < 128;
    const level = (pen: string): number => linesOf(chart, pen).filter((points) => points.at(-1)![0] - points[0]![0] > PLOT.widthPx / 2 && points.every(([, y]) => y === points[0]![1])).length;
    const pens = [LIMIT, CENTRE, ZONE, WALL];
    expect(pens.map(level)).toEqual([2, 1, 4, 2]);
    for (const pen of pens) expect(isKept(pen)).toBe(true);
    expect(new Set(pens.map((pen) => pen.split(' ').slice(1).join(' '))).size).toBe(4);
    expect(Object.values(INK_COLOURS).filter(isKept)).toEqual(['#000000', '#555555']);
  });

  test('beyond the specification it is hatched, and beyond control limits it is not', () => {
    const hatchedAt = (chart: DrawnSvg): number[] => chart.all.filter(({ attributes }) => (attributes.get('d')?.match(/M/g)?.length ?? 0) > 20).flatMap(({ attributes }) => pointsOf(attributes.get('d') ?? '').filter(inPlot).flat().map(([, y]) => y));
    const chart = withPanel({ specification: { lower: null, upper: '13.5' } });
    const wallPx = linesOf(chart, WALL)[0]![0]![1];
    const limitsPx = linesOf(chart, LIMIT).map((line) => line[0]![1]);
    const hatching = hatchedAt(chart);
    expect(hatching.length).toBeGreaterThan(40);
    expect(Math.max(...hatching)).toBeLessThanOrEqual(wallPx + 0.01);
    for (const limitPx of limitsPx) expect(limitPx).toBeGreaterThan(wallPx);
    expect(hatchedAt(withPanel({}))).toEqual([]);
  });

  test('has its value beside it, with the digits that it was printed with', () => {
    expect(said(withPanel({ specification: { lower: '-47.50', upper: null } }))).toContain('specification −47.50 mm below this scale');
    const labels = words(withPanel({ specification: { lower: '6.50', upper: null } }));
    for (const label of ['UCL 13.00', 'CL 10.00', 'LCL 7.00', 'specification 6.50 mm']) expect(labels).toContain(label);
  });

  test('steps halfway between points where it is unequal, and ends where there is none', () => {
    const uppers = [12, 13, 13, 12], lowers = [8, null, null, 8];
    const chart = withPanel({ points: uppers.map((upper, at) => onePoint(at * 20_000, 10, { upper, lower: lowers[at] ?? null })) });
    const lines = linesOf(chart, LIMIT);
    expect(lines.map((line) => line.map(([x]) => x))).toContainEqual([xOf(0), xOf(10_500), xOf(10_500), xOf(50_500), xOf(50_500), xOf(60_500) + 0.8 * 12]);
    expect(lines).toHaveLength(3);
    expect(words(chart)).toEqual(expect.arrayContaining(['UCL 12.00, varies', 'CL 10.00', 'LCL 8.00, varies']));
  });
});

describe('around the panels', () => {
  test('stand coils, splices, both depths with uncertainty and datum, stops, checks, what is watched, notes and cautions', () => {
    const text = said(drawn(fullControlChart()));
    for (const part of [
      'LM-07', 'splice S-14', 'stop 07:02, 14 min', 'check 02:10 passed', 'Outer-wall depth, m', '± 1.250 m (k = 2)', 'Inner-wall depth, m', '± 2.100 m (k = 2)', 'from rotary table', 'watch 129 m',
      'as known at 2031-04-05 00:00 UTC', 'Limits CL-3, taken from 60 subgroups', 'Lag-1 correlation of the means: 0.12', 'Warning', 'Coil LM-09 began after the limits were approved', '! assumed counter scale',
      'A signal says: look for what changed.', 'They are no specification limits', 'The inner-wall depth is an estimate: ± 2.100 m (k = 2)', 'it stops no line',
    ]) expect(text).toContain(part);
  });

  test('warnings stand over the chart', () => {
    const chart = drawn(fullControlChart());
    const y = (word: string): number => attribute(chart.texts.find(({ text }) => text === word)!, 'y');
    expect(y('Warning')).toBeLessThan(y('pipe'));
  });

  test('of an order stand its places, and nothing of any pipe', () => {
    const text = said(drawn(orderedChart(['LM-01', 'LM-02'], [onePoint(0, 9, { toMm: 1 }), onePoint(1, 11, { toMm: 2 })])));
    for (const part of ['Coils as received', 'LM-01', 'LM-02', '2 in order']) expect(text).toContain(part);
    for (const part of ['depth', 'pipe 0', 'Footage']) expect(text).not.toContain(part);
  });
});
