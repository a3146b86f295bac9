import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { RecallAnswer, SetsAnswer } from '../../apps/api/src/recall/recall.dto.js';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';
import { StringBench } from '../setup/string-bench.js';
import { buildString } from '../setup/string-builder.js';
import { affectedBy, type Concern } from './affected.reference.js';
import { drawHistory, drawQuestions, OFFSETS } from './draw.js';
import type { History, HistoryQuestion } from './history.js';
import { KNOWN_STRING, walkedMetres, type WalkedMetres } from './metres.reference.js';
import { play, type Played, type Stage } from './player.js';

/**
 * Random histories of work, calibrations and qualifications, played in through the API and recalled from: each answer must
 * name exactly the records and the metres, on both walls, that brute force finds.
 */
const HISTORIES = 200;
const FIRST_SEED = Number.parseInt(process.env['TEST_SEED'] ?? '20261125', 10);
const TIME_ZONES: Readonly<Record<number, string>> = { 0: 'UTC', 60: 'Etc/GMT-1', [-300]: 'Etc/GMT+5', 840: 'Etc/GMT-14' };

let api: TestApi;
let engineer: SignedIn;
const stages = new Map<number, Stage>();

beforeAll(async () => {
  api = await startTestApi();
  const bench = await StringBench.on(api);
  engineer = bench.who;
  const coilIds = [await bench.coil(), await bench.coil()] as const;
  for (const offset of OFFSETS) {
    const { stringId, wellId } = await buildString(engineer, KNOWN_STRING);
    const { status } = await engineer.send('PATCH', `/api/wells/${wellId}`, { body: { reason: 'Its time.', timeZone: TIME_ZONES[offset] }, headers: { 'if-match': '"1"' } });
    expect(status).toBe(200);
    stages.set(offset, { engineer, stringId, coilIds });
  }
}, 120_000);
afterAll(() => api.close());

const seeds = Array.from({ length: HISTORIES }, (_, index) => FIRST_SEED + index);

test.each(seeds)('history %d', async (seed) => {
  const history = drawHistory(seed);
  const played = await play(api, stages.get(history.offsetMinutes)!, `H${seed}`, history);
  for (const question of drawQuestions(seed, history)) {
    const answer = await recalled(question, played);
    const affected = affectedBy(history, question);
    expect({ question, found: concerned(answer, played) }).toEqual({ question, found: affected });
    expect({ question, found: metresOf(answer) }).toEqual({ question, found: walkedOf(history, affected) });
  }
});

describe('the histories', () => {
  test('bring up certain, possible and no concern, of every kind of question', () => {
    const seen = new Map<string, number>();
    for (const seed of seeds) {
      const history = drawHistory(seed);
      for (const question of drawQuestions(seed, history)) {
        const concerns = new Set<Concern | 'none'>(affectedBy(history, question).values());
        for (const concern of concerns.size === 0 ? (['none'] as const) : concerns) seen.set(`${question.by} ${concern}`, (seen.get(`${question.by} ${concern}`) ?? 0) + 1);
      }
    }
    const kinds = ['instrument certain', 'instrument possible', 'calibration certain', 'calibration possible', 'calibration none', 'qualification certain', 'qualification possible', 'qualification none'];
    for (const kind of [...kinds, 'weldProcedure certain', 'fillerBatch certain', 'person certain']) expect([kind, (seen.get(kind) ?? 0) >= 5]).toEqual([kind, true]);
  });

  test('tell of a record that is missing from an answer', async () => {
    const history = drawHistory(FIRST_SEED);
    const stage = stages.get(history.offsetMinutes)!;
    const played = await play(api, stage, 'H-MISSING', history);
    const [work] = history.work.filter(({ gauges, isVoid }) => gauges.length > 0 && !isVoid);
    const question: HistoryQuestion = { by: 'instrument', name: work?.gauges[0] ?? '' };
    const { status } = await engineer.send('POST', `/api/${work?.kind ?? ''}s/${played.get(work?.name ?? '') ?? ''}/void`, { body: { reason: 'Tried.' }, headers: { 'if-match': '"1"' } });
    expect(status).toBe(200);
    expect(concerned(await recalled(question, played), played)).not.toEqual(affectedBy(history, question));
  });
});

async function recalled({ by, name }: HistoryQuestion, played: Played): Promise<RecallAnswer> {
  const { status, body } = await engineer.send<RecallAnswer>('GET', `/api/recall?${by === 'fillerBatch' ? by : `${by}Id`}=${played.get(name) ?? ''}`);
  expect(status).toBe(200);
  return body;
}

/** The work that an answer names, by its name in the history. */
function concerned({ strings }: RecallAnswer, played: Played): Map<string, Concern> {
  const names = new Map([...played].map(([name, id]) => [id, name]));
  return new Map(strings.flatMap((one) => one.concerned.map(({ record, isCertain }) => [names.get(record.id) ?? record.id, isCertain ? 'certain' : 'possible'])));
}

const pairs = (sets: SetsAnswer | undefined, which: 'certain' | 'possible'): (readonly [number, number])[] => (sets?.[which] ?? []).map(({ fromMm, toMm }) => [fromMm, toMm]);

/** Certainly and possibly: footage, outer and inner wall. */
function metresOf({ strings: [string] }: RecallAnswer): Record<'certain' | 'possible', WalkedMetres> {
  const of = (which: 'certain' | 'possible'): WalkedMetres => {
    const wall = (name: 'outer' | 'inner'): (readonly [number, number])[] => pairs(string?.walls.find((one) => one.wall === name), which);
    return { footage: pairs(string?.footage, which), outer: wall('outer'), inner: wall('inner') };
  };
  return { certain: of('certain'), possible: of('possible') };
}

function walkedOf(history: History, affected: ReadonlyMap<string, Concern>): Record<'certain' | 'possible', WalkedMetres> {
  const spans = (isMeant: (concern: Concern | undefined) => boolean): History['work'] => history.work.filter(({ name }) => isMeant(affected.get(name)));
  return { certain: walkedMetres(spans((concern) => concern === 'certain')), possible: walkedMetres(spans((concern) => concern !== undefined)) };
}
