import { beforeEach, describe, expect, test } from '@jest/globals';
import { normalNumbers } from '../fixtures/normal-numbers.js';
import { beadHeight, controlChart, signLimits } from './control-charts.factory.js';
import { at, lineFactory, type Fields } from './line.factory.js';

const { engineer, stringId, made, period, setup, reading } = lineFactory();

const RULES = ['one-beyond-3-sigma', 'two-of-three-beyond-2-sigma', 'four-of-five-beyond-1-sigma', 'eight-on-one-side', 'six-steadily'];
const NONE = { lambda: null, width: null, k: null, h: null, batchSize: null, rules: RULES };

/** Eighty metres of pipe with a bead height each half metre, which drifts off after 30 m; the line was set up anew at 41 m and at 62 m. */
beforeEach(async () => {
  await made('counter-periods', period());
  await made('line-setups', setup());
  for (const [clock, mm] of [['06:00', 0], ['14:00', 80_000]] as const) expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(mm)) })).toMatchObject({ status: 201 });
  const drawn = normalNumbers(23);
  for (let nth = 0; nth < 160; nth += 1) {
    const height = 0.9 + 0.05 * drawn() + (nth > 60 ? 0.0012 * (nth - 60) : 0);
    await made('inspections', beadHeight(stringId(), nth * 500 + 100, height.toFixed(3), { observedAt: at('14:10') }));
  }
  for (const clock of ['10:06', '12:12']) await made('line-setups', setup({ observedAt: at(clock) }));
});

interface Shown {
  readonly parts: readonly { readonly signals: readonly Fields[]; readonly panels: readonly { readonly shows: string }[] }[];
}

describe('a chart asked for metre by metre has the signals of one asked for at once', () => {
  test.each<[string, Fields]>([
    ['individuals', NONE], ['long-term', NONE], ['residuals', NONE], ['ewma', { ...NONE, rules: [], lambda: '0.2', width: '2.7' }], ['cusum', { ...NONE, rules: [], k: '0.5', h: '4' }],
    ['batch-means', { ...NONE, batchSize: 4 }], ['mean-range', { ...NONE, subgroup: { size: 2, withinMm: 600, everyMm: 1_000 } }], ['between-within', { ...NONE, subgroup: { size: 2, withinMm: 600, everyMm: 1_000 } }],
  ])('%s', async (chart, changes) => {
    const chartId = await made('control-charts', controlChart(stringId(), { chart, ...changes }));
    expect(await signLimits(engineer(), chartId, [0, 30_000], { appliesFromMm: 20_000 })).toMatchObject({ status: 201 });
    const signals = async (fromMm: number, toMm: number): Promise<string[]> => {
      const answer = await engineer().send<Shown>('GET', `/api/control-charts/${chartId}/chart?fromM=${fromMm / 1000}&toM=${toMm / 1000}`);
      expect(answer.status).toBe(200);
      return answer.body.parts.flatMap((part) => part.signals.map(({ panel, rule, place, pattern }) => JSON.stringify([panel, rule, place, pattern])));
    };
    const whole = await signals(20_000, 80_000);
    expect(whole.length).toBeGreaterThan(2);
    const pieces: string[] = [];
    for (let fromMm = 20_000; fromMm < 80_000; fromMm += 4_000) pieces.push(...await signals(fromMm, fromMm + 4_000));
    // A point on an edge is in both of its neighbours.
    expect([...new Set(pieces)].sort()).toEqual([...new Set(whole)].sort());
  });
});
