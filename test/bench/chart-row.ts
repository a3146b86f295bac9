import type { DataSource } from 'typeorm';
import { CharacteristicSources } from '../../apps/api/src/characteristics/characteristic-sources.service.js';
import { ChartGrounds } from '../../apps/api/src/characteristics/chart-grounds.service.js';
import { ChartRows } from '../../apps/api/src/characteristics/chart-rows.service.js';
import { ChannelReadings } from '../../apps/api/src/characteristics/sources/channel.source.js';
import { readConfiguration } from '../../apps/api/src/configuration.js';
import type { ControlChartPlan } from '../../apps/api/src/control-charts/control-chart-plan.js';
import { createApp } from '../../apps/api/src/create-app.js';
import { ENTITIES } from '../../apps/api/src/app.module.js';
import { SignalMarksService } from '../../apps/api/src/signal-marks/signal-marks.service.js';
import { SignalDetachments } from '../../apps/api/src/signals/signal-detachments.service.js';
import { SignalStretches } from '../../apps/api/src/signals/signal-stretches.service.js';
import { SignalStrokes } from '../../apps/api/src/signals/signal-strokes.service.js';
import { ViewReader } from '../../apps/api/src/signals/view-reader.service.js';
import { levelFor } from '../../apps/api/src/signals/window-cells.js';
import { WindowSummaries } from '../../apps/api/src/signals/window-summaries.service.js';
import { createDataSource } from '../../libs/persistence/index.js';
import { BLOCK_SAMPLES, spanOf } from '../../libs/signals/index.js';
import { median } from './load.js';
import { rowsOf, type ViewedString } from './views.js';

const ROUNDS = 15;
const WARM_UPS = 3;
const WINDOWS_M = [100, 10, 1];
const SAMPLES_A_M = 1_000;

/** Medians, ms: processor time of this process, and by the clock. */
export interface RowCost {
  readonly cpuMs: number;
  readonly wallMs: number;
}

/** What the row of a chart costs, and two bare queries for as much. */
export interface ChartRowCosts {
  readonly windowM: number;
  readonly points: number;
  readonly summaries: number;
  /** No summary is kept. */
  readonly row: RowCost;
  /** The same question again, of the program's own reader. */
  readonly again: RowCost;
  /** The same rows of packed pages, read and left as they are. */
  readonly pages: RowCost;
  /** As many summaries, a row each, as numbers. */
  readonly rows: RowCost;
}

const planOf = ({ stringId, channelId }: ViewedString, windowM: number): ControlChartPlan => ({
  stringId, characteristic: { of: 'channel', name: null, channelIds: [channelId], statistic: 'mean', reflector: null, counters: [], windowMm: windowM * 1_000 }, unit: 'mm',
  subgroup: { size: 1, withinMm: 0, everyMm: windowM * 1_000 }, leaveOut: { aroundSplicesMm: 0, aroundStopsMm: 0 },
  chart: 'individuals', rules: [], lambda: null, width: null, k: null, h: null, batchSize: null, alpha: null, specification: null,
});

/** Rows of a chart over all samples of a channel, with windows of several lengths, by turns with the bare queries. */
export async function chartRowCosts(databaseUrl: string, string: ViewedString): Promise<ChartRowCosts[]> {
  const dataSource = await createDataSource({ url: databaseUrl, entities: ENTITIES, role: 'everymetre_app' }).initialize();
  const app = await createApp({ configuration: readConfiguration({ DATABASE_URL: databaseUrl }), dataSource });
  // The rows of bare summaries belong to the owner.
  const owner = await createDataSource({ url: databaseUrl, entities: [] }).initialize();
  try {
    // With nothing kept of the summaries: a new reader for every question.
    const fresh = (): ChartRows => {
      const windows = new WindowSummaries(new ViewReader(dataSource, app.get(SignalDetachments, { strict: false })), app.get(SignalStrokes, { strict: false }));
      const source = new ChannelReadings(app.get(SignalStretches, { strict: false }), app.get(SignalMarksService, { strict: false }), windows);
      return new ChartRows(app.get(ChartGrounds, { strict: false }), new CharacteristicSources([source]));
    };
    const all: ChartRowCosts[] = [];
    for (const windowM of WINDOWS_M) all.push(await costsOf(owner, string, windowM, { fresh, kept: app.get(ChartRows, { strict: false }) }));
    return all;
  } finally {
    await app.close();
    await dataSource.destroy();
    await owner.destroy();
  }
}

async function costsOf(owner: DataSource, string: ViewedString, windowM: number, { fresh, kept }: { readonly fresh: () => ChartRows; readonly kept: ChartRows }): Promise<ChartRowCosts> {
  const { stringId, channelId, km } = string;
  const [plan, question] = [planOf(string, windowM), { stringId, interval: { fromMm: 0, toMm: km * 1_000_000 }, asKnownAt: null }];
  const level = levelFor(windowM * SAMPLES_A_M) ?? 1;
  const summaries = (Math.ceil((km * 1_000 * SAMPLES_A_M) / BLOCK_SAMPLES) * BLOCK_SAMPLES) / spanOf(level);
  const nos = rowsOf(string, { cells: [{ level, fromCell: 0, toCell: summaries }], raw: [] }).map(([, no]) => no);
  const points = (await kept.of(plan, question)).points.length;
  const costs = { row: [] as RowCost[], again: [] as RowCost[], pages: [] as RowCost[], rows: [] as RowCost[] };
  for (let round = -WARM_UPS; round < ROUNDS; round += 1) {
    const own = {
      row: await costOf(() => fresh().of(plan, question)),
      again: await costOf(() => kept.of(plan, question)),
      pages: await costOf(() => owner.query('select block_no, body from signal_block where string_id = $1 and channel_id = $2 and level = $3 and block_no = any($4::int8[])', [stringId, channelId, level, nos])),
      rows: await costOf(() => owner.query('select cell_no, least, greatest, mean, samples, missing from bare_summary where km = $1 and level = $2 and cell_no < $3 order by cell_no', [km, level, summaries])),
    };
    if (round >= 0) for (const what of ['row', 'again', 'pages', 'rows'] as const) costs[what].push(own[what]);
  }
  const of = (all: readonly RowCost[]): RowCost => ({ cpuMs: median(all.map(({ cpuMs }) => cpuMs)), wallMs: median(all.map(({ wallMs }) => wallMs)) });
  return { windowM, points, summaries, row: of(costs.row), again: of(costs.again), pages: of(costs.pages), rows: of(costs.rows) };
}

async function costOf(work: () => Promise<unknown>): Promise<RowCost> {
  const [began, before] = [performance.now(), process.cpuUsage()];
  await work();
  const { user, system } = process.cpuUsage(before);
  return { cpuMs: (user + system) / 1_000, wallMs: performance.now() - began };
}
