import type { ChartRow } from '../../apps/api/src/characteristics/chart-row.js';
import { ChartRows } from '../../apps/api/src/characteristics/chart-rows.service.js';
import type { ChartedCharacteristic, ControlChartPlan } from '../../apps/api/src/control-charts/control-chart-plan.js';
import type { TestApi } from '../setup/api.js';

type Of = Pick<ChartedCharacteristic, 'of'> & Partial<ChartedCharacteristic>;

/** A chart of single readings that leaves nothing out, but for what a test changes. */
export const chartOf = (stringId: string, characteristic: Of, changes: Partial<ControlChartPlan> = {}): ControlChartPlan => ({
  stringId, characteristic: { name: null, channelIds: [], statistic: null, reflector: null, counters: [], windowMm: null, ...characteristic }, unit: 'mm', subgroup: null,
  leaveOut: { aroundSplicesMm: 0, aroundStopsMm: 0 }, chart: 'individuals', rules: [], lambda: null, width: null, k: null, h: null, batchSize: null, alpha: null, specification: null, ...changes,
});

/** The row of a chart, of all pipe as known now unless something else is asked. */
export const rowOf = async ({ app }: TestApi, plan: ControlChartPlan, asked: { readonly interval?: ChartRow['ground']['interval']; readonly asKnownAt?: string } = {}): Promise<ChartRow> =>
  app.get(ChartRows, { strict: false }).of(plan, { stringId: plan.stringId, interval: asked.interval ?? null, asKnownAt: asked.asKnownAt ?? null });

/** `0-1000: 5.01, 5.02 anew`, point by point; `no pipe` without a place. */
export const shownPoints = ({ points }: ChartRow, digits = 6): string[] => points.map(({ place, values, of, beginsAnew }) =>
  `${place === null ? 'no pipe' : `${place.fromMm}-${place.toMm}`}: ${values.map((value) => Number(value.toFixed(digits))).join(', ')}${of === null ? '' : ` of ${of}`}${beginsAnew ? ' anew' : ''}`);

/** `0-1000 because`, in the order in which they are told. */
export const shownLeftOut = ({ leftOut }: ChartRow): string[] => leftOut.map(({ place, because }) => `${place === null ? 'no pipe' : `${place.fromMm}-${place.toMm}`} ${because}`);
