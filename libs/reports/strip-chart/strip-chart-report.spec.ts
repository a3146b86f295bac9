import { describe, expect, test } from '@jest/globals';
import type { Paper } from '../canvas.js';
import { collisions, drawn, marksOutside, PAPER_PT, PAPERS, squeeze } from '../drawn-report.reference.js';
import type { StripChart } from './chart-data.js';
import { emptyColumn, fullStripChart, oneColumn, oneStripChart, oneStripChartReport, oneTrack, trackMark } from './strip-chart.factory.js';
import { stripChartReport, type StripChartReportData } from './strip-chart-report.js';

const draw = (overrides: Partial<StripChartReportData> = {}, paper: Paper = 'A4') => drawn((options) => stripChartReport(oneStripChartReport(overrides), { ...options, paper }));
const EM_PT = 7;
const PLOT_LEFT_PT = 42 + 15.5 * EM_PT;
const PLOT_WIDTH_PT = PAPER_PT['A4-across'][0] - 84 - 27.5 * EM_PT;

const hostile = (): StripChart => {
  const words = 'نص طويل جدا <b>&\u202e\u0000 溶接部 '.repeat(9);
  const chart = fullStripChart(5);
  return {
    ...chart,
    titles: [words, words],
    axis: { ...chart.axis, depth: { datum: words, uncertaintyMm: null }, unsure: [{ fromMm: chart.axis.fromMm, toMm: chart.axis.toMm, words }] },
    marks: chart.marks.map((mark) => ({ ...mark, label: words })),
    tracks: chart.tracks.map((track) => ({ ...track, channel: 'W'.repeat(40), measures: words, unit: words, marks: track.marks.map((mark) => ({ ...mark, label: words })) })),
  };
};

describe.each(PAPERS)('a strip chart on %s laid across', (paper) => {
  const whole = draw({ chart: fullStripChart(9) }, paper);
  const crowded = draw({ chart: hostile() }, paper);

  test('has the size of its paper', async () => {
    expect((await whole).source).toContain(`/MediaBox [0 0 ${PAPER_PT[`${paper}-across`].join(' ')}]`);
  });

  test('says on every page what it is, which page of how many, when, up to when, its fingerprint and what it rests on', async () => {
    const { pages } = await whole;
    expect(pages.length).toBeGreaterThan(3);
    pages.forEach((runs, at) => {
      const text = squeeze(runs);
      for (const part of [
        'Strip chart S-1, seam channels', 'As known at 2031-04-05 00:00:00 UTC', 'Well Sample 1', 'String S-1, footage 1,204.310 to 1,804.310 m', `Page ${at + 1} of ${pages.length}`,
        'Generated 2031-04-05 07:08:09 UTC', 'Data cut-off 2031-04-05 00:00:00 UTC', 'SHA-256 0123456789abcdef…', 'Marked: assumed counter scale',
      ]) expect(text).toContain(part.replace(/\s/g, ''));
    });
  });

  test('draws every channel once and whole on one page, each page with the pipe, its scales and a key', async () => {
    const { pages, marks } = await whole;
    const chart = fullStripChart(9);
    expect(marks.filter(({ text }) => text === 'inspected')).toHaveLength(9);
    const chartPages = pages.filter((runs) => squeeze(runs).includes('inspected'));
    expect(chartPages.length).toBeGreaterThan(2);
    expect(chartPages).toHaveLength(pages.length - 1);
    for (const runs of chartPages) for (const part of ['Footage,m', 'Outer-walldepth,m', '±1.250m(k=2)', 'fromrotarytable', 'notstated', 'check']) expect(squeeze(runs)).toContain(part);
    for (const { channel } of chart.tracks) expect(pages.filter((runs) => squeeze(runs).includes(channel.replaceAll(/\s/g, ''))).length).toBeGreaterThanOrEqual(1);
  });

  test('keeps everything within the margins and no text on another, however crowded', async () => {
    for (const report of [await whole, await crowded]) {
      expect(report.marks.length).toBeGreaterThan(500);
      expect(marksOutside(report.marks, `${paper}-across`)).toEqual([]);
      expect(collisions(report.marks)).toEqual([]);
    }
  });
});

