import { describe, expect, test } from '@jest/globals';
import type { StripChart } from './chart-data.js';
import { drawStripChartSvg } from './chart-svg.js';
import { attribute, boxesOf, collisionsOf, type DrawnSvg, drawnSvg, words } from './drawn-svg.reference.js';
import { COVERAGE_FILLINGS, type Filling, MARKED_FILLINGS, TOLD_FILLINGS } from './lanes.js';
import { roomyRuler } from './ruler.js';
import { emptyColumn, fullStripChart, oneColumn, oneStripChart, oneTrack, trackMark } from './strip-chart.factory.js';
import { pointsOf } from './svg-reader.reference.js';

const LEFT_PX = 15.5 * 12;
const HOSTILE = `a<b & "c" 'd' ]]> \u202e\u0000\u0007\ud800\uffff <script>alert(1)</script> \u{1f9ff}\n\u2028x`;

const drawn = (chart: StripChart): DrawnSvg => drawnSvg(drawStripChartSvg(chart));

/** Outlines filled with grey, but for the one in the key. */
const bandsOf = ({ all }: DrawnSvg): [number, number][][] =>
  all.filter(({ attributes }) => attributes.get('fill') === '#b4b4b4' && attributes.get('stroke') === '#555555')
    .map(({ attributes }) => pointsOf(attributes.get('d') ?? '')[0] ?? []).filter((points) => points.every(([x]) => x >= LEFT_PX));
const meansOf = ({ all }: DrawnSvg): [number, number][][] =>
  all.filter(({ attributes }) => attributes.get('stroke-width') === '0.9' && attributes.get('stroke-linejoin') === 'round').map(({ attributes }) => pointsOf(attributes.get('d') ?? '')[0] ?? []);

const hostile = (): StripChart => {
  const chart = fullStripChart(4);
  return {
    ...chart,
    titles: [HOSTILE, HOSTILE],
    axis: { ...chart.axis, depth: { datum: HOSTILE, uncertaintyMm: null }, unsure: chart.axis.unsure.map((one) => ({ ...one, words: HOSTILE.repeat(4) })) },
    marks: chart.marks.map((mark) => ({ ...mark, label: HOSTILE })),
    tracks: chart.tracks.map((track) => ({
      ...track, channel: HOSTILE, measures: HOSTILE, unit: HOSTILE, marks: track.marks.map((mark) => ({ ...mark, label: HOSTILE })),
    })),
  };
};

