import { afterAll, beforeAll, expect, test } from '@jest/globals';
import fc, { type Arbitrary } from 'fast-check';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';
import type { Schema } from '../setup/document.js';
import { confirmationsOf, ExampleRecords, isQuestion, recordKinds, requestOf, type Fields } from '../setup/example-records.js';
import { seedFromEnvironment } from '../setup/seed.js';

const DRAWS = 12;
/** Of the draws and the example; some draws leave out one half of what only makes sense whole, and are refused. */
const LEAST = 3;
/** Fields of a version, not of its content: an amendment changes them. */
const OF_THE_VERSION = ['version', 'recordedAt', 'reason', 'late', 'keyedBy'];
/** What the request says to the program about the entry; no answer repeats it. */
const NOT_ANSWERED = ['confirm', 'password'];

let api: TestApi;
let everyone: SignedIn;
beforeAll(async () => {
  api = await startTestApi();
  everyone = await api.signIn('qc-inspector', 'materials-engineer', 'administrator');
}, 30_000);
afterAll(async () => {
  await api.close();
});

/** Texts of every script, in form as records take them. */
const printable = (schema: Schema): Arbitrary<string> =>
  fc.string({ unit: 'grapheme', minLength: Math.max(3, schema.minLength ?? 1), maxLength: Math.min(40, schema.maxLength ?? 40) })
    .map((text) => text.normalize('NFC'))
    .filter((text) => text.trim() !== '' && text.length <= (schema.maxLength ?? 40) && !/[\p{Cc}\p{Bidi_Control}]/u.test(text));

const isFreeText = (name: string, { type, format, enum: words, maxLength }: Schema): boolean =>
  [type].flat().includes('string') && format === undefined && words === undefined && maxLength !== undefined && name !== 'password';

/** The example of a kind with some of what is optional left out or null, and other words in some of its texts. */
function varied(example: Fields, schema: Schema): Arbitrary<Fields> {
  const optional = Object.keys(example).filter((name) => schema.required?.includes(name) !== true && name !== 'id');
  const texts = Object.entries(schema.properties ?? {}).filter(([name, field]) => name in example && isFreeText(name, field));
  const words = fc.record(Object.fromEntries(texts.map(([name, field]) => [name, printable(field)])), { requiredKeys: [] });
  return fc.tuple(fc.subarray(optional, { maxLength: 3 }), fc.boolean(), words).map(([left, isNull, written]) => {
    const all: Fields = { ...example, ...written };
    const kept = Object.entries(all).filter(([name]) => isNull || !left.includes(name));
    return Object.fromEntries(kept.map(([name, value]) => [name, left.includes(name) ? null : value]));
  });
}

const contentOf = (answer: Fields): Fields => Object.fromEntries(Object.entries(answer).filter(([name]) => !OF_THE_VERSION.includes(name)));

/** An instant is answered to the microsecond; what was left out may be answered with its standard value. */
const isSame = (sent: unknown, answered: unknown): boolean => {
  if (typeof sent === 'string' && typeof answered === 'string' && /^\d{4}-.*Z$/.test(sent)) return Date.parse(sent) === Date.parse(answered);
  if (typeof sent !== 'object' || sent === null) return sent === null || sent === answered;
  const [said, told] = [sent as Fields, (answered ?? {}) as Fields];
  return Object.keys(said).every((name) => isSame(said[name], told[name]));
};

/**
 * Enters one draw of a kind, confirming what is only unlikely, reads it and amends it with a reason alone. False when it
 * was refused for what it says.
 */
async function goesRound(kind: string, content: Fields): Promise<boolean> {
  const first = await everyone.send('POST', `/api/${kind}`, { body: content });
  const made = isQuestion(first) ? await everyone.send('POST', `/api/${kind}`, { body: { ...content, confirm: confirmationsOf(first) } }) : first;
  if (made.status === 422) return false;
  expect({ kind, content, status: made.status }).toEqual({ kind, content, status: 201 });
  const path = `/api/${kind}/${String(made.body['id'])}`;
  expect((await everyone.send('GET', path)).body).toEqual(made.body);
  for (const [name, value] of Object.entries(content)) {
    if (NOT_ANSWERED.includes(name)) continue;
    expect({ kind, name, sent: value, answered: made.body[name], isSame: isSame(value, made.body[name]) }).toMatchObject({ isSame: true });
  }
  const amended = await everyone.send('PATCH', path, { body: { reason: 'Nothing changed.' }, headers: { 'if-match': '"1"' } });
  expect(amended).toMatchObject({ status: 200, body: { version: 2, reason: 'Nothing changed.' } });
  expect(contentOf(amended.body)).toEqual(contentOf(made.body));
  expect((await everyone.send('GET', path)).body).toEqual(amended.body);
  return true;
}

test('what is entered is answered, and an amendment of nothing but its reason leaves the content of every kind as it was', async () => {
  const { seed = Date.now() % 1_000_000_000 } = seedFromEnvironment();
  const taken: Record<string, string> = {};
  for (const kind of recordKinds(api.document)) {
    const operation = api.document.operation('POST', `/api/${kind}`)!;
    const { schema, example } = requestOf(operation)!;
    const draws = fc.sample(varied(example, api.document.resolve(schema)), { seed, numRuns: DRAWS });
    let count = 0;
    for (const draw of [example, ...draws]) {
      const records = new ExampleRecords(api.document, everyone);
      const body = { ...((await records.withReferences(schema, draw)) as Fields), ...namesApart(await records.body(kind), draw) };
      count += (await goesRound(kind, body)) ? 1 : 0;
    }
    taken[kind] = `${count} of ${DRAWS + 1}`;
    expect({ kind, isEnough: count >= LEAST }).toEqual({ kind, isEnough: true });
  }
  process.stdout.write(`round trips: seed ${seed}, taken ${JSON.stringify(taken)}\n`);
}, 120_000);

/** The names that must be unlike any other's, where the draw has them. */
function namesApart(apart: Fields, draw: Fields): Fields {
  const names = ['name', 'number', 'signInName'].filter((name) => typeof draw[name] === 'string');
  return { id: apart['id'], ...Object.fromEntries(names.map((name) => [name, apart[name]])) };
}
