import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { StoryClock } from '../../seed-demo/story-clock.js';
import { badness } from '../properties/evidence.reference.js';
import { Draws } from '../properties/line-draws.reference.js';
import { release, type EvidenceBody } from '../e2e/evidence.factory.js';
import { startTestApi, type TestApi } from '../setup/api.js';
import type { Fields } from '../setup/string-bench.js';
import { CHARACTERISTICS, COILS_OF_GROUP, drawFates, drawStory } from './evidence-draw.js';
import { atClock, decided, permitted, placed, PlayedString, taken, type CoilGroup, type EvidenceStage } from './evidence-player.js';
import { STEP_TIMES, STEPS } from './evidence-story.js';
import { Walk, worsened, type WalkedPlace, type WalkedRelease } from './evidence-walk.reference.js';

jest.setTimeout(900_000);

/**
 * Random stories of control plans and of all that people say of pipe, played in through the API by people at known times, and the
 * evidence held against a walk along the pipe, place by place. Strings are many in one database, and go through the day together.
 */
/** Each run plays so many; 500 take three minutes on two cores. */
const HISTORIES = Number.parseInt(process.env['EVIDENCE_HISTORIES'] ?? '200', 10);
const FIRST_SEED = Number.parseInt(process.env['TEST_SEED'] ?? '20261126', 10);
/** Strings that share coils. */
const OF_GROUP = 20;
/** Of so many stories one is played twice, in two orders. */
const TWICE_OF = 10;
const AT_ONCE = 8;
/** How often the evidence of a string is asked for after a step. */
const LOOKED_AT = 0.25;
const MM = 100;

const clock = new StoryClock();
let api: TestApi;
let stage: EvidenceStage;
let specificationId: string;
const groups: CoilGroup[] = [];
const strings: PlayedString[] = [];
const twins: { readonly first: PlayedString; readonly second: PlayedString }[] = [];
const releases = new Map<PlayedString, { readonly status: number; readonly mayBe: boolean; readonly refused: unknown }>();
/** What was told otherwise than it was walked while the stories were played. */
const oddOnTheWay: string[] = [];
/** Before and after one more good record. */
const before = new Map<PlayedString, EvidenceBody>();
const after = new Map<PlayedString, EvidenceBody>();

beforeAll(async () => {
  clock.set('2026-03-01T00:00:00Z');
  api = await startTestApi({}, clock);
  const [engineer, inspector] = [await api.signIn('materials-engineer'), await api.signIn('qc-inspector')];
  const made = async (path: string, content: Fields): Promise<string> => String((await taken(engineer, 'POST', path, { id: uuidv7(), observedAt: '2026-01-01T00:00:00Z', ...content })).body['id']);
  const wellId = await made('wells', { name: 'Lindmoor Geothermal 2', datum: 'Guide frame' });
  const procedureId = await made('weld-procedures', { number: 'WP-9', revision: 1, title: 'Weld', purpose: 'splice', process: '135', effectiveFrom: '2025-06-01', ranges: [{ variable: 'current', min: '160', max: '200', unit: 'A' }], lists: [] });
  specificationId = await made('strip-specifications', {
    number: 'STS-40', revision: 1, title: 'Slit strip', effectiveFrom: '2025-11-01', grade: 'S420MC', documentType: '3.1', rounding: 'absolute', decisionRule: 'simple-acceptance', requirements: [{ characteristic: 'ReH', min: '420', unit: 'MPa' }],
  });
  stage = { engineer, inspector, wellId, procedureId };
  const orderId = await made('strip-orders', { number: 'PO-90', mill: 'Tarnwick Steelworks', orderedOn: '2025-12-04', specificationId, thicknessMm: '5.00', widthMm: '383.0' });
  const heatId = await made('heats', { number: 'H40711', grade: 'S420MC' });
  const names = Array.from({ length: Math.ceil(HISTORIES / OF_GROUP) }, (_, group) => Array.from({ length: COILS_OF_GROUP }, (_one, nth) => `LM-${group}-${nth}`));
  const fates = names.map((_numbers, group) => drawFates(FIRST_SEED + group));
  const certificateId = await keyed(names.flatMap((numbers, group) => numbers.map((number, nth) => ({ number, isGood: fates[group]?.[nth]?.decided?.decision !== 'accept-under-concession' }))));
  for (const [group, numbers] of names.entries()) {
    const coilIds = await Promise.all(numbers.map((number) => made('coils', { number, heatId, orderId, certificateId, widthMm: '383.0', thicknessMm: '5.00', massKg: '30000' })));
    for (const coilId of coilIds) await permitted(engineer, coilId);
    groups.push({ coilIds, fates: fates[group]! });
  }
  await playAll();
});
afterAll(() => api.close());

