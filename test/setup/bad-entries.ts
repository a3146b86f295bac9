import type { Answer, SignedIn, TestApi } from './api.js';
import { databaseState } from './database-state.js';
import type { EntryWorld } from './entry-world.js';

export type Fields = Record<string, unknown>;

/**
 * In which order what is wrong with an entry is told, as `merged` of http/problem.ts and DEVELOPERS.md say: fields out of form
 * and fields that cannot be (400), what does not go together (422), references that lead nowhere (422), what does not agree
 * with the records that are named (422), and last what the write itself meets: taken already (409), or past the string.
 * Everything of one stage is told together.
 */
export const STAGES = ['form', 'impossible', 'contradiction', 'reference', 'agreement', 'doer', 'write'] as const;
export type Stage = (typeof STAGES)[number];

/** A field that the answer must name, with the value that was seen there. */
export interface BadField {
  readonly field: string;
  readonly value: unknown;
}

/** One thing that somebody who is tired gets wrong. */
export interface EntryFault {
  readonly name: string;
  readonly stage: Stage;
  /** Parts of the entry that it changes or rests on: no other fault of the same entry touches them. */
  readonly touches: readonly string[];
  /** Puts the fault into an entry, and says what must be named for it. */
  readonly spoil: (entry: Fields, world: EntryWorld, dice: Dice) => readonly BadField[];
  /** 400, 409 or 422 where it is not that of the stage. */
  readonly status?: number;
  /** Of an entry in parts: the parts of a lower number are looked at first, but for the form of all. */
  readonly part?: number;
}

/** A kind of entry: how a right one looks, and what can be wrong with it. */
export interface EntryKind {
  readonly path: string;
  /** A right entry; `nth` keeps apart what only one may have. The 0th is entered, all others are not. */
  readonly right: (world: EntryWorld, nth: number) => Fields;
  readonly faults: readonly EntryFault[];
  /** What does not agree with other records is told with what does not go together in the entry, where references hold. */
  readonly isOneLook?: boolean;
}

/** Numbers that follow from a seed (mulberry32). */
export class Dice {
  constructor(private state: number) {}

