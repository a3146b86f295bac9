import { levelFor } from '../../apps/api/src/signals/window-cells.js';
import { BLOCK_SAMPLES, spanOf } from '../../libs/signals/index.js';
import { entered, type Client } from './bench-string.js';
import { asked } from './signal-string.js';
import { percentiles, type Percentiles, type ViewedString } from './views.js';

const ROUNDS = 20;
const WARM_UPS = 3;
const SAMPLES_A_M = 1_000;

/** How readings of a channel are put together: windows of a subgroup, and how far one begins from the next. */
interface Laid {
  readonly windowM: number;
  readonly size: number;
  readonly everyM: number;
}

const LAID: readonly Laid[] = [{ windowM: 100, size: 1, everyM: 100 }, { windowM: 10, size: 1, everyM: 10 }, { windowM: 1, size: 5, everyM: 20 }, { windowM: 1, size: 1, everyM: 1 }];

/** Charts over all pipe of a string, and a bare handler that fetches as many summaries. Times of whole requests, ms. */
export interface ChartRequestFigures extends Laid {
  readonly points: number;
  readonly summaries: number;
  readonly megabytes: number;
  readonly firstMs: number;
  readonly chart: Percentiles;
  readonly bare: Percentiles;
}

/** Trial limits and the chart of them, over the whole string, by turns with the bare handler. */
export async function compareChartRequests(client: Client, bareUrl: string, string: ViewedString): Promise<ChartRequestFigures[]> {
  const figures: ChartRequestFigures[] = [];
  for (const [nth, laid] of LAID.entries()) figures.push(await comparedOne(client, bareUrl, string, laid, nth));
  return figures;
}

async function comparedOne(client: Client, bareUrl: string, { stringId, channelId, km }: ViewedString, laid: Laid, nth: number): Promise<ChartRequestFigures> {
  const level = levelFor(laid.windowM * SAMPLES_A_M) ?? 1;
  const all = (Math.ceil((km * 1_000 * SAMPLES_A_M) / BLOCK_SAMPLES) * BLOCK_SAMPLES) / spanOf(level);
  const summaries = Math.ceil((all * laid.windowM * laid.size) / laid.everyM);
  const chartId = await entered(client, 'control-charts', chartOf(stringId, channelId, laid, `B-${nth}`));
  const path = `/api/control-charts/${chartId}/chart?fromM=0&toM=${km * 1_000}&limits=trial`;
  const barePath = `/summaries?km=${km}&level=${level}&from=0&to=${summaries}`;
  const first = await asked(client, path);
  const { parts } = JSON.parse(first.bytes.toString()) as { readonly parts: readonly { readonly points: readonly unknown[] }[] };
  const times = { chart: [] as number[], bare: [] as number[] };
  for (let round = -WARM_UPS; round < ROUNDS; round += 1) {
    const own = { chart: (await asked(client, path)).ms, bare: (await asked({ ...client, url: bareUrl }, barePath)).ms };
    if (round >= 0) for (const what of ['chart', 'bare'] as const) times[what].push(own[what]);
  }
  return { ...laid, points: parts[0]?.points.length ?? 0, summaries, megabytes: first.bytes.length / 1e6, firstMs: first.ms, chart: percentiles(times.chart), bare: percentiles(times.bare) };
}

const chartOf = (stringId: string, channelId: string, { windowM, size, everyM }: Laid, code: string): object => ({
  stringId, observedAt: '2026-03-02T09:00:00Z', code, title: 'Wall', characteristic: { of: 'channel', channelIds: [channelId], statistic: 'mean', windowMm: windowM * 1_000 }, unit: 'mm',
  subgroup: { size, withinMm: size === 1 ? 0 : size * windowM * 1_000, everyMm: everyM * 1_000 }, leaveOut: { aroundSplicesMm: 0, aroundStopsMm: 0 }, chart: size === 1 ? 'individuals' : 'mean-deviation',
  rules: ['one-beyond-3-sigma', 'eight-on-one-side'], reaction: { repeat: 'Read again.', causes: ['gauge'], adjust: 'After two.', decidedBy: 'Shift lead' },
});