/** The paper of all coils, keyed by two people: a concession is for what does not conform. Gives its id. */
async function keyed(coils: readonly { readonly number: string; readonly isGood: boolean }[]): Promise<string> {
  const lines = coils.map(({ number, isGood }) => `TS-501,Tarnwick Steelworks,3.1,2026-01-22,PO-90,STS-40 rev 1,${number},H40711,5.00,383.0,30000,${isGood ? 446 : 411}`);
  const file = `certificate,issuer,type,issued,order,specification,coil,heat,thickness [mm],width [mm],mass [kg],ReH [MPa]\n${lines.join('\n')}\n`;
  for (const [nth, { send }] of [stage.engineer, stage.inspector].entries()) {
    const answer = await send('POST', `/api/certificate-imports?id=${uuidv7()}&observedAt=2026-02-18T09:00:00Z&keying=${nth + 1}`, { body: file, headers: { 'content-type': 'text/csv' } });
    expect(answer).toMatchObject({ status: 201 });
  }
  const { body } = await stage.engineer.send<{ readonly items: readonly { readonly id: string }[] }>('GET', '/api/certificates');
  return body.items[0]?.id ?? '';
}

async function playAll(): Promise<void> {
  clock.set(atClock(STEP_TIMES[STEPS.setUp]));
  for (let nth = 0; nth < HISTORIES; nth += 1) {
    const group = groups[Math.floor(nth / OF_GROUP)]!;
    const story = drawStory(FIRST_SEED + nth);
    const made = (order: number): Promise<PlayedString> => PlayedString.of(story, group, stage, new Draws(order), (nth % OF_GROUP) * 100_000 + (order % 2) * 2_000_000);
    const first = await made(2 * nth);
    strings.push(first);
    if (nth % TWICE_OF === 1) twins.push({ first, second: await made(2 * nth + 1) });
  }
  for (const [step, time] of STEP_TIMES.entries()) {
    clock.set(atClock(time));
    await decideAll(step);
    if (step === STEPS.released) await eachOf(strings, signRelease);
    else if (step < STEPS.oneMore) await eachOf([...strings, ...twins.map(({ second }) => second)], (one) => one.play(step));
    if (step === STEPS.oneMore) await eachOf(strings, oneMore);
    else await eachOf(strings, async (one) => lookedAt(one, step));
  }
}

/** Now and then somebody looks, so that what was worked out once is asked for again with more on record. */
async function lookedAt(one: PlayedString, step: number): Promise<void> {
  if (!new Draws(one.story.seed * 31 + step).chance(LOOKED_AT)) return;
  const found = firstOdd(await evidence(one), walkOf(one, step), one);
  if (found !== null) oddOnTheWay.push(`${STEP_TIMES[step] ?? ''}: ${found}`);
}

async function eachOf<T>(list: readonly T[], work: (one: T) => Promise<void>): Promise<void> {
  const left = [...list];
  await Promise.all(Array.from({ length: AT_ONCE }, async () => {
    for (let one = left.shift(); one !== undefined; one = left.shift()) await work(one);
  }));
}

async function decideAll(step: number): Promise<void> {
  for (const { coilIds, fates } of groups) {
    for (const [nth, { decided: decision, permittedStep }] of fates.entries()) {
      if (decision?.step === step) await decided(stage.engineer, coilIds[nth]!, specificationId, decision.decision);
      if (permittedStep === step) await permitted(stage.engineer, coilIds[nth]!);
    }
  }
}

