import { expect, test } from '@jest/globals';
import type { StringSignals } from '../charting/string-signals.service.js';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import type { ControlChartsService } from '../control-charts/control-charts.service.js';
import { Refused } from '../http/problem.js';
import { WaitingSignals } from './waiting-signals.service.js';

const CHART = { id: 'c', version: 1, code: 'WT-1', title: 'Wall', reaction: { repeat: 'Read again.' } } as ControlChart;
const waiting = (charts: readonly ControlChart[], signals: () => Promise<unknown>): WaitingSignals =>
  new WaitingSignals({ ofString: () => Promise.resolve(charts) } as unknown as ControlChartsService, { of: signals } as unknown as StringSignals);
const refusal = (status: number): () => Promise<unknown> => () => Promise.reject(new Refused(status, 'signals-detached', 'The samples are kept outside.'));

test('while samples are kept outside, each chart is told: what waits is not known, which is not nothing', async () => {
  expect(await waiting([CHART], refusal(409)).of('s', null)).toMatchObject([{ what: 'chart-signals', record: { kind: 'control-chart', id: 'c' }, words: 'whether signals of it wait is not known: The samples are kept outside.', footage: [] }]);
});

test('other refusals are passed on, and a string without charts asks for no sample', async () => {
  await expect(waiting([CHART], refusal(404)).of('s', null)).rejects.toMatchObject({ status: 404 });
  expect(await waiting([], refusal(409)).of('s', null)).toEqual([]);
});
