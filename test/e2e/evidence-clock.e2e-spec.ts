import { beforeEach, describe, expect, test } from '@jest/globals';
import { item, plan } from './evidence.factory.js';
import { at, lineFactory, type Fields } from './line.factory.js';

const { engineer, stringId, made, period, setup, reading } = lineFactory();

interface Item { readonly what: string; readonly open: string; readonly state: string; readonly record: Fields; readonly parts: readonly Fields[]; readonly leftMm: number | null }

/** Thirty metres of pipe at 5 m/min, 18 m before the hang-off. */
beforeEach(async () => {
  await made('counter-periods', period());
  await made('line-setups', setup());
  for (const [clock, mm] of [['06:10', 5_000], ['06:11', 10_000], ['06:12', 15_000], ['06:13', 20_000], ['06:14', 25_000], ['06:15', 30_000]] as const) {
    expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(mm)) })).toMatchObject({ status: 201 });
  }
  await made('control-plans', plan(stringId(), [item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 500 }), item('NC-1', 'nonconformances-closed'), item('REL', 'released')]));
});

async function clock(): Promise<readonly Item[]> {
  const answer = await engineer().send<{ items: Item[] }>('GET', `/api/casing-strings/${stringId()}/hold-clock?at=${at('06:15')}`);
  expect(answer).toMatchObject({ status: 200 });
  return answer.body.items;
}

const measured = async (footageMm: number, verdict: string): Promise<string> => made('inspections', {
  stringId: stringId(), observedAt: at('06:14'), from: { footageMm }, kind: 'dimensional', characteristic: 'outside diameter', value: '127.9', unit: 'mm', verdict,
});

describe('the hold clock lists', () => {
  test('pipe on which evidence is suspect or failed, with the record that says so, and no pipe of which nothing is known', async () => {
    const rejected = await measured(20_000, 'rejected');
    const items = await clock();
    expect(items.map(({ what, open, record, leftMm }) => [what, open, record['id'], leftMm])).toEqual([
      ['evidence', 'OD-1 suspect: outside diameter 127.9 mm was rejected within the reach of this place', rejected, 7_500],
      ['evidence', 'OD-1 failed: outside diameter 127.9 mm: rejected', rejected, 8_000],
    ]);
  });

  test('holds until they are lifted, on strip that is to be pipe too', async () => {
    const hold = (fromMm: number, toMm: number): Promise<string> => made('holds', {
      stringId: stringId(), observedAt: at('06:14'), cause: 'Odd sound at the squeeze rolls', intervals: [{ from: { footageMm: fromMm }, to: { footageMm: toMm } }], coilIds: [], spliceIds: [],
    });
    const [onLine, strip] = [await hold(15_000, 16_000), await hold(31_000, 32_000)];
    expect((await clock()).map(({ what, record, leftMm }) => [what, record['id'], leftMm])).toEqual([['hold', onLine, 3_000], ['hold', strip, 19_000]]);
    await made('hold-liftings', { stringId: stringId(), observedAt: at('06:14'), holdId: onLine, grounds: 'Bearing of a roll', evidence: 'Seen', ownHoldBecause: 'Alone on shift' });
    expect((await clock()).map(({ record }) => record['id'])).toEqual([strip]);
  });

  test('splices that are not released, whether or not they are accepted', async () => {
    const heatId = await made('heats', { observedAt: at('05:00'), number: `H-${stringId().slice(-8)}`, grade: 'S420MC' });
    const coil = async (number: string): Promise<string> => {
      const id = await made('coils', { observedAt: at('05:00'), number: `${number}-${stringId().slice(-8)}`, heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850' });
      await made('deviation-permits', { observedAt: at('05:00'), coilId: id, departure: 'Strip of a trial', limit: 'Trials only', validUntil: '2099-01-01T00:00:00Z' });
      return id;
    };
    const spliceId = await made('splices', {
      stringId: stringId(), observedAt: at('06:14'), number: 'S-1', leavingCoilId: await coil('A'), enteringCoilId: await coil('B'), from: { footageMm: 18_000 }, angleDeg: '90', hand: 'square',
      confirmed: true, verdict: 'accepted',
    });
    expect((await clock()).map(({ what, open, record, leftMm }) => [what, open, record['id'], leftMm])).toEqual([['splice-release', 'splice S-1 is not released', spliceId, 6_000]]);
  });
});