/** Releases the story's pipe where nothing speaks against it and plans say what it needs; what may be released and was not is told by the test. */
async function signRelease(one: PlayedString): Promise<void> {
  const { story, group, stringId } = one;
  if (story.release === null) return;
  const { fromDm, toDm } = story.release;
  const asked = new Walk(story, group.fates, STEPS.released).places(false).filter(({ mm }) => fromDm * MM <= mm && mm < toDm * MM);
  const mayBe = asked.length > 0 && asked.every(({ lines }) => lines.every((line) => line?.state !== 'failed') && lines.slice(0, -1).some((line) => line !== null));
  const { status, body } = await release(stage.inspector, stringId, [fromDm * MM, toDm * MM]);
  releases.set(one, { status, mayBe, refused: body['errors'] ?? null });
}

/** One more good reading somewhere: pipe is as good as it was, or better. */
async function oneMore(one: PlayedString): Promise<void> {
  before.set(one, await evidence(one));
  const draws = new Draws(one.story.seed + 77);
  const fromDm = draws.whole(0, 90);
  await one.enter('inspections', 'one more', {
    observedAt: atClock('13:20'), ...placed({ fromDm, toDm: fromDm + draws.whole(1, 30) }), kind: 'dimensional', characteristic: draws.oneOf(CHARACTERISTICS), value: '5', unit: 'mm', verdict: 'accepted',
  });
  after.set(one, await evidence(one));
}

async function evidence({ stringId }: PlayedString, query = ''): Promise<EvidenceBody> {
  const { status, body } = await stage.engineer.send<EvidenceBody>('GET', `/api/casing-strings/${stringId}/evidence${query}`);
  expect({ status, body }).toMatchObject({ status: 200 });
  return body;
}

/** What an answer says of a place: item by item, and the verdict. */
interface ToldPlace {
  readonly mm: number;
  readonly lines: readonly (readonly [state: string, late: boolean, otherwise: string | null] | null)[];
  readonly verdict: readonly [state: string, late: boolean, items: readonly string[]];
}

interface ToldStretch { readonly fromMm: number; readonly toMm: number; readonly state: string; readonly late: boolean }

const on = <S extends ToldStretch>(stretches: readonly S[] | undefined, mm: number): S | undefined => stretches?.find(({ fromMm, toMm }) => fromMm <= mm && mm < toMm);

function toldOf({ items, verdict }: EvidenceBody, walk: Walk, places: readonly WalkedPlace[], one: PlayedString): ToldPlace[] {
  const lines = [...walk.items.map(({ plan, item }) => items.find(({ code, plan: of }) => code === item.code && (of as Fields | null)?.['id'] === one.idOf(`plan ${plan.fromDm}`))), items.find(({ code }) => code === 'hold')];
  return places.map(({ mm }) => {
    const here = on(verdict, mm);
    return {
      mm, verdict: [here?.state ?? 'none', here?.late ?? false, here?.items ?? []],
      lines: lines.map((line) => {
        const stretch = on(line?.stretches as readonly (ToldStretch & { readonly otherwise: string | null })[] | undefined, mm);
        return stretch === undefined ? null : [stretch.state, stretch.late, stretch.otherwise];
      }),
    };
  });
}

const expectedOf = (places: readonly WalkedPlace[]): ToldPlace[] => places.map(({ mm, lines, verdict }) => ({
  mm, verdict: [verdict.state, verdict.late, verdict.by], lines: lines.map((line) => (line === null ? null : [line.state, line.late, line.otherwise])),
}));

/** The first place that is told otherwise than it was walked, in words; null when none is. */
function firstOdd(answer: EvidenceBody, walk: Walk, one: PlayedString): string | null {
  const places = walk.places();
  const [told, expected] = [toldOf(answer, walk, places, one), expectedOf(places)];
  const nth = expected.findIndex((place, index) => JSON.stringify(place) !== JSON.stringify(told[index]));
  const [here, there] = [expected[nth], told[nth]];
  if (here === undefined || there === undefined) return null;
  const names = [...walk.items.map(({ plan, item }) => `${item.code} from ${plan.fromDm}`), 'hold'];
  const lines = names.flatMap((name, index) => {
    const [walked, answered] = [JSON.stringify(here.lines[index]), JSON.stringify(there.lines[index])];
    return walked === answered ? [] : [`${name}: ${walked} by ${(places[nth]?.lines[index]?.by ?? []).join(' ')}, told ${answered}`];
  });
  return `seed ${one.story.seed} at ${here.mm} mm: ${lines.join('; ') || `verdict ${JSON.stringify(here.verdict)}, told ${JSON.stringify(there.verdict)}`}`;
}