  /** From 0 up to `below`, whole. */
  roll(below: number): number {
    this.state = (this.state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return Math.floor((((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296) * below);
  }

  of<T>(things: readonly T[]): T {
    return things[this.roll(things.length)] as T;
  }
}

/** An entry that must be refused, and how. */
export interface BadEntry {
  readonly path: string;
  readonly faults: readonly string[];
  readonly body: Fields;
  readonly status: number;
  readonly named: readonly BadField[];
}

const STATUS: Readonly<Record<Stage, number>> = { form: 400, impossible: 400, contradiction: 422, reference: 422, agreement: 422, doer: 422, write: 409 };

/** A right entry with these faults. Which of them must be told follows from the stages alone. */
export function badEntry(kind: EntryKind, faults: readonly EntryFault[], world: EntryWorld, nth: number, dice: Dice): BadEntry {
  const body = structuredClone(kind.right(world, nth));
  const spoiled = faults.map((fault) => ({ fault, named: fault.spoil(body, world, dice) }));
  const told = spoiled.filter(({ fault }) => toldFirst(kind, faults).includes(fault));
  const { stage = 'form', status } = told[0]?.fault ?? {};
  return { path: kind.path, faults: faults.map(({ name }) => name), body, status: status ?? STATUS[stage], named: told.flatMap(({ named }) => named) };
}

function toldFirst({ isOneLook = false }: EntryKind, faults: readonly EntryFault[]): readonly EntryFault[] {
  const turn = ({ stage, part = 0 }: EntryFault): number => (stage === 'form' ? -1 : part * STAGES.length + STAGES.indexOf(stage));
  const first = Math.min(...faults.map(turn));
  const told = faults.filter((fault) => turn(fault) === first);
  const stage = told[0]?.stage;
  const [hasReferences, others] = [faults.some((fault) => fault.stage === 'reference'), faults.filter((fault) => !told.includes(fault))];
  if (stage === 'contradiction' && isOneLook && !hasReferences) return [...told, ...others.filter((fault) => fault.stage === 'agreement')];
  return stage === 'reference' ? [...told, ...others.filter((fault) => fault.stage === 'doer')] : told;
}

/** Two faults that one entry can have: at different places, and with an order between them that is written down. */
function goTogether(one: EntryFault, other: EntryFault): boolean {
  const stages = [one.stage, other.stage];
  if (stages.includes('write') && one.stage === other.stage) return false;
  if (stages.includes('agreement') && stages.includes('doer')) return false;
  return !one.touches.some((part) => other.touches.some((touched) => isIn(part, touched) || isIn(touched, part)));
}

/** True for one part of an entry, and for what is in it: `items[1].item` is in `items`. */
const isIn = (part: string, whole: string): boolean => part === whole || part.startsWith(`${whole}.`) || part.startsWith(`${whole}[`);

/** This fault and up to two that go with it, drawn. */
export function drawnFaults(kind: EntryKind, fault: EntryFault, dice: Dice): EntryFault[] {
  const drawn = [fault];
  for (let more = dice.roll(3); more > 0; more -= 1) {
    const others = kind.faults.filter((one) => drawn.every((taken) => taken !== one && goTogether(taken, one)));
    if (others.length > 0) drawn.push(dice.of(others));
  }
  return drawn;
}

const GENERIC = /^(invalid|wrong|bad|error|not allowed|conflict|null|undefined)?$/i;
const LONGEST_SHOWN = 200;

/** What an answer to a bad entry fails to say, or says beside it. */
export function answerFaults({ status, named }: Pick<BadEntry, 'status' | 'named'>, answer: Answer): string[] {
  if (answer.status !== status) return [`answered ${answer.status}, not ${status}: ${JSON.stringify(answer.body['errors'] ?? answer.body).slice(0, 300)}`];
  if (!String(answer.headers['content-type']).startsWith('application/problem+json')) return [`is ${String(answer.headers['content-type'])}`];
  const told = answer.body['errors'] as { field: string; value: unknown; limit: string }[];
  const isTold = ({ field, value }: BadField): boolean => told.some((one) => one.field === field && isSame(one.value, value));
  const isMeant = ({ field, value }: BadField): boolean => named.some((one) => one.field === field && isSame(value, one.value));
  return [
    ...named.filter((one) => !isTold(one)).map((one) => `does not name ${inWords(one)}; names ${told.map(inWords).join(', ')}`),
    ...told.filter((one) => !isMeant(one)).map((one) => `names ${inWords(one)}, which is right`),
    ...told.filter(({ field, value }, index) => told.findIndex((one) => one.field === field && isSame(one.value, value)) < index).map((one) => `names ${inWords(one)} twice`),
    ...told.filter(({ limit }) => limit.trim().length < 4 || GENERIC.test(limit.trim())).map(({ field, limit }) => `says of ${field} only ${JSON.stringify(limit)}`),
  ];
}

const inWords = ({ field, value }: BadField): string => `${field} ${JSON.stringify(value)}`;

/** What the answer shows of a value, beside what was sent: long ones are cut short. */
function isSame(shown: unknown, sent: unknown): boolean {
  const text = typeof sent === 'string' ? sent : JSON.stringify(sent);
  if (text.length <= LONGEST_SHOWN) return JSON.stringify(shown) === JSON.stringify(sent);
  return typeof shown === 'string' && shown.startsWith(text.slice(0, LONGEST_SHOWN));
}

export interface EntryReport {
  readonly sent: number;
  readonly findings: readonly string[];
  /** How often each fault was sent, by kind. */
  readonly counts: Readonly<Record<string, Readonly<Record<string, number>>>>;
}

const BATCH = 40;

/** Sends bad entries one after the other, and finds every answer that is not as it must be, and every one that left something behind. */
export async function sendBadEntries(api: TestApi, by: SignedIn, entries: readonly BadEntry[]): Promise<EntryReport> {
  const findings: string[] = [];
  const counts: Record<string, Record<string, number>> = {};
  for (let from = 0; from < entries.length; from += BATCH) {
    const batch = entries.slice(from, from + BATCH);
    findings.push(...(await writesOf(api, batch, async (entry) => {
      const answer = await sent(by, entry);
      if (answer instanceof Error) findings.push(shown(entry, answer.message.slice(0, 300)));
      else findings.push(...answerFaults(entry, answer).map((what) => shown(entry, what)));
      const row = (counts[entry.path] ??= {});
      for (const fault of entry.faults) row[fault] = (row[fault] ?? 0) + 1;
    })));
  }
  return { sent: entries.length, findings, counts };
}

/** What was written while `entries` were sent; the batch that wrote is sent again in halves until the entry is found. */
async function writesOf(api: TestApi, entries: readonly BadEntry[], send: (entry: BadEntry) => Promise<unknown>): Promise<string[]> {
  const before = await databaseState(api.owner);
  for (const entry of entries) await send(entry);
  const after = await databaseState(api.owner);
  const tables = Object.keys(after).filter((table) => after[table] !== before[table]);
  if (tables.length === 0) return [];
  const [only] = entries;
  if (entries.length === 1 && only !== undefined) return [shown(only, `wrote to ${tables.join(', ')}`)];
  const half = Math.ceil(entries.length / 2);
  const found = [...(await writesOf(api, entries.slice(0, half), send)), ...(await writesOf(api, entries.slice(half), send))];
  return found.length > 0 ? found : [`one of ${entries.length} entries, when sent first, wrote to ${tables.join(', ')}`];
}

/** An answer that the API document does not allow is thrown, and is a finding like any other. */
async function sent(by: SignedIn, { path, body }: BadEntry): Promise<Answer | Error> {
  try {
    return await by.send('POST', `/api/${path}`, { body });
  } catch (error) {
    return error instanceof Error ? error : new Error(String(error));
  }
}

const shown = ({ path, faults, body }: BadEntry, what: string): string => `${path} (${faults.join(' + ')}): ${what}\n    ${JSON.stringify(body).slice(0, 600)}`;