describe('the document', () => {
  test('is well-formed, of a fixed size, with a title and a description, and nothing that runs or leads away', () => {
    const { root, all } = drawn(fullStripChart());
    expect(root.name).toBe('svg');
    expect([...root.attributes.keys()]).toEqual(['xmlns', 'width', 'height', 'viewBox', 'role']);
    expect(root.attributes.get('viewBox')).toBe(`0 0 ${root.attributes.get('width') ?? ''} ${root.attributes.get('height') ?? ''}`);
    expect(root.children.slice(0, 2).map(({ name, text }) => [name, text.slice(0, 61)])).toEqual([
      ['title', 'Strip chart S-1, seam channels'], ['desc', 'Strip chart of footage 1,204.310 to 1,804.310 m, with re-join'],
    ]);
    expect(root.children[1]?.text).toContain('ECT-seam-1: eddy-current amplitude in %, threshold 40 or above, 2 gaps, confirmed 294 m, provisional 150 m, suspect 120 m, missing 36 m, check-failed ×1, indication ×2');
    expect([...new Set(all.map(({ name }) => name))].sort()).toEqual(['desc', 'g', 'path', 'rect', 'svg', 'text', 'title']);
    expect(all.flatMap(({ attributes }) => [...attributes.keys()]).filter((name) => /^on|href|style|class/.test(name))).toEqual([]);
  });

  test('holds texts of any kind escaped, and shows what is hidden by its code', () => {
    const chart = drawn(hostile());
    expect(chart.root.children[0]?.text).toBe(
      `a<b & "c" 'd' ]]> [U+202E][U+0000][U+0007][U+D800][U+FFFF] <script>alert(1)</script> \u{1f9ff} x`);
    expect(chart.all.some(({ name }) => name === 'script')).toBe(false);
    expect(collisionsOf(chart)).toEqual([]);
  });

  test('is the same, byte for byte, when drawn again, and changes with a value', () => {
    expect(drawStripChartSvg(fullStripChart())).toBe(drawStripChartSvg(fullStripChart()));
    const columns = oneTrack().columns.map((column, at) => (at === 7 ? oneColumn(12, 19.5) : column));
    expect(drawStripChartSvg(oneStripChart({ tracks: [oneTrack({ columns })] }))).not.toBe(drawStripChartSvg(oneStripChart()));
  });

  test('uses black, white and greys only', () => {
    const { all } = drawn(fullStripChart());
    const inks = new Set(all.flatMap(({ attributes }) => [attributes.get('fill'), attributes.get('stroke')]).filter((ink) => ink !== undefined && ink !== 'none'));
    expect(inks.size).toBeGreaterThan(3);
    for (const ink of inks) expect(ink).toMatch(/^#(..)\1\1$/);
  });

  test.each([1, 4, 12])('with %d tracks no text touches another or leaves the paper', (count) => {
    const chart = drawn(fullStripChart(count));
    const [width, height] = [attribute(chart.root, 'width') - 28, attribute(chart.root, 'height') - 28];
    const boxes = boxesOf(chart);
    expect(boxes.length).toBeGreaterThan(count * 12);
    expect(boxes.filter(({ left, right, top, bottom }) => left < -0.01 || right > width + 0.01 || top < 0 || bottom > height)).toEqual([]);
    expect(collisionsOf(chart)).toEqual([]);
  });
});

describe('columns', () => {
  const values = [[1, 3], [2, 9], [4, 5], [6, 6], [0, 10]] as const;
  const chart = drawn(oneStripChart({ tracks: [oneTrack({ threshold: null, columns: values.map(([least, greatest]) => oneColumn(least, greatest)) })] }));

  /** What a y stands for, by two ticks of the scale. */
  const tick = (value: string): number => chart.texts.filter(({ text, attributes }) => text === value && attributes.get('text-anchor') === 'end').map((element) => attribute(element, 'y') - 0.34 * 12)[0] ?? NaN;
  const valueAt = (y: number): number => ((y - tick('0')) / (tick('10') - tick('0'))) * 10;

  test('each band lies between its own edges, from its least to its greatest value on the scale', () => {
    const [band, ...more] = bandsOf(chart);
    expect(more).toEqual([]);
    const px = 640 / 5;
    for (const [at, [least, greatest]] of values.entries()) {
      const inside = (band ?? []).filter(([x]) => x >= LEFT_PX + at * px - 0.01 && x <= LEFT_PX + (at + 1) * px + 0.01).map(([, y]) => valueAt(y));
      if (greatest > least) for (const value of [least, greatest]) expect(Math.min(...inside.map((one) => Math.abs(one - value)))).toBeLessThan(0.01);
    }
    expect(Math.max(...(band ?? []).map(([, y]) => valueAt(y)))).toBeCloseTo(10, 1);
    expect(new Set((band ?? []).map(([x]) => Math.round((x - LEFT_PX) / px)))).toEqual(new Set([0, 1, 2, 3, 4, 5]));
  });

  test('a mean runs through the middles of its columns', () => {
    const [mean] = meansOf(chart);
    expect(mean?.map(([x, y]) => [Math.round((x - LEFT_PX) / 64), Math.round(valueAt(y) * 100) / 100])).toEqual([
      [0, 2], [1, 2], [3, 5.5], [5, 4.5], [7, 6], [9, 5], [10, 5],
    ]);
  });

  test('neither band nor mean goes over a gap, whatever its width and reason', () => {
    for (const gap of [emptyColumn(), emptyColumn({ missing: 3 }), emptyColumn({ implausible: 1, suspectStuck: 2 })]) {
      const columns = Array.from({ length: 100 }, (_, at) => (at === 20 || (at >= 50 && at < 70) || at === 99 ? gap : oneColumn(3, 9)));
      const split = drawn(oneStripChart({ tracks: [oneTrack({ columns })] }));
      const px = 700 / 100;
      const reach = (lines: [number, number][][]): number[][] => lines.map((points) => [Math.min(...points.map(([x]) => x)), Math.max(...points.map(([x]) => x))].map((x) => Math.round((x - LEFT_PX) / px)));
      const expected = [[0, 20], [21, 50], [70, 99]];
      expect(reach(bandsOf(split))).toEqual(expected);
      expect(reach(meansOf(split))).toEqual(expected);
    }
  });

  test('a gap says what it is where there is room, and is counted in any case', () => {
    const gaps = [emptyColumn(), emptyColumn({ missing: 3 }), emptyColumn({ suspectStuck: 3 }), emptyColumn({ implausible: 4 }), emptyColumn({ missing: 1, implausible: 4 })];
    const columns = gaps.flatMap((gap) => [oneColumn(1, 2), gap, gap, gap]);
    const said = words(drawn(oneStripChart({ tracks: [oneTrack({ columns })] }))).join(' ');
    for (const word of ['no samples', 'samples missing', 'samples stuck', 'samples implausible', 'no usable samples']) expect(said).toContain(word);
    expect(said).toContain('5 gaps, 12 missing');
    expect(said).toContain('24 implausible');
    const narrow = Array.from({ length: 1_200 }, (_, at) => (at % 400 === 7 ? emptyColumn() : oneColumn(1, 2)));
    const few = words(drawn(oneStripChart({ tracks: [oneTrack({ columns: narrow })] })));
    expect(few).toContain('3 gaps');
    expect(few).not.toContain('no samples');
  });

  test('a track without a single value says so', () => {
    const said = words(drawn(oneStripChart({ tracks: [oneTrack({ threshold: null, columns: Array.from({ length: 30 }, () => emptyColumn()) })] })));
    expect(said).toContain('nothing to draw');
    expect(said).toContain('no samples');
  });

  test('a saturated column has the sign of a bound, and so has the extreme in words', () => {
    const columns = [oneColumn(1, 100, 50, 'exact', { saturatedHigh: 1 }), oneColumn(1, 2), oneColumn(-5, 2, 1, 'exact', { saturatedLow: 2 })];
    const said = words(drawn(oneStripChart({ tracks: [oneTrack({ columns })] })));
    expect(said.filter((word) => word === '≥')).toHaveLength(1);
    expect(said.filter((word) => word === '≤')).toHaveLength(1);
    expect(said).toContain('greatest ≥ 100 %');
    expect(said).toContain('least ≤ −5 %');
    const plain = words(drawn(oneStripChart({ tracks: [oneTrack({ columns: [oneColumn(1, 2)] })] })));
    expect(plain.filter((word) => /^[≥≤]$/.test(word))).toEqual([]);
  });

  test('a column of bounds alone is drawn, without a mean', () => {
    const columns = [oneColumn(100, 100, 0, 'exact', { read: 0, saturatedHigh: 4 }), oneColumn(3, 9)];
    const chartOfBounds = drawn(oneStripChart({ tracks: [oneTrack({ columns })] }));
    expect(Math.min(...bandsOf(chartOfBounds).flat().map(([x]) => x))).toBe(LEFT_PX);
    expect(Math.min(...meansOf(chartOfBounds).flat().map(([x]) => x))).toBe(LEFT_PX + 320);
  });
});

describe('what is said of the inspection', () => {
  test('a state covers its own pixels, the worse drawn over the better, and what nobody stated is said to be so', () => {
    const track = oneTrack({
      columns: Array.from({ length: 1_000 }, () => oneColumn(1, 2)),
      coverage: [
        { fromMm: -50_000, toMm: 20_000, state: 'confirmed' }, { fromMm: 20_000, toMm: 45_000, state: 'provisional' },
        { fromMm: 45_000, toMm: 45_001, state: 'missing' }, { fromMm: 45_001, toMm: 70_000, state: 'suspect' },
      ],
    });
    const chart = drawn(oneStripChart({ tracks: [track] }));
    const said = words(chart);
    for (const word of ['confirmed', 'provisional', 'suspect', 'not stated']) expect(said.filter((one) => one === word)).toHaveLength(2);
    const centre = (word: string): number => chart.texts.filter(({ text, attributes }) => text === word && attributes.get('text-anchor') === 'middle').map((element) => attribute(element, 'x') - LEFT_PX)[0] ?? NaN;
    expect([centre('confirmed'), centre('provisional'), centre('not stated')]).toEqual([100, 325, 850]);
    expect(said.join(' ')).toContain('missing 0.001 m suspect 24.999 m not stated 30 m provisional 25 m');
    const [bar] = chart.all.filter(({ attributes }) => attributes.get('stroke-dasharray') === '3').map(({ attributes }) => pointsOf(attributes.get('d') ?? '')[0]?.map(([x]) => x - LEFT_PX) ?? []);
    expect([Math.min(...bar!), Math.max(...bar!)]).toEqual([448.51, 451.51]);
  });

  test('what reaches over the ends of the axis counts as far as it is on it', () => {
    const coverage = [{ fromMm: -9_000, toMm: 30_000, state: 'suspect' as const }, { fromMm: 30_000, toMm: 190_000, state: 'provisional' as const }];
    const chart = drawn(oneStripChart({ tracks: [oneTrack({ coverage })] }));
    expect(words(chart).join(' ')).toContain('suspect 30 m provisional 70 m');
    expect(chart.root.children[1]?.text).toContain('provisional 70 m, suspect 30 m');
  });

  test('no two of a lane are filled alike, whatever their greys, and the key says what each means', () => {
    const looks = (fillings: Readonly<Record<string, Filling>>): unknown[] => Object.values(fillings).map(({ fill, hatch, pen }) => [hatch ?? fill, pen.dashPt]);
    for (const fillings of [COVERAGE_FILLINGS, MARKED_FILLINGS, TOLD_FILLINGS]) expect(new Set(looks(fillings).map((look) => JSON.stringify(look))).size).toBe(looks(fillings).length);
    const said = words(drawn(fullStripChart()));
    for (const word of ['confirmed', 'provisional', 'suspect', 'missing', 'not stated', 'not valid: not inspected', 'excluded: makes no indication', 'gap: nothing to draw']) {
      expect(said).toContain(word);
    }
  });

  test('an interval that does not count is drawn at its place with its reason', () => {
    const columns = Array.from({ length: 1_000 }, () => oneColumn(1, 2));
    const marks = [trackMark('not-valid', 10_000, 40_000, 'probe lifted'), trackMark('excluded', 60_000, 90_000, 'splice'), trackMark('excluded', 95_000, 95_100, 'review')];
    const chart = drawn(oneStripChart({ tracks: [oneTrack({ columns, marks })] }));
    const centre = (word: string): number => chart.texts.filter(({ text }) => text === word).map((element) => attribute(element, 'x') - LEFT_PX)[0] ?? NaN;
    expect(centre('not valid: probe lifted')).toBe(250);
    expect(centre('excluded: splice')).toBe(750);
    expect(words(chart).join(', ')).toContain('1 not valid, 2 excluded');
  });
});

describe('labels', () => {
  const crowd = (count: number): StripChart => oneStripChart({
    marks: Array.from({ length: count }, (_, at) => ({ kind: 'splice', fromMm: at * 90, toMm: at * 90 + 50, label: `S-${at}` })),
    tracks: [oneTrack({
      marks: Array.from({ length: count }, (_, at) => trackMark(at % 100 === 0 ? 'check-failed' : at % 3 === 0 ? 'check-passed' : 'indication', at * 90, at * 90 + (at % 3 === 1 ? 40 : 0), `no. ${at}`)),
    })],
  });

  test.each([1, 10, 60, 1_000])('of %d marks every one is labelled or counted, and no label touches another', (count) => {
    const chart = drawn(crowd(count));
    const said = words(chart);
    const total = (labelled: RegExp, left: RegExp): number => said.filter((word) => labelled.test(word)).length + said.reduce((sum, word) => sum + Number(left.exec(word)?.[1] ?? 0), 0);
    const kindOf = (at: number): string => (at % 100 === 0 ? 'failed' : at % 3 === 0 ? 'passed' : 'indication');
    const wanted = (kind: string): number => Array.from({ length: count }, (_, at) => kindOf(at)).filter((one) => one === kind).length;
    expect(total(/^check failed no/, /^(\d+) checks? failed$/)).toBe(wanted('failed'));
    expect(total(/^no\. \d/, /^(\d+) indications?$/)).toBe(wanted('indication'));
    expect(total(/^check passed no/, /^(\d+) checks? passed$/)).toBe(wanted('passed'));
    expect(total(/^splice S/, /^(\d+) splices?$/)).toBe(count);
    expect(collisionsOf(chart)).toEqual([]);
  });

  test('a failed check keeps its label before indications, and these before what passed', () => {
    const at = [30_000, 30_100, 30_200, 30_300, 30_400, 30_500];
    const marks = at.map((mm, index) => trackMark(index === 5 ? 'check-failed' : index === 4 ? 'indication' : 'check-passed', mm, mm, `no. ${index}`));
    const said = words(drawn(oneStripChart({ tracks: [oneTrack({ marks })] })));
    expect(said).toContain('check failed no. 5');
    expect(said).toContain('no. 4');
    expect(said.filter((word) => word.startsWith('check passed'))).toHaveLength(1);
    expect(said).toContain('+3 more');
    expect(said).toContain('3 checks passed');
  });

  test('what lies off the axis is not drawn; a point at its very end is', () => {
    const marks = [trackMark('check-passed', -1, -1, 'before'), trackMark('check-passed', 100_000, 100_000, 'at the end'), trackMark('indication', 100_000, 100_500, 'after')];
    const said = words(drawn(oneStripChart({ tracks: [oneTrack({ marks })] })));
    expect(said.filter((word) => /before|at the end|after/.test(word))).toEqual(['check passed at the end']);
  });
});

describe('scales along the pipe', () => {
  const depth = { datum: 'rotary table', uncertaintyMm: 1_250 };
  const tickX = (chart: DrawnSvg, text: string): number => {
    const element = chart.texts.find((one) => one.text === text);
    return element === undefined ? NaN : attribute(element, 'x') - LEFT_PX + roomyRuler(text, 12, false) / 2;
  };

  test('a depth stands with its uncertainty, its datum and the caution', () => {
    const said = words(drawn(oneStripChart({ axis: { quantity: 'outer-wall depth', fromMm: 400_000, toMm: 500_000, depth, unsure: [], second: null } }))).join(' ');
    expect(said).toContain('Outer-wall depth, m ± 1.250 m (k = 2) from rotary table');
    expect(said).toContain('Depth is an estimate: ± 1.250 m (k = 2) at its widest here, measured from rotary table.');
  });

  test('the other quantity is marked where it lies, falling as well as rising, and not where it is not known', () => {
    const pieces = [{ fromMm: 0, toMm: 50_000, startMm: 900_000, endMm: 850_000 }, { fromMm: 60_000, toMm: 100_000, startMm: 830_000, endMm: 790_000 }];
    const chart = drawn(oneStripChart({
      axis: { quantity: 'inner-wall depth', fromMm: 0, toMm: 100_000, depth, unsure: [], second: { quantity: 'footage', pieces } },
      tracks: [oneTrack({ columns: Array.from({ length: 1_000 }, () => oneColumn(1, 2)), coverage: [] })],
    }));
    expect(Math.round(tickX(chart, '880'))).toBe(200);
    expect(Math.round(tickX(chart, '800'))).toBe(900);
    expect(words(chart)).not.toContain('840');
  });

  test('pipe that rests on something not sure is marked and told', () => {
    const unsure = [{ fromMm: 60_000, toMm: 60_200, words: 'unconfirmed splice' }, { fromMm: 70_000, toMm: 100_000, words: 'past the last tie' }];
    const said = words(drawn(oneStripChart({ axis: { ...oneStripChart().axis, unsure } })));
    expect(said).toContain('! unconfirmed splice');
    expect(said).toContain('! past the last tie');
    expect(said).toContain('• Marked ! from 70.000 to 100.000 m: past the last tie.');
  });
});