const releasedOn = ({ story }: PlayedString, then: Walk, now: Walk): WalkedRelease[] => {
  if (story.release === null) return [];
  const { fromDm, toDm } = story.release;
  const worse = new Set(worsened(then, now, story.release));
  return [{ step: STEPS.released, mm: now.places(false).map(({ mm }) => mm).filter((mm) => fromDm * MM <= mm && mm < toDm * MM), stands: (mm) => !worse.has(mm) }];
};

function walkOf(one: PlayedString, step: number): Walk {
  const { story, group } = one;
  if (step < STEPS.released || releases.get(one)?.status !== 201) return new Walk(story, group.fates, step);
  return new Walk(story, group.fates, step, releasedOn(one, new Walk(story, group.fates, STEPS.released), new Walk(story, group.fates, step)));
}

const lastWalks = new Map<PlayedString, Walk>();
const lastWalkOf = (one: PlayedString): Walk => {
  const walk = lastWalks.get(one) ?? walkOf(one, STEPS.oneMore);
  lastWalks.set(one, walk);
  return walk;
};

describe(`${HISTORIES} stories`, () => {
  test('give the evidence that the walk finds, item by item and place by place', () => {
    const odd = strings.flatMap((one) => firstOdd(before.get(one)!, lastWalkOf(one), one) ?? []);
    expect([odd.length, odd.slice(0, 20)]).toEqual([0, []]);
  });

  test('gave it at each time of the day, when somebody looked', () => {
    expect([oddOnTheWay.length, oddOnTheWay.slice(0, 20)]).toEqual([0, []]);
  });

  test('give it as known at an earlier time of the day too', async () => {
    const odd: string[] = [];
    await eachOf(strings, async (one) => {
      const step = new Draws(one.story.seed).oneOf([STEPS.first, STEPS.ranOn, STEPS.secondAgreed, STEPS.ranOnAgain]);
      const then = await evidence(one, `?asKnownAt=${atClock(STEP_TIMES[step + 1] ?? '')}`);
      const found = firstOdd(then, walkOf(one, step), one);
      if (found !== null) odd.push(`${STEP_TIMES[step]}: ${found}`);
    });
    expect([odd.length, odd.slice(0, 20)]).toEqual([0, []]);
  });

  test('give the same where what is of one step was entered in another order', async () => {
    expect(twins.length).toBeGreaterThan(0);
    for (const { first, second } of twins) {
      const odd = firstOdd(await evidence(second), new Walk(second.story, second.group.fates, STEPS.oneMore), second);
      expect(odd).toBeNull();
      if (!releases.has(first)) expect(saidOf(await evidence(second))).toEqual(saidOf(before.get(first)!));
    }
  });

  test('are nowhere worse by one more good record', () => {
    let better = 0;
    for (const one of strings) {
      const [then, now] = [before.get(one)!, after.get(one)!];
      for (const { fromMm, toMm, state } of now.verdict) {
        const worst = Math.min(...then.verdict.filter((other) => other.fromMm < toMm && fromMm < other.toMm).map((other) => badness(other.state)));
        expect({ seed: one.story.seed, fromMm, isWorse: badness(state) > worst }).toEqual({ seed: one.story.seed, fromMm, isWorse: false });
      }
      for (const [nth, item] of now.items.entries()) better += expectNoWorse(one, then.items[nth], item);
    }
    expect(better).toBeGreaterThan(HISTORIES / 10);
  });

  test('are released where nothing speaks against them, and stand released where nothing became worse since', async () => {
    const counts = { released: 0, refused: 0, reopened: 0 };
    for (const [one, { status, mayBe, refused }] of releases) {
      expect({ seed: one.story.seed, status, refused }).toMatchObject({ seed: one.story.seed, status: mayBe ? 201 : 422, refused: mayBe ? null : expect.anything() });
      counts[mayBe ? 'released' : 'refused'] += 1;
      if (mayBe) counts.reopened += (await expectStanding(one)) ? 1 : 0;
    }
    if (HISTORIES >= 100) expect(Math.min(counts.released, counts.refused, counts.reopened)).toBeGreaterThan(2);
  });

  test('bring up every state of every item, in time and late', () => {
    const seen = new Map<string, number>();
    for (const one of strings) {
      const walk = lastWalkOf(one);
      for (const { lines } of walk.places()) {
        for (const [nth, line] of lines.entries()) {
          const words = line === null ? [] : [`${walk.items[nth]?.item.demands ?? 'hold'} ${line.state}`, `${line.state}${line.late ? ' late' : ''}`];
          for (const word of words) seen.set(word, (seen.get(word) ?? 0) + 1);
        }
      }
    }
    const all = ['dimension', 'splice-accepted', 'rejoin-accepted'].flatMap((demands) => ['failed', 'missing', 'suspect', 'confirmed'].map((state) => `${demands} ${state}`));
    const some = ['hold failed', 'released confirmed', 'released missing', 'point failed', 'point confirmed', 'nonconformances-closed failed', 'nonconformances-closed conceded', 'coil-accepted failed', 'coil-accepted suspect', 'coil-accepted confirmed', 'coil-accepted conceded', 'confirmed late', 'failed late', 'conceded late', 'suspect late'];
    if (HISTORIES >= 200) expect([...all, ...some].filter((word) => !seen.has(word))).toEqual([]);
    expect(seen.size).toBeGreaterThan(10);
  });
});

