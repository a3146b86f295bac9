import { describe, expect, test } from '@jest/globals';
import { ReportDataError } from '../check-fields.js';
import { collisions, drawn, marksOutside, PAPERS, squeeze } from '../drawn-report.reference.js';
import { controlChartReport, type ControlChartReportData } from './control-chart-report.js';
import { crowdedControlChart, fullControlChart, oneControlChart, oneControlChartReport, onePanel, oneSignals, tightControlChart } from './control-chart.factory.js';

const EVERY = ['Control chart S-1, bead height after trimming', 'As known at 2031-04-05 00:00:00 UTC', 'Well Sample 1', 'String S-1, footage 1,204.310 to 1,804.310 m', 'Data cut-off 2031-04-05 00:00:00 UTC', 'SHA-256 0123456789abcdef…'];

describe.each(PAPERS)('a control chart on %s laid across', (paper) => {
  const draw = (overrides: Partial<ControlChartReportData> = {}) => drawn((options) => controlChartReport(oneControlChartReport(overrides), { ...options, paper }));

  test('says on every page what it is, as known when, which print it is, what is assumed and what is warned of', async () => {
    const { pages } = await draw();
    expect(pages.length).toBeGreaterThan(1);
    pages.forEach((runs, at) => {
      for (const part of [...EVERY, 'Marked: assumed counter scale.', 'Warning: Coil LM-09 began after', `Page ${at + 1} of ${pages.length}`]) expect(squeeze(runs)).toContain(part.replace(/\s/g, ''));
    });
  });

  test('has limits, correlation, warnings and all panels with both depths on the first page, and its lists, cautions and end on the next', async () => {
    const { pages } = await draw();
    const [first = '', second = ''] = pages.map(squeeze);
    for (const part of ['3 signals · 1 warning · watch 129 m', 'Limits CL-3, taken from', 'Lag-1 correlation', 'Means', 'Ranges', 'Outer-wall depth, m', 'Inner-wall depth, m', 'UCL 5.729', 'specification 5.85 mm', 'A1', 'M2', 'E3']) {
      expect(first).toContain(part.replace(/\s/g, ''));
    }
    for (const part of ['A1. Means, at footage', 'Asked: repeat with another gauge', '(2) Limits were taken without 1 point, the probe was lifted', 'A signal says: look for what changed.', 'End of chart']) expect(second).toContain(part.replace(/\s/g, ''));
  });

  test('lists go on over as many pages as they take, each signal once', async () => {
    const signals = oneSignals(90, { rule: 'sixSteadily' });
    const { pages, marks } = await draw({ picture: { ...fullControlChart(), signals } });
    expect(pages.length).toBeGreaterThan(3);
    const text = pages.map(squeeze).join('');
    for (const { number } of signals) expect(text.split(`G${number}.Means`)).toHaveLength(2);
    expect(marksOutside(marks, `${paper}-across`)).toEqual([]);
    expect(collisions(marks)).toEqual([]);
  });

  test('keeps everything within the margins and no text on another, however crowded, and every panel whole', async () => {
    for (const picture of [fullControlChart(), fullControlChart(1_000), crowdedControlChart(), tightControlChart(), oneControlChart({ panels: [onePanel({ points: [] })] })]) {
      const { marks, pages } = await draw({ picture });
      expect(marks.length).toBeGreaterThan(20);
      expect(marksOutside(marks, `${paper}-across`)).toEqual([]);
      expect(collisions(marks)).toEqual([]);
      const names = pages.flatMap((runs) => runs.filter((run) => /^(?:Means|Ranges)$/.test(run)));
      expect(names).toHaveLength(picture.panels.length);
    }
  });

  test('draws the same bytes for the same data', async () => {
    expect((await draw()).bytes.equals((await draw()).bytes)).toBe(true);
  });

  test('refuses a picture that does not hold together', () => {
    expect(() => controlChartReport(oneControlChartReport({ picture: oneControlChart({ panels: [] }) }), { paper })).toThrow(ReportDataError);
  });
});
