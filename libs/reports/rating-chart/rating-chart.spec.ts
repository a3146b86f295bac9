import { describe, expect, test } from '@jest/globals';
import { ReportDataError } from '../check-fields.js';
import { collisions, drawn, marksOutside, PAPERS, squeeze } from '../drawn-report.reference.js';
import { readXml, type ReadElement } from '../strip-chart/svg-reader.reference.js';
import { ratingChart, ratingChartReportData, ratingPanel } from './rating-chart.factory.js';
import type { RatingChart } from './rating-chart-data.js';
import { ratingChartReport } from './rating-chart-report.js';
import { drawRatingChartSvg } from './rating-chart-svg.js';

const EM_PX = 12;
const PLOT = { leftPx: 15.5 * EM_PX, widthPx: 900, heightPx: 10 * EM_PX };
const xOf = (mm: number): number => PLOT.leftPx + (mm / 100_000) * PLOT.widthPx;

const elementsOf = (element: ReadElement): ReadElement[] => [element, ...element.children.flatMap(elementsOf)];
const svgOf = (chart: RatingChart): ReadElement[] => elementsOf(readXml(drawRatingChartSvg(chart)));
const textsOf = (elements: readonly ReadElement[]): string[] => elements.filter(({ name }) => name === 'text').map(({ text }) => text);
const one = (changes: Parameters<typeof ratingPanel>[0] = {}): RatingChart => ratingChart({ panels: [ratingPanel(changes)] });

describe('a rating profile', () => {
  test('draws each rating at its depth, dashed where λ is assumed, and no line where nothing is rated', () => {
    const paths = svgOf(one()).filter(({ name }) => name === 'path');
    const drawnLines = paths.filter(({ attributes }) => attributes.get('stroke-linejoin') === 'round');
    // Whole up to the reason, whole again behind it, dashed from 60 m on.
    expect(drawnLines.map(({ attributes }) => attributes.get('stroke-dasharray') ?? 'whole')).toEqual(['whole', 'whole', '3']);
    const [first, second, dashed] = drawnLines.map(({ attributes }) => attributes.get('d') ?? '');
    expect(first).toMatch(new RegExp(`^M${xOf(0)} [\\d.]+H${xOf(40_000)}$`));
    expect(second).toMatch(new RegExp(`^M${xOf(45_000)} [\\d.]+H${xOf(60_000)}$`));
    expect(dashed).toMatch(new RegExp(`^M${xOf(60_000)} [\\d.]+V[\\d.]+H${xOf(70_000)}V[\\d.]+H${xOf(90_000)}$`));
  });

  test('is drawn in black, white and greys alone', () => {
    const colours = svgOf(ratingChart()).flatMap(({ attributes }) => ['fill', 'stroke'].flatMap((name) => attributes.get(name) ?? [])).filter((colour) => colour !== 'none');
    for (const colour of new Set(colours)) expect(colour).toMatch(/^#([0-9a-f]{2})\1\1$/);
  });

  test('says in words what is weakest, what is not computable and where, what is assumed, as known when, and every caution', () => {
    const words = textsOf(svgOf(ratingChart())).join(' ');
    for (const part of [
      'As known at 2031-04-05 00:00:00 UTC', 'weakest known 24.96 MPa (3620 psi) at 60.000 to 70.000 m', 'It rests on wall thickness 4.6 mm (channel wall-1)',
      '(1) 40.000 to 45.000 m: not computable for the outer wall, because no validly read wall thickness is on record', 'Dashed, within 60.000 to 90.000 m: λ is assumed',
      'Depths are measured from Top of the guide frame, ± 0.448 m (k = 2)', 'Computed ratings are advisory. The responsible engineer decides.', 'not rated', 'none asked about',
    ]) expect(words).toContain(part);
    expect(textsOf(svgOf(ratingChart({ panels: [ratingPanel({ steps: ratingPanel().steps.slice(0, 1) })] }))).join(' ')).not.toContain('Dashed');
  });

  test('of which nothing is rated says so', () => {
    const nothing = one({ steps: [{ fromMm: 0, toMm: 100_000, pressureMpa: null, reason: 1, isAssumed: false }], weakest: null });
    const words = textsOf(svgOf(nothing)).join(' ');
    expect(words).toContain('nothing rated');
    expect(words).toContain('not computable (1)');
    expect(words).toContain('nothing could be rated');
  });

  test('a narrow stretch has its number under the plot, unless it would be drawn over another', () => {
    const narrow = (fromMm: number) => ({ fromMm, toMm: fromMm + 10, pressureMpa: null, reason: 1, isAssumed: false });
    const signs = (...from: number[]): number => textsOf(svgOf(one({ steps: from.map(narrow), weakest: null }))).filter((text) => text === '(1)').length;
    expect([signs(10_000), signs(10_000, 50_000), signs(10_000, 10_100)]).toEqual([1, 2, 1]);
  });

  test.each([
    ['chart.panels[0].steps', { steps: [ratingPanel().steps[0]!, ratingPanel().steps[0]!] }],
    ['chart.panels[0].steps[0]', { steps: [{ fromMm: 0, toMm: 10, pressureMpa: null, reason: null, isAssumed: false }] }],
    ['chart.panels[0].steps[0].reason', { steps: [{ fromMm: 0, toMm: 10, pressureMpa: null, reason: 2, isAssumed: false }] }],
    ['chart.panels[0].steps[0].pressureMpa', { steps: [{ fromMm: 0, toMm: 10, pressureMpa: Number.NaN, reason: null, isAssumed: false }] }],
  ])('that could not be drawn truthfully is refused: %s', (path, changes) => {
    expect(() => drawRatingChartSvg(one(changes))).toThrow(ReportDataError);
    expect(() => drawRatingChartSvg(one(changes))).toThrow(`${path} `);
  });
});

describe.each(PAPERS)('a rating profile on %s laid across', (paper) => {
  const long = 'A datum, and a reason, that go on for so long that no margin of any paper could hold them '.repeat(4);
  const draw = (chart: RatingChart) => drawn((options) => ratingChartReport(ratingChartReportData({ chart }), { ...options, paper }));

  test('says on every page what it is, that it is advisory, what is assumed, as known when, and which print it is', async () => {
    const { pages } = await draw(ratingChart());
    expect(pages.length).toBeGreaterThan(1);
    pages.forEach((runs, at) => {
      const text = squeeze(runs);
      for (const part of ['As-built pressure integrity, advisory', 'As known at 2031-04-05 00:00:00 UTC', 'Advisory: computed for round', 'λ is assumed', `Page ${at + 1} of ${pages.length}`, 'SHA-256 0123456789abcdef…']) {
        expect(text).toContain(part.replace(/\s/g, ''));
      }
    });
  });

  test('keeps within its margins, and draws no text over another, however long the words and however many the panels', async () => {
    const crowded = ratingChart({
      depth: { datum: long, uncertaintyMm: null }, reasons: [long], cautions: Array.from({ length: 30 }, () => long), panels: Array.from({ length: 8 }, () => ratingPanel({ rating: long })),
    });
    for (const chart of [ratingChart(), crowded]) {
      const { marks } = await draw(chart);
      expect(marksOutside(marks, `${paper}-across`)).toEqual([]);
      expect(collisions(marks)).toEqual([]);
    }
  });

  test('draws the same bytes for the same data', async () => {
    expect((await draw(ratingChart())).bytes.equals((await draw(ratingChart())).bytes)).toBe(true);
  });
});
