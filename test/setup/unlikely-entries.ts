import type { Answer, TestApi } from './api.js';
import type { Dice, Fields } from './bad-entries.js';
import { databaseState } from './database-state.js';
import type { EntryWorld } from './entry-world.js';
import { confirmationsOf, isQuestion } from './example-records.js';
import type { StringBench } from './string-bench.js';

/** A value that is asked about: the field and value that the question and the mark name, and where it was sent. */
export interface Unlikely {
  readonly field: string;
  readonly value: string;
  /** The path in the entry and in the answer; that of the field when absent. */
  readonly sentAt?: string;
}

export interface UnlikelyEntry {
  readonly body: Fields;
  readonly asked: readonly Unlikely[];
}

/** A kind of entry that asks about values that are possible but unlikely. */
export interface UnlikelyKind {
  readonly path: string;
  /** Enters what the entries of this kind need, before anything is compared. */
  readonly prepare?: (bench: StringBench, world: EntryWorld, count: number) => Promise<readonly string[]>;
  readonly draw: (world: EntryWorld, nth: number, dice: Dice, prepared: readonly string[]) => UnlikelyEntry;
  /** A change of another field. */
  readonly amendment: Fields;
}

/** Entries that are taken side by side, to save time. */
const AT_ONCE = 5;

interface Asked extends UnlikelyEntry {
  readonly question: Answer;
}

/** Sends each entry unconfirmed and with wrong codes, then confirmed, amends it, and reads its first version again. */
export async function unlikelyFindings(api: TestApi, bench: StringBench, { path, amendment }: Pick<UnlikelyKind, 'path' | 'amendment'>, entries: readonly UnlikelyEntry[], dice: Dice): Promise<string[]> {
  const send = (body: Fields): Promise<Answer> => bench.who.send('POST', `/api/${path}`, { body });
  const findings: string[] = [];
  const found = (entry: UnlikelyEntry, whats: readonly string[]): void => {
    findings.push(...whats.map((what) => `${path}: ${what}\n    ${JSON.stringify(entry.body).slice(0, 400)}`));
  };
  const before = await databaseState(api.owner);
  const asked: Asked[] = [];
  for (const entry of entries) {
    const question = await send(entry.body);
    const faults = questionFaults(entry, question);
    if (faults.length === 0) {
      const codes = wrongCodes(question, dice);
      const again = await send({ ...entry.body, confirm: codes });
      faults.push(...questionFaults(stillAsked(entry, question, codes), again).map((what) => `with a wrong code ${what}`));
    }
    found(entry, faults);
    if (faults.length === 0) asked.push({ ...entry, question });
  }
  const after = await databaseState(api.owner);
  const written = Object.keys(after).filter((table) => after[table] !== before[table]);
  if (written.length > 0) findings.push(`${path}: questions wrote to ${written.join(', ')}`);
  for (let from = 0; from < asked.length; from += AT_ONCE) {
    await Promise.all(asked.slice(from, from + AT_ONCE).map(async (entry) => {
      found(entry, await keptFaults(bench, path, amendment, entry, await send({ ...entry.body, confirm: confirmationsOf(entry.question) })));
    }));
  }
  return findings;
}

/** What a question fails to ask, or asks besides. */
function questionFaults({ asked }: UnlikelyEntry, answer: Answer): string[] {
  if (!isQuestion(answer)) return [`answered ${answer.status} ${JSON.stringify(answer.body['errors'] ?? answer.body['marks']).slice(0, 200)}`];
  const told = answer.body['errors'] as Fields[];
  const [is, must] = [told.map(nameOf).sort(), asked.map(nameOf).sort()];
  return [
    ...(JSON.stringify(is) === JSON.stringify(must) ? [] : [`asks about ${is.join(', ')}, not ${must.join(', ')}`]),
    ...told.filter(({ limit, confirm }) => String(limit).trim().length < 8 || typeof confirm !== 'string' || confirm === '').map(({ field }) => `gives no limit or no code for ${String(field)}`),
  ];
}

const nameOf = ({ field, value }: { readonly field?: unknown; readonly value?: unknown }): string => `${String(field)}=${String(value)}`;

/** Codes that are near the right ones: of another value, of another field, cut short, or only some of those needed. */
function wrongCodes(question: Answer, dice: Dice): string[] {
  const right = confirmationsOf(question).map(String);
  const [first = '', ...rest] = right;
  const last = first.at(-1) === '0' ? '1' : '0';
  return dice.of([[], [`${first.slice(0, -1)}${last}`, ...rest], [first.slice(0, -1), ...rest], [`note:${first.split(':')[1] ?? ''}`, ...rest], [first.toUpperCase(), ...rest], rest]);
}

/** What is asked about again when only these codes came. */
function stillAsked({ body, asked }: UnlikelyEntry, question: Answer, codes: readonly string[]): UnlikelyEntry {
  const open = (question.body['errors'] as Fields[]).filter(({ confirm }) => !codes.includes(String(confirm))).map(nameOf);
  return { body, asked: asked.filter((one) => open.includes(nameOf(one))) };
}

/** What is lost of a confirmed value: when it is taken, in the first version, and when another field is amended. */
async function keptFaults(bench: StringBench, path: string, amendment: Fields, entry: Asked, taken: Answer): Promise<string[]> {
  if (taken.status !== 201) return [`confirmed, answered ${taken.status} ${JSON.stringify(taken.body).slice(0, 300)}`];
  const record = `${path}/${String(taken.body['id'])}`;
  const amended = await bench.amend(record, 1, amendment);
  const first = await bench.get(`${record}?asKnownAt=${encodeURIComponent(String(taken.body['recordedAt']))}`);
  return [
    ...lost(entry, taken, 1).map((what) => `taken ${what}`), ...lost(entry, amended, 2).map((what) => `amended ${what}`), ...lost(entry, first, 1).map((what) => `in its first version ${what}`),
    ...(Object.entries(amendment).every(([field, value]) => amended.body[field] === value) ? [] : ['is not amended']),
  ];
}

function lost({ body, asked }: UnlikelyEntry, answer: Answer, version: number): string[] {
  if (answer.body['version'] !== version) return [`answers ${answer.status}, version ${String(answer.body['version'])}`];
  const marks = answer.body['marks'] as Fields[];
  return asked.flatMap(({ field, value, sentAt = field }) => [
    ...(marks.some((mark) => mark['kind'] === 'confirmed-implausible' && mark['field'] === field && mark['value'] === value) ? [] : [`has no mark of ${field} ${value}`]),
    ...(isKept(read(body, sentAt), read(answer.body, sentAt)) ? [] : [`has ${String(read(answer.body, sentAt))} for ${sentAt}`]),
  ]);
}

/** The same digits; an instant may be spelled with other zeroes. */
const isKept = (sent: unknown, kept: unknown): boolean =>
  sent === kept || (typeof sent === 'string' && /^\d{4}-\d\d-\d\dT/.test(sent) && Date.parse(sent) === Date.parse(String(kept)));

/** What an entry says at a path such as `readings[0].printed`. */
export function read(entry: Fields, path: string): unknown {
  return path.split(/[.[\]]+/).filter((step) => step !== '').reduce<unknown>((part, step) => (part as Fields | null | undefined)?.[step], entry);
}