describe('what is on the page', () => {
  test('bands, means and gaps stand where they are on the pipe', async () => {
    const columns = Array.from({ length: 100 }, (_, at) => (at >= 20 && at < 50 ? emptyColumn() : oneColumn(2, 8)));
    const { marks } = await draw({ chart: oneStripChart({ tracks: [oneTrack({ columns })] }) });
    const reach = (kind: string) => marks.filter((mark) => mark.kind === kind && mark.xPt >= PLOT_LEFT_PT - 0.01)
      .map(({ xPt, widthPt }) => [xPt, xPt + widthPt].map((x) => Math.round(((x - PLOT_LEFT_PT) / PLOT_WIDTH_PT) * 1_000) / 10));
    expect(reach('curve')).toEqual([[0, 20], [50, 100]]);
    expect(reach('outline')).toContainEqual([20, 50]);
    expect(reach('outline').filter(([from = 0, to = 0]) => from === 0 && to === 20)).toHaveLength(1);
    expect(marks.filter(({ text }) => text === 'no samples')).toHaveLength(1);
  });

  test('labels without room are counted, failed checks and indications by name', async () => {
    const crowd = Array.from({ length: 500 }, (_, at) => trackMark(at % 50 === 0 ? 'check-failed' : 'indication', at * 190, at * 190 + (at % 50 === 0 ? 0 : 100), `no. ${at}`));
    const { marks } = await draw({ chart: oneStripChart({ tracks: [oneTrack({ marks: crowd })] }) });
    const texts = marks.map(({ text }) => text);
    const labelled = (start: string): number => texts.filter((text) => text.startsWith(start)).length;
    const left = (end: RegExp): number => Number(texts.map((text) => end.exec(text)?.[1]).find((count) => count !== undefined) ?? 0);
    expect(labelled('check failed no. ')).toBeGreaterThan(0);
    expect(labelled('check failed no. ') + left(/^(\d+) checks? failed$/)).toBe(10);
    expect(labelled('no. ') + left(/^(\d+) indications?$/)).toBe(490);
    expect(collisions(marks)).toEqual([]);
  });

  test('the cautions come last, with what holds on this chart alone', async () => {
    const { pages } = await draw();
    const last = squeeze(pages.at(-1) ?? []);
    for (const part of [
      'No indication means none beyond the threshold drawn', 'No threshold is set for PWR', 'None of them is confirmed evidence', 'Depth is an estimate: ± 1.250 m (k = 2)',
      'Marked ! from 1,720.310 to 1,804.310 m: assumed counter scale.', 'Striped columns are coarse', 'no interlock', '0123456789abcdef'.repeat(4), 'End of chart',
    ]) expect(last).toContain(part.replace(/\s/g, ''));
    const plain = squeeze((await draw({ chart: oneStripChart() })).pages.flat());
    for (const part of ['Depth is an estimate', 'Striped columns', 'No threshold is set', 'Marked']) expect(plain).not.toContain(part.replace(/\s/g, ''));
  });
});

describe('the file', () => {
  test('is the same, byte for byte, when printed again, and changes with a value', async () => {
    const [first, again] = [await draw(), await draw()];
    expect(again.bytes.equals(first.bytes)).toBe(true);
    const tracks = fullStripChart().tracks.map((track, at) => (at === 1 ? { ...track, columns: track.columns.map((column, x) => (x === 100 ? oneColumn(5.5, 5.9) : column)) } : track));
    expect((await draw({ chart: { ...fullStripChart(), tracks } })).bytes.equals(first.bytes)).toBe(false);
  });

  test('is not made from data that cannot be drawn truthfully', () => {
    const make = (overrides: Partial<StripChartReportData>) => () => stripChartReport(oneStripChartReport(overrides), { paper: 'A4' });
    expect(make({ generatedAt: 'today' })).toThrow('generatedAt is not a UTC instant');
    expect(make({ well: ' ' })).toThrow('well is blank');
    expect(make({ fingerprintSha256: 'abc' })).toThrow('fingerprintSha256 is not 64 hexadecimal digits');
    expect(make({ chart: oneStripChart({ tracks: [] }) })).toThrow('chart.tracks are not 1 to 12');
  });
});
