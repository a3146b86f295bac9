import { expect, test } from '@jest/globals';
import { Dice } from '../setup/bad-entries.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { DROPOUT, inspectedLine, valuesOf, type Planted } from './indications.factory.js';
import type { Fields } from './line.factory.js';

const { api, stringId, made, post, get, channels, sent, rule, detection, seenAt, evaluation, found, indications } = inspectedLine();

const RUNS = 10;
const LENGTH_MM = 2_000;
const VERDICTS = ['accept', 'mark', 'hold', 're-inspect'] as const;
/** Over all runs: a third, or less, of what each of ten seeds gave. */
const LEAST = { evaluated: 6, opened: 5, covered: 6 };

/** Flaws, some beside each other, and dropouts over some of them. */
function planted(dice: Dice): Planted[] {
  return Array.from({ length: 4 + dice.roll(6) }, () => {
    const fromMm = dice.roll(LENGTH_MM - 60);
    return { fromMm, toMm: fromMm + 1 + dice.roll(60), value: dice.roll(6) === 0 ? DROPOUT : 20 + dice.roll(80) };
  });
}

/** A later rule looks for less, as one that is tried after the first does; now and then it has a higher threshold all the same. */
const levels = (dice: Dice, nth: number): Fields => {
  const threshold = (nth === 1 ? 50 : 25) + dice.roll(45);
  return { threshold: String(threshold), release: String(15 + dice.roll(threshold - 14)) };
};

/** Every version of every indication and evaluation of the string, as the database has them. */
const rows = async (table: string): Promise<Map<string, unknown>> => {
  const all: { id: string; version: number; row: unknown }[] = await api().owner.query(`select id, version, to_jsonb(t) as row from ${table} t where string_id = $1`, [stringId()]);
  return new Map(all.map(({ id, version, row }) => [`${id} ${version}`, row]));
};

test('no detection loses, moves or changes an indication, evaluated or not; and no sample at the threshold is without one', async () => {
  const { seed = Date.now() % 1_000_000_000 } = seedFromEnvironment();
  const dice = new Dice(seed);
  const reached = { evaluated: 0, opened: 0, covered: 0 };
  for (let run = 0; run < RUNS; run += 1) {
    const signals = [planted(dice), planted(dice)] as const;
    const fromMm = run * LENGTH_MM;
    const moved = signals.map((one) => one.map((flaw) => ({ ...flaw, fromMm: flaw.fromMm + fromMm, toMm: flaw.toMm + fromMm })));
    await sent(moved[0]!, moved[1]!, fromMm, `06:${10 + run}`, LENGTH_MM);
    const within = { fromMm, toMm: fromMm + LENGTH_MM };
    const ruleOf = (nth: number): Promise<string> => made('indication-rules', rule({
      revision: `${run}.${nth}`, combiningMm: dice.of([0, 0, 10]), jointMm: dice.of([null, 0]), channels: channels().map((channelId) => ({ channelId, sense: 'above', ...levels(dice, nth) })),
    }));
    await made('detections', detection(await ruleOf(1), within));
    await made('indications', seenAt(fromMm + dice.roll(LENGTH_MM - 100), { channelIds: [dice.of(channels())], method: 'ET' }));
    const standing = (await indications()).filter(({ footageFromMm }) => Number(footageFromMm) >= fromMm);
    for (const { id } of standing.filter(() => dice.roll(3) > 0)) {
      const isRelevant = dice.roll(3) > 0;
      // After all samples were read.
      const said = { observedAt: '2026-03-02T06:40:00Z', relevant: isRelevant, cause: isRelevant ? null : 'noise', verdict: dice.of(VERDICTS) };
      expect(await post('indication-evaluations', evaluation(String(id), said))).toMatchObject({ status: 201 });
      reached.evaluated += 1;
    }
    const [before, evaluated] = [await rows('indication'), await rows('indication_evaluation')];

    const secondRule = await ruleOf(2);
    const { items } = await found(await made('detections', detection(secondRule, within)));
    const after = await rows('indication');
    expect([seed, run, new Map([...after].filter(([key]) => before.has(key)))]).toEqual([seed, run, before]);
    expect([seed, run, await rows('indication_evaluation')]).toEqual([seed, run, evaluated]);
    expect([...after.keys()].filter((key) => !before.has(key)).sort()).toEqual(items.flatMap(({ indicationId }) => (typeof indicationId === 'string' ? [`${indicationId} 1`] : [])).sort());
    reached.opened += items.filter(({ indicationId }) => indicationId !== null).length;
    reached.covered += items.filter(({ indicationId }) => indicationId === null).length;
    await everySampleHasOne(secondRule, moved, fromMm);
  }
  process.stdout.write(`random detections: seed ${seed}, ${JSON.stringify(reached)}\n`);
  expect(reached.evaluated).toBeGreaterThanOrEqual(LEAST.evaluated);
  expect(reached.opened).toBeGreaterThanOrEqual(LEAST.opened);
  expect(reached.covered).toBeGreaterThanOrEqual(LEAST.covered);
}, 120_000);

/** Millimetre by millimetre: what the channel showed at the threshold lies in an indication that names the channel. */
async function everySampleHasOne(ruleId: string, signals: readonly (readonly Planted[])[], fromMm: number): Promise<void> {
  const { channels: held } = await get('indication-rules', ruleId) as { channels: { channelId: string; threshold: string }[] };
  const all = await indications();
  for (const [index, { channelId, threshold }] of held.entries()) {
    const own = all.filter(({ channelIds }) => (channelIds as string[]).includes(channelId));
    const without = valuesOf(fromMm, fromMm + LENGTH_MM, signals[index]!).flatMap((value, nth) => {
      const atMm = fromMm + nth;
      const isIn = own.some(({ footageFromMm, footageToMm }) => Number(footageFromMm) <= atMm && atMm < Number(footageToMm));
      return value >= Number(threshold) && !isIn ? [atMm] : [];
    });
    expect([channelId, without]).toEqual([channelId, []]);
  }
}