/** What an answer says, without the ids of the string's own records. */
const saidOf = ({ verdict, items }: EvidenceBody): unknown => ({
  verdict, items: items.map(({ code, stretches, testimonies }) => ({
    code, stretches: stretches.map(({ fromMm, toMm, state, late, by }) => ({ fromMm, toMm, state, late, by: by.map((nth) => testimonies[nth]?.because.replace(/NC-\d+/g, 'NC')).sort() })),
  })),
});

type ItemBody = EvidenceBody['items'][number];

/** How many stretches are better. */
function expectNoWorse({ story: { seed } }: PlayedString, then: ItemBody | undefined, now: ItemBody): number {
  let better = 0;
  for (const { fromMm, toMm, state } of now.stretches) {
    for (const other of then?.stretches ?? []) {
      if (other.fromMm >= toMm || fromMm >= other.toMm) continue;
      expect({ seed, code: now.code, fromMm, isWorse: badness(state) > badness(other.state) }).toEqual({ seed, code: now.code, fromMm, isWorse: false });
      if (badness(state) < badness(other.state)) better += 1;
    }
  }
  return better;
}

interface StandingBody extends Fields {
  readonly released: { readonly intervals: readonly { readonly fromMm: number; readonly toMm: number }[] };
  readonly reopened: { readonly intervals: readonly { readonly fromMm: number; readonly toMm: number }[] };
}

/** The standing as two walks compare; tells whether any of it was reopened. */
async function expectStanding(one: PlayedString): Promise<boolean> {
  const { story, group, stringId } = one;
  const asKnownAt = atClock(STEP_TIMES[STEPS.oneMore]);
  const { status, body } = await stage.engineer.send<StandingBody>('GET', `/api/casing-strings/${stringId}/release-standing?asKnownAt=${asKnownAt}`);
  expect(status).toBe(200);
  const [walked] = releasedOn(one, new Walk(story, group.fates, STEPS.released), new Walk(story, group.fates, STEPS.third));
  const isIn = (intervals: StandingBody['released']['intervals'], mm: number): boolean => intervals.some(({ fromMm, toMm }) => fromMm <= mm && mm < toMm);
  const told = (walked?.mm ?? []).map((mm) => [mm, isIn(body.released.intervals, mm), isIn(body.reopened.intervals, mm)]);
  const expected = (walked?.mm ?? []).map((mm) => [mm, walked?.stands(mm), walked?.stands(mm) === false]);
  expect({ seed: story.seed, told }).toEqual({ seed: story.seed, told: expected });
  return expected.some(([, , isReopened]) => isReopened === true);
}
