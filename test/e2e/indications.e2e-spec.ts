import { describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { databaseState } from '../setup/database-state.js';
import { DROPOUT, inspectedLine, type Planted } from './indications.factory.js';
import { fieldsRefused, type Fields } from './line.factory.js';

const {
  api, engineer, stringId, post, made, amend, withdraw, get, reading, cutOut, channels, runId, sent, sentBack, rule, levels, detection, seenAt, evaluation, found, indications, ask,
} = inspectedLine();

const at = (clock: string): string => `2026-03-02T${clock}Z`;

/** A flaw of 78.4 % with tails of 40 %, one of 45 % and one that saturates beside a dropout. */
const FIRST: readonly Planted[] = [
  { fromMm: 1990, toMm: 2055, value: 40 }, { fromMm: 2000, toMm: 2040, value: 78.4 }, { fromMm: 5000, toMm: 5003, value: 45 },
  { fromMm: 7000, toMm: 7010, value: 100 }, { fromMm: 7010, toMm: 7020, value: DROPOUT },
];
const SECOND: readonly Planted[] = [{ fromMm: 2050, toMm: 2060, value: 60 }];

describe('a detection', () => {
  test('finds what was planted in stored samples, tells what it saw, and opens an indication for each', async () => {
    await sent(FIRST, SECOND);
    const ruleId = await made('indication-rules', rule());
    const id = await made('detections', detection(ruleId));
    const { items, spans } = await found(id);
    expect(spans).toEqual([[1, 1990, 2055], [2, 2050, 2060], [1, 7000, 7010]]);
    expect(items[0]).toMatchObject({ standing: [], parts: [{ runId: runId(), peak: '78.4', peakMm: 2000, isBound: false, begins: 'signal', ends: 'signal', samples: 65 }] });
    expect(items[2]).toMatchObject({ parts: [{ peak: '100', isBound: true, ends: 'gap' }] });
    const answer = await get('detections', id);
    expect(answer).toMatchObject({ foundCount: 3, openedCount: 3, ruleVersion: 1, notPlaced: [] });
    expect(answer['saw']).toMatchObject([
      { channelId: channels()[0], samples: 10_000, missingSamples: 10, saturatedSamples: 10, gapMm: 10, looked: { fromMm: 0, toMm: 10_000 }, backward: false },
      { channelId: channels()[1], samples: 10_000, missingSamples: 0, saturatedSamples: 0, gapMm: 0 },
    ]);
    expect((await indications()).map(({ footageFromMm, footageToMm, origin, detectionId, method, peak, peakUnit, peakIsBound, channelIds }) =>
      [footageFromMm, footageToMm, origin, detectionId, method, peak, peakUnit, peakIsBound, channelIds])).toEqual([
      [1990, 2055, 'detected', id, 'ET', '78.4', '%', false, [channels()[0]]], [2050, 2060, 'detected', id, 'ET', '60', '%', false, [channels()[1]]],
      [7000, 7010, 'detected', id, 'ET', '100', '%', true, [channels()[0]]],
    ]);
  });

  test('under a lower threshold shows what grew and what appeared, opens that alone, and leaves what was evaluated as it stood', async () => {
    await sent(FIRST, SECOND);
    const before = await made('detections', detection(await made('indication-rules', rule())));
    const [grown, , saturated] = await indications();
    await made('indication-evaluations', evaluation(String(grown!['id']), { relevant: false, cause: 'geometry', verdict: 'accept' }));
    const evaluations = async (): Promise<unknown> => (await engineer().send('GET', `/api/indication-evaluations?stringId=${stringId()}`)).body;
    const [stood, evaluated] = [await indications(), await evaluations()];

    const lower = await made('indication-rules', rule({ revision: '2', channels: levels('40', '12') }));
    const tail = detection(lower, { fromMm: 1000, toMm: 6000 });
    const after = await made('detections', tail);
    // At 12 % everything is above the release level: each channel shows one from end to end, and its last sample speaks for 2 mm.
    expect((await found(after)).spans).toEqual([[1, 1000, 6001], [2, 1000, 6001]]);

    const higher = await made('indication-rules', rule({ revision: '3', channels: levels('40', '20') }));
    const third = await made('detections', detection(higher));
    expect((await found(third)).items.map(({ fromMm, indicationId, standing }) => [fromMm, indicationId === null, (standing as string[]).length])).toEqual([
      [1990, true, 2], [2050, true, 2], [5000, true, 1], [7000, true, 1],
    ]);
    expect(await get('detections', third)).toMatchObject({ foundCount: 4, openedCount: 0 });

    const { body } = await ask(`detection-difference?before=${before}&after=${third}`);
    expect(body['counts']).toEqual([{ change: 'appeared', places: 1 }, { change: 'same', places: 3 }]);
    const wide = await ask(`detection-difference?before=${before}&after=${after}`);
    expect(wide.body['counts']).toEqual([{ change: 'grown', places: 2 }]);
    // At 7 m the latter was not to look: what the former found there has not vanished.
    expect((wide.body['cautions'] as string[])[0]).toMatch(/^1 place lies in pipe that only one of the two was to look at/);
    expect(wide.body).toMatchObject({ before: { foundCount: 3 }, after: { foundCount: 2 }, notFound: [] });
    const [first, ...others] = wide.body['places'] as { change: string; evaluated: Fields[] }[];
    expect(first).toMatchObject({ change: 'grown', evaluated: [{ indication: { id: grown!['id'] }, verdict: 'accept', footage: { fromMm: 1990, toMm: 2055 } }] });
    expect(others.map(({ evaluated: own }) => own.length)).toEqual([0]);

    expect(await evaluations()).toEqual(evaluated);
    const now = await indications();
    expect(now).toEqual(expect.arrayContaining(stood));
    expect(now).toHaveLength(stood.length + 2);
    expect(saturated).toMatchObject({ version: 1 });
  });

  test('opens nothing twice, when it is sent again and when two come at once', async () => {
    await sent(FIRST, SECOND);
    const ruleId = await made('indication-rules', rule());
    const one = { id: uuidv7(), ...detection(ruleId) };
    const [answer, again, ...others] = await Promise.all([post('detections', one), post('detections', one), post('detections', detection(ruleId)), post('detections', detection(ruleId))]);
    expect([answer, again].map(({ status, body }) => [status, body['id'], body['recordedAt']])).toEqual(Array(2).fill([201, one.id, answer.body['recordedAt']]));
    expect([answer, ...others].map(({ body }) => Number(body['openedCount'])).sort()).toEqual([0, 0, 3]);
    expect(await indications()).toHaveLength(3);
    expect(await post('detections', { ...one, fromMm: 5 })).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:id-taken' } });
  });

  test('leaves out what the rule says, takes what is not valid as missing, and tells both', async () => {
    await sent(FIRST, SECOND);
    const mark = (fromMm: number, toMm: number, effect: string, cause: string): Promise<string> => made('signal-marks', {
      stringId: stringId(), observedAt: at('06:20:00'), from: { footageMm: fromMm }, to: { footageMm: toMm }, runId: runId(), channelIds: [channels()[0]], effect, cause,
    });
    await mark(1980, 2010, 'not-valid', 'coupling-lost');
    await mark(6990, 7005, 'excluded', 'reference-standard');
    await mark(2035, 2040, 'excluded', 'review');
    const id = await made('detections', detection(await made('indication-rules', rule({ excludes: ['reference-standard'] }))));
    const { items, spans } = await found(id);
    expect(spans).toEqual([[1, 2010, 2055], [2, 2050, 2060], [1, 7005, 7010]]);
    expect(items.map(({ parts }) => (parts as Fields[])[0]!['begins'])).toEqual(['gap', 'signal', 'exclusion']);
    expect((await get('detections', id))['saw']).toMatchObject([{ missingSamples: 40, excludedSamples: 15, excludedAtThreshold: 5 }, { missingSamples: 0, excludedSamples: 0 }]);
  });

  test('sees samples as known then; those that have no footage are told', async () => {
    const ruleId = await made('indication-rules', rule());
    const { body: [{ now } = { now: '' }] } = { body: await api().dataSource.query<{ now: string }[]>("select to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD\"T\"HH24:MI:SS.US\"Z\"') as now") };
    await sent(FIRST, SECOND);
    expect(await post('detections', detection(ruleId, { asKnownAt: now }))).toMatchObject({ status: 201, body: { asKnownAt: now, saw: [], foundCount: 0 } });
    // Read before the counter has a period.
    await sent(FIRST, SECOND, 20_000, '05:50');
    const { body } = await post('detections', detection(ruleId));
    expect(body).toMatchObject({ foundCount: 3, notPlaced: channels().map((channelId) => ({ channelId, samples: 10_000, why: 'no-counter-period' })) });
  });

  test('of pipe that was read again takes all readings, or the latest that is not missing, as the rule says', async () => {
    await sent(FIRST, SECOND);
    // Going back, the first flaw is not there; where nothing was read before, there is one; the one that saturated was not read.
    await sentBack([{ fromMm: 7000, toMm: 7010, value: DROPOUT }, { fromMm: 7012, toMm: 7015, value: 60 }], SECOND, '06:14');
    const all = await made('detections', detection(await made('indication-rules', rule())));
    expect((await found(all)).spans).toEqual([[1, 1990, 2055], [2, 2050, 2060], [1, 7000, 7010], [1, 7012, 7015]]);
    const latest = await made('detections', detection(await made('indication-rules', rule({ revision: '2', repeats: 'latest' }))));
    const { items, spans } = await found(latest);
    expect(spans).toEqual([[2, 2050, 2060], [1, 7000, 7010], [1, 7012, 7015]]);
    expect(items.map(({ indicationId }) => indicationId)).toEqual([null, null, null]);
    expect((await get('detections', latest))['saw']).toMatchObject([
      { channelId: channels()[0], backward: false, samples: 10_000, readAgain: 9_990 }, { backward: true, samples: 10_000, missingSamples: 10, readAgain: 0 },
      { channelId: channels()[1], backward: false, readAgain: 10_000 }, { backward: true, readAgain: 0 },
    ]);
  });

  test('keeps what it found and what it ran with, and so does its rule', async () => {
    await sent(FIRST, SECOND);
    const [ruleId, free] = [await made('indication-rules', rule()), await made('indication-rules', rule({ revision: '2' }))];
    const id = await made('detections', detection(ruleId));
    expect(await amend('detections', id, 1, { toMm: 5000 })).toMatchObject({ status: 422, body: { errors: [{ field: 'toMm', value: 5000 }] } });
    expect(await amend('indication-rules', ruleId, 1, { combiningMm: 5 })).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:frozen' } });
    expect(await amend('indication-rules', free, 1, { combiningMm: 5 })).toMatchObject({ status: 200, body: { combiningMm: 5 } });
    expect(await withdraw('channels', channels()[0], 1)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:held' } });
    expect(await withdraw('indication-rules', ruleId, 1)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:held' } });
  });

  test('is withdrawn with what it opened, but not where any of that was evaluated', async () => {
    await sent(FIRST, SECOND);
    const id = await made('detections', detection(await made('indication-rules', rule())));
    const [one] = await indications();
    const evaluationId = await made('indication-evaluations', evaluation(String(one!['id'])));
    expect(await withdraw('detections', id, 1)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:held', detail: expect.stringMatching(/1 of the indications/) } });
    expect(await withdraw('indications', String(one!['id']), 1)).toMatchObject({ status: 409 });
    expect(await indications()).toHaveLength(3);
    expect(await withdraw('indication-evaluations', evaluationId, 1)).toMatchObject({ status: 200 });
    expect(await withdraw('detections', id, 1)).toMatchObject({ status: 200, body: { state: 'void' } });
    expect(await indications()).toEqual([]);
    const { versions } = await get('indications', `${String(one!['id'])}/history`) as { versions: Fields[] };
    expect(versions.map(({ action, reason }) => [action, reason])).toEqual([['created', null], ['voided', 'The detection that opened it was withdrawn: Entered by mistake.']]);
  });

  test('is not withdrawn while another one opened nothing because of it: what that found would be in no list', async () => {
    await sent(FIRST, SECOND);
    const first = await made('detections', detection(await made('indication-rules', rule())));
    const second = await made('detections', detection(await made('indication-rules', rule({ revision: '2' }))));
    expect(await get('detections', second)).toMatchObject({ foundCount: 3, openedCount: 0 });
    expect(await withdraw('detections', first, 1)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:held', detail: expect.stringMatching(/found 3 places/) } });
    expect(await indications()).toHaveLength(3);
    expect(await withdraw('detections', second, 1)).toMatchObject({ status: 200 });
    expect(await indications()).toHaveLength(3);
    expect(await withdraw('detections', first, 1)).toMatchObject({ status: 200 });
    expect(await indications()).toEqual([]);
  });

  test('opens anew what was read again after an evaluation had settled it, and not what was read before', async () => {
    await sent([{ fromMm: 1000, toMm: 1010, value: 60 }], []);
    const ruleId = await made('indication-rules', rule());
    await made('detections', detection(ruleId));
    const [one] = await indications();
    await made('indication-evaluations', evaluation(String(one!['id']), { verdict: 'accept' }));
    expect(await get('detections', await made('detections', detection(ruleId)))).toMatchObject({ foundCount: 1, openedCount: 0 });
    await sent([{ fromMm: 1000, toMm: 1010, value: 95 }], [], 0, '06:20');
    expect(await get('detections', await made('detections', detection(ruleId)))).toMatchObject({ foundCount: 1, openedCount: 1 });
    expect((await indications()).map(({ peak }) => peak).sort()).toEqual(['60', '95']);
    expect(await get('detections', await made('detections', detection(ruleId)))).toMatchObject({ foundCount: 1, openedCount: 0 });
  });

  test('that finds more than it keeps, or is of what is not there, is refused and leaves nothing', async () => {
    await sent(FIRST, SECOND);
    const noisy = Array.from({ length: 20_002 }, (_, nth) => ({ fromMm: nth * 2, toMm: nth * 2 + 1, value: 60 }));
    for (let fromMm = 20_000; fromMm < 65_000; fromMm += 10_000) {
      await sent(noisy.slice(0, 5_000).map((one) => ({ ...one, fromMm: one.fromMm + fromMm, toMm: one.toMm + fromMm })), [], fromMm, `06:${10 + fromMm / 1000 / 2}`);
    }
    const ruleId = await made('indication-rules', rule({ channels: levels('50', '50') }));
    const state = await databaseState(api().owner);
    expect(await post('detections', detection(ruleId))).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:too-much-found', errors: [{ field: 'ruleId' }] } });
    expect(fieldsRefused(await post('detections', detection(uuidv7(), { fromMm: 5, toMm: 5 })))).toEqual(['toMm']);
    expect(fieldsRefused(await post('detections', detection(ruleId, { asKnownAt: '2199-01-01T00:00:00Z' })))).toEqual(['asKnownAt']);
    expect(fieldsRefused(await post('detections', detection(uuidv7(), { doneBy: uuidv7() })))).toEqual(['ruleId', 'doneBy']);
    expect(await databaseState(api().owner)).toEqual(state);
  }, 60_000);
});

describe('a trial of other levels', () => {
  test('writes nothing, and tells what it would change beside what was evaluated', async () => {
    await sent(FIRST, SECOND);
    const ruleId = await made('indication-rules', rule());
    await made('detections', detection(ruleId));
    const [one] = await indications();
    await made('indication-evaluations', evaluation(String(one!['id'])));
    const seen = await made('indications', seenAt(9000, { channelIds: [channels()[0]], method: 'ET' }));
    await made('indication-evaluations', evaluation(seen));
    const state = await databaseState(api().owner);
    const trial = await ask(`detection-difference?ruleId=${ruleId}&threshold=42&channelId=${channels()[0]}`);
    expect(trial).toMatchObject({ status: 200, body: { before: { foundCount: 3, detection: null }, after: { foundCount: 4 }, left: 0 } });
    expect(trial.body['counts']).toEqual([{ change: 'appeared', places: 1 }, { change: 'same', places: 3 }]);
    expect((trial.body['places'] as { change: string; after: Fields[]; evaluated: Fields[] }[]).map(({ change, after, evaluated }) => [change, after[0]!['fromMm'], evaluated.length])).toEqual([
      ['same', 1990, 1], ['same', 2050, 0], ['appeared', 5000, 0], ['same', 7000, 0],
    ]);
    expect(trial.body['notFound']).toMatchObject([{ indication: { id: seen }, verdict: 'hold' }]);
    const stricter = await ask(`detection-difference?ruleId=${ruleId}&threshold=70&release=60&fromM=0&toM=3&limit=1`);
    expect(stricter.body).toMatchObject({ counts: [{ change: 'vanished', places: 1 }, { change: 'shrunk', places: 1 }], left: 1, places: [{ change: 'shrunk', after: [{ fromMm: 2000, toMm: 2040 }] }] });
    expect(await databaseState(api().owner)).toEqual(state);
  });

  test('refuses what does not go together, field by field', async () => {
    const ruleId = await made('indication-rules', rule());
    const refused = async (query: string): Promise<unknown> => {
      const answer = await ask(`detection-difference?${query}`);
      return [answer.status, fieldsRefused(answer)];
    };
    expect(await refused('')).toEqual([400, ['before', 'after']]);
    expect(await refused(`ruleId=${ruleId}`)).toEqual([400, ['threshold']]);
    expect(await refused(`ruleId=${ruleId}&threshold=4,5&before=${ruleId}&fromM=5&toM=5`)).toEqual([400, ['before', 'threshold', 'toM']]);
    expect(await refused(`ruleId=${ruleId}&threshold=20`)).toEqual([422, ['release']]);
    expect(await refused(`ruleId=${ruleId}&threshold=60&channelId=${ruleId}`)).toEqual([422, ['channelId']]);
    expect(await ask(`detection-difference?before=${ruleId}&after=${ruleId}`)).toMatchObject({ status: 404 });
  });
});

describe('an indication', () => {
  test('that was detected keeps where it is and what it showed; people add what it is', async () => {
    await sent(FIRST, SECOND);
    await made('detections', detection(await made('indication-rules', rule())));
    const [one] = await indications();
    const id = String(one!['id']);
    expect(await amend('indications', id, 1, { imperfection: 'penetrator', surface: 'formed-inside', clockDeg: '2.5' })).toMatchObject({ status: 200, body: { imperfection: 'penetrator' } });
    const moved = await amend('indications', id, 2, { from: { footageMm: 1 }, peak: '12', channelIds: [channels()[1]] });
    expect([moved.status, fieldsRefused(moved)]).toEqual([422, ['from', 'channelIds', 'peak']]);
  });

  test('that a person saw names its method, and moves with the counter that placed it', async () => {
    expect(fieldsRefused(await post('indications', seenAt(5_000, { method: null, peak: '80' })))).toEqual(['method', 'peakUnit', 'peakIsBound']);
    const id = await made('indications', { ...seenAt(0), from: { counterReading: '5000' }, to: null });
    expect(await get('indications', id)).toMatchObject({ origin: 'manual', detectionId: null, footageFromMm: 5_000, footageToMm: 5_001 });
    const { body } = await engineer().send<{ items: { id: string }[] }>('GET', `/api/counter-periods?stringId=${stringId()}`);
    expect(await amend('counter-periods', body.items[0]!.id, 1, { scaleMmPerCount: '1.1' })).toMatchObject({ status: 200 });
    expect(await get('indications', id)).toMatchObject({ version: 2, footageFromMm: 5_500 });
  });
});

/** 5 m/min from 06:12 on: at 06:14 the line has made 25 m. */
async function running(): Promise<void> {
  for (const [clock, counted] of [['06:12', '15000'], ['06:13', '20000'], ['06:14', '25000']] as const) await made('counter-readings', reading(clock, counted));
}

const timeLeft = async (indicationId: string, changes: Fields = {}): Promise<unknown> => {
  const answer = await post('indication-evaluations', evaluation(indicationId, changes));
  expect(answer).toMatchObject({ status: 201 });
  return answer.body['timeLeft'];
};

describe('the time left at a decision', () => {
  test('is 25 m and 5 minutes for a place 5 m past the weld point at 5 m/min, and stays so whatever is learned later', async () => {
    await running();
    const id = await made('indications', seenAt(20_000));
    const answer = await post('indication-evaluations', evaluation(id));
    const left = {
      at: at('06:14:00.000000'), state: 'running-out', leftMm: 25_000, plusMinusMm: 0, minutes: '5.0', speedMPerMin: '5.00', readingAgeS: 0, because: '25.000 m at 5.00 m/min',
      caution: expect.stringMatching(/no interlock/), readings: [{ footageMm: 20_000, at: at('06:13:00.000000') }, { footageMm: 25_000, at: at('06:14:00.000000') }],
    };
    expect(answer.body).toMatchObject({ timeLeft: left });
    await made('counter-readings', reading('06:20', '55000'));
    const evaluationId = String(answer.body['id']);
    const amended = await amend('indication-evaluations', evaluationId, 1, { observedAt: at('06:15:00'), note: 'The clock was wrong' });
    expect(amended).toMatchObject({ status: 200, body: { timeLeft: left, marks: [{ kind: 'noted', field: 'observedAt', limit: expect.stringMatching(/06:14:00/) }] } });
    const typed = await post('indication-evaluations', evaluation(id, { timeLeft: { minutes: '60' } }));
    expect([typed.status, fieldsRefused(typed)]).toEqual([400, ['timeLeft']]);
    expect(fieldsRefused(await amend('indication-evaluations', evaluationId, 2, { timeLeft: null }))).toEqual(['timeLeft']);
  });

  test('tells of a line that stands, that ran back, of a counter that fell silent, and of pipe past the hang-off', async () => {
    await running();
    const [id, gone] = [await made('indications', seenAt(20_000)), await made('indications', seenAt(1_000))];
    expect(await timeLeft(id, { observedAt: at('06:14:30') })).toMatchObject({ state: 'running-out', leftMm: 22_500, minutes: '4.5', readingAgeS: 30 });
    expect(await timeLeft(id, { observedAt: at('06:25:00') })).toMatchObject({ state: 'not-known', leftMm: null, minutes: null, readingAgeS: 660, because: expect.stringMatching(/11 min old; then 25\.000 m/) });
    await made('counter-readings', reading('06:15', '25000'));
    expect(await timeLeft(id, { observedAt: at('06:15:00') })).toMatchObject({ state: 'standing', leftMm: 25_000, minutes: null, speedMPerMin: '0.00' });
    await made('counter-readings', reading('06:16', '22000'));
    expect(await timeLeft(id, { observedAt: at('06:16:00') })).toMatchObject({ state: 'moving-away', leftMm: 28_000, minutes: null, speedMPerMin: '-3.00' });
    for (const [clock, counted] of [['06:17', '30000'], ['06:18', '35000']] as const) await made('counter-readings', reading(clock, counted));
    expect(await timeLeft(gone, { observedAt: at('06:18:00') })).toMatchObject({ state: 'past-the-hang-off', leftMm: 0, minutes: '0.0', because: 'past the hang-off' });
    expect(await timeLeft(id, { observedAt: at('05:00:00') })).toMatchObject({ state: 'not-known', leftMm: null, because: expect.stringMatching(/^not known: the first footage reading/) });
  });
});

describe('open indications', () => {
  interface Page {
    readonly ahead: number;
    readonly past: number;
    readonly cutOut: number;
    readonly items: { indication: { id: string }; because: string; timeLeft: Fields }[];
    readonly next: string | null;
  }
  const open = async (query = ''): Promise<Page> => (await ask(`open-indications?at=2026-03-02T06:14:00Z${query}`)).body as unknown as Page;

  test('come soonest first, those past the hang-off after all others, until an evaluation settles them', async () => {
    await running();
    const [near, far, strip] = [await made('indications', seenAt(10_000)), await made('indications', seenAt(24_000)), await made('indications', seenAt(26_000))];
    await made('counter-readings', reading('06:11', '10000'));
    const first = await open();
    expect(first.items.map(({ indication, because, timeLeft: { leftMm, minutes } }) => [indication.id, because, leftMm, minutes])).toEqual([
      [near, 'nobody evaluated it', 15_000, '3.0'], [far, 'nobody evaluated it', 29_000, '5.8'], [strip, 'nobody evaluated it', 31_000, '6.2'],
    ]);
    for (const [clock, counted] of [['06:15', '36000'], ['06:16', '41000']] as const) await made('counter-readings', reading(clock, counted));
    const later = (await ask('open-indications?at=2026-03-02T06:16:00Z&limit=2')).body;
    expect(later).toMatchObject({ ahead: 2, past: 1, next: '2', items: [{ indication: { id: far } }, { indication: { id: strip } }] });
    expect((await ask('open-indications?at=2026-03-02T06:16:00Z&limit=2&after=2')).body).toMatchObject({ next: null, items: [{ indication: { id: near }, timeLeft: { state: 'past-the-hang-off' } }] });

    await made('indication-evaluations', evaluation(near, { verdict: 'accept' }));
    const repairing = await made('indication-evaluations', evaluation(far, { verdict: 'repair' }));
    await made('indication-evaluations', evaluation(strip, { verdict: 're-inspect' }));
    expect((await open()).items.map(({ indication, because }) => [indication.id, because])).toEqual([[far, 'to be repaired, and no repair is linked'], [strip, 'to be inspected again']]);
    const repairId = await made('repairs', {
      stringId: stringId(), observedAt: at('06:40:00'), from: { footageMm: 24_000 }, to: { footageMm: 24_100 }, method: 'straightening', found: 'Dent', readings: [], chosen: [], photoSha256s: [],
    });
    expect(await amend('indication-evaluations', repairing, 1, { repairId })).toMatchObject({ status: 200, body: { repairId, marks: [] } });
    await made('indication-evaluations', evaluation(strip, { observedAt: at('06:50:00'), verdict: 'hold' }));
    expect((await open()).items.map(({ indication, because }) => [indication.id, because])).toEqual([[strip, 'on hold']]);
    expect((await ask('open-items')).body['items']).toEqual(expect.arrayContaining([expect.objectContaining({ what: 'indication', words: 'on hold', footage: [{ fromMm: 26_000, toMm: 26_100 }] })]));
  });

  test('leave out what was cut out, and count it', async () => {
    const id = await made('indications', seenAt(10_000));
    await made('indications', seenAt(10_150));
    const cutOutId = await made('cut-outs', { ...cutOut('06:30', { footageMm: 9_900 }, { footageMm: 10_200 }) });
    expect(await open()).toMatchObject({ ahead: 1, cutOut: 1, items: [{ timeLeft: { state: 'not-known' } }] });
    expect(await get('indications', `${id}/standing`)).toMatchObject({ open: null, evaluations: [] });
    expect((await post('indication-evaluations', evaluation(id, { verdict: 'cut-out', cutOutId }))).body).toMatchObject({ cutOutId, marks: [] });
    expect(await get('indications', `${id}/standing`)).toMatchObject({ evaluations: [{ verdict: 'cut-out', links: [{ kind: 'cut-out', id: cutOutId }] }] });
  });
});

test('the standing of an indication shows what was found, and every evaluation with person, level, instrument and links', async () => {
  await sent(FIRST, SECOND);
  const detectionId = await made('detections', detection(await made('indication-rules', rule())));
  const [one] = await indications();
  const id = String(one!['id']);
  const instrumentId = await made('instruments', { observedAt: at('05:00:00'), number: `UT-${uuidv7()}`, kind: 'gauge', name: 'Ultrasonic gauge', measures: ['thickness'], unit: 'mm', resolution: '0.01' });
  await made('qualifications', {
    observedAt: at('05:00:00'), personId: engineer().personId, number: `Q-${uuidv7()}`, standard: 'ISO 9712', subject: 'non-destructive-testing', methods: ['UT'], level: 2, scope: [],
    startsOn: '2025-06-02', expiresOn: '2030-06-01', authorisationNeeded: false, examiner: 'Examining body',
  });
  const limit = { limitText: 'Plan 6.2', limitMinWallMm: '4.50' };
  await made('indication-evaluations', evaluation(id, { level: '1' }));
  const measured = { method: 'UT', technique: 'UT-07 rev 1', instrumentId, remainingWallMm: '4.41', ...limit };
  const accepted = await post('indication-evaluations', evaluation(id, { ...measured, verdict: 'accept' }));
  expect([accepted.status, fieldsRefused(accepted)]).toEqual([422, ['verdict']]);
  const marked = await post('indication-evaluations', evaluation(id, { ...measured, observedAt: at('06:16:00'), verdict: 'mark' }));
  expect(marked.body).toMatchObject({ marks: [{ kind: 'out-of-specification', field: 'remainingWallMm', limit: 'at least 4.50 mm' }] });
  const standing = await get('indications', `${id}/standing`);
  expect(standing).toMatchObject({
    indication: { label: 'indication at 1990 mm' }, detection: { id: detectionId }, found: { fromMm: 1990, parts: [{ peak: '78.4' }] }, open: null,
    evaluations: [
      { verdict: 'hold', level: '1', qualified: { found: 'nearest' }, instrument: null, links: [] },
      { verdict: 'mark', level: '2', qualified: { found: 'covering' }, instrument: { instrument: { id: instrumentId } } },
    ],
  });
  const recalled = (await engineer().send('GET', `/api/recall?instrumentId=${instrumentId}`)).body;
  expect(JSON.stringify(recalled)).toContain(String(marked.body['id']));
  const done = (await engineer().send('GET', `/api/recall?personId=${engineer().personId}`)).body;
  expect(JSON.stringify(done)).toContain(id);
});
