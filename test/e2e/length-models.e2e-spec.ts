import { beforeEach, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { LengthModels } from '../../apps/api/src/line/length-models.service.js';
import { RecordDesk } from '../../apps/api/src/records/record-desk.js';
import { CasingStringsService } from '../../apps/api/src/strings/casing-strings.service.js';
import { lineFactory, type Fields } from './line.factory.js';

const { api, stringId, post, made, amend, withdraw, get, setup, period, cutOut } = lineFactory();

beforeEach(async () => {
  await made('line-setups', setup());
  await made('counter-periods', period());
});

let second = 0;
/** Each a second after the one before. */
const next = (): Fields => {
  second += 1;
  return { id: uuidv7(), stringId: stringId(), observedAt: new Date(Date.UTC(2026, 2, 2, 7) + second * 1000).toISOString(), reading: String(second * 80) };
};

async function entered(content: Fields): Promise<string> {
  expect(await post('counter-readings', content)).toMatchObject({ status: 201 });
  return String(content['id']);
}

test('a kept model that grows with its readings is the one that is made anew, whatever is written between them', async () => {
  const kept = api().app.get(LengthModels);
  const fresh = (): LengthModels => new LengthModels(api().app.get(RecordDesk), api().app.get(CasingStringsService));
  const compare = async (): Promise<void> => {
    const [own, other] = [await kept.of(stringId(), null), await fresh().of(stringId(), null)];
    expect(own.lengths.lengths).toEqual(other.lengths.lengths);
    expect([own.revision, own.readings, own.string, own.records]).toEqual([other.revision, other.readings, other.string, other.records]);
  };
  const batch = async (): Promise<void> => {
    expect((await post('counter-readings/batch', { id: undefined, readings: [next(), next(), next()] })).status).toBe(201);
  };
  const writes: (() => Promise<unknown>)[] = [
    () => entered(next()), batch, () => entered(next()),
    async () => amend('counter-readings', await entered(next()), 1, { reading: String(second * 80 + 5) }), () => entered(next()),
    async () => withdraw('counter-readings', await entered(next()), 1),
    // A late one, and one of another counter.
    () => entered({ ...next(), observedAt: '2026-03-02T06:59:00Z', reading: '1' }), () => entered({ ...next(), counter: 'second' }), () => entered(next()),
    () => made('cut-outs', cutOut('09:00', { footageMm: 100 }, { footageMm: 150 })), () => entered(next()),
    () => made('line-setups', setup({ observedAt: '2026-03-02T09:30:00Z' })),
    async () => {
      const { version } = await get('casing-strings', stringId());
      return amend('casing-strings', stringId(), Number(version), { lengthRatio: '0.991' });
    },
    // What all strings share moves their revisions, and not their models.
    () => made('wells', { name: `Lindmoor Geothermal ${uuidv7()}`, datum: 'Top of the guide frame', observedAt: '2026-03-02T05:00:00Z' }), () => entered(next()),
    () => Promise.all([entered(next()), batch(), entered(next())]), batch,
  ];
  for (const write of writes) {
    await write();
    await compare();
  }
  // Several at once.
  for (const write of writes.slice(0, 3)) await write();
  await compare();
});

test('a reading alone does not have the others read again', async () => {
  const kept = api().app.get(LengthModels);
  await entered(next());
  const { readings: [first], records } = await kept.of(stringId(), null);
  await entered(next());
  const grown = await kept.of(stringId(), null);
  expect([grown.readings.length, grown.readings[0] === first, grown.records === records]).toEqual([2, true, true]);
  await amend('counter-readings', String(grown.readings[1]?.id), 1, { reading: '7' });
  expect((await kept.of(stringId(), null)).records === records).toBe(false);
});
