import { createHash } from 'node:crypto';
import { expect } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import type { Answer, SendOptions, SignedIn } from './api.js';
import type { ApiDocument, Operation, Schema } from './document.js';
import { entered, permitted } from './string-builder.js';

export type Fields = Record<string, unknown>;

/** A kind of record, by the last part of its path, such as `coils`. */
export function recordKinds(document: ApiDocument): string[] {
  return document.operations
    .filter(({ method, path }) => method === 'POST' && /^\/api\/[a-z-]+$/.test(path) && document.operation('PATCH', `${path}/x`) !== undefined)
    .map(({ path }) => path.slice('/api/'.length));
}

/** The schema and the example of the JSON body of an operation; null when it takes none. */
export function requestOf(operation: Operation): { schema: Schema; example: Fields } | null {
  const media = operation.requestBody?.content['application/json'];
  return media?.schema === undefined ? null : { schema: media.schema, example: media.example as Fields };
}

/** True for an operation whose body is the bytes of a file. */
export const takesBytes = ({ requestBody }: Operation): boolean => requestBody !== undefined && requestBody.content['application/json'] === undefined;

/** The parameters that an operation needs in its query, by their examples. */
export function queryOf({ parameters = [] }: Operation): string {
  const needed = parameters.filter((parameter) => parameter.in === 'query' && parameter.required === true);
  if (needed.length === 0) return '';
  return `?${needed.map(({ name, schema }) => `${name}=${encodeURIComponent(String((schema as { examples?: unknown[] }).examples?.[0]))}`).join('&')}`;
}

const DECISIONS = 'coil-decisions';
const RELEASES = 'releases';
const LIMITS = 'chart-limits';
/** Records that are signed: made like others, but not of a kind that is amended. */
export const SIGNED = [DECISIONS, RELEASES, LIMITS] as const;
/** Not a record either: opened once, and never changed. */
const UPLOADS = 'signal-uploads';
const PDF = 'application/pdf';
const SAMPLES = 'application/x-ndjson';
/** Who does the work in the examples: the person who sends them. */
const SIGNED_IN = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02';

let drawn = 0;

/**
 * Records made from the request examples of the API document: references lead to records made in the same way, and an
 * id that comes twice in the examples is one record. Everything else is as in the document, but for names that must
 * differ when a kind is made again.
 */
export class ExampleRecords {
  /** Ids by kind and by the id that stands for them in the examples. */
  private readonly made = new Map<string, Map<string, string>>();
  private sentSha256: string | null = null;
  /** What a release of the pipe to be released shows. */
  private seenPipe: Fields | null = null;
  /** Pipe with points of the chart whose limits are signed, mm. */
  private readPipe: { readonly fromMm: number; readonly toMm: number } | null = null;

  constructor(
    private readonly document: ApiDocument,
    private readonly by: SignedIn,
    /** Has every name and number made unlike any other; without it, only what is made a second time. */
    private readonly isApart = true,
  ) {}

  /** Makes a record of each kind, a decision, a release and a file, so that every route finds what it asks for. */
  async makeAll(): Promise<void> {
    for (const kind of [...recordKinds(this.document), ...SIGNED, UPLOADS]) await this.id(kind);
    await this.fileSha256();
  }

  /** A body for this kind that can be sent now: a new id, references to records that stand. */
  async body(kind: string, isFirst = !this.isApart): Promise<Fields> {
    const { schema, example } = this.requestFor(kind);
    const body = (await this.withReferences(schema, example)) as Fields;
    const seen = await this.seenBy(kind, body);
    return { ...(isFirst ? body : apart(body)), ...seen, id: uuidv7() };
  }

  /**
   * Sends a new record of this kind. A coil gets a permit as well, so that it can be used. A tag that says the number of
   * the examples is confirmed where the coil has another one.
   */
  async enter(kind: string, changes: Fields = {}, isFirst = !this.isApart): Promise<Answer> {
    const body = { ...(await this.body(kind, isFirst)), ...changes };
    const send = (confirm: Fields): Promise<Answer> => this.by.send('POST', `/api/${kind}`, { body: { ...body, ...confirm } });
    const first = await send({});
    const answer = this.isApart && isQuestion(first) ? await send({ confirm: confirmationsOf(first) }) : first;
    if (kind === 'coils' && answer.status === 201) await permitted(this.by, String(answer.body['id']));
    return answer;
  }

  /** `path` with its variable part replaced by what leads to a record or a file that stands. */
  async pathOf(path: string): Promise<string> {
    if (path.includes('{sha256}')) return path.replace('{sha256}', await this.fileSha256());
    return path.includes('{id}') ? path.replace('{id}', await this.id(path.split('/')[2] ?? '')).replace('{partNo}', '1') : path;
  }

  /** The body of an operation that takes the bytes of a file. */
  async bytes({ requestBody }: Operation): Promise<SendOptions> {
    if (requestBody?.content[PDF] !== undefined) return { body: pdf(this.isApart), headers: { 'content-type': PDF } };
    if (requestBody?.content[SAMPLES] !== undefined) {
      const body = Buffer.from('{"counter":1,"wall":5.02}\n');
      const digest = createHash('sha256').update(body).digest('base64');
      return { body, headers: { 'content-type': SAMPLES, 'content-digest': `sha-256=:${digest}:` } };
    }
    const { body } = await this.by.send<unknown>('GET', '/api/certificate-imports/template');
    return { body, headers: { 'content-type': 'text/csv' } };
  }

  /** The SHA-256 of a file that was sent. Sent when first asked for. */
  async fileSha256(): Promise<string> {
    if (this.sentSha256 !== null) return this.sentSha256;
    const answer = await this.by.send('POST', '/api/files', { body: pdf(this.isApart), headers: { 'content-type': PDF } });
    expect(answer).toMatchObject({ status: 201 });
    this.sentSha256 = String(answer.body['sha256']);
    return this.sentSha256;
  }

  /** The id of a record of this kind: of the one that `exampleId` stands for, or of any. Made when first asked for. */
  async id(kind: string, exampleId?: string): Promise<string> {
    const ofKind = this.made.get(kind) ?? new Map<string, string>();
    this.made.set(kind, ofKind);
    const known = exampleId === undefined ? [...ofKind.values()][0] : ofKind.get(exampleId);
    if (known !== undefined) return known;
    const answer = await this.enter(kind, {}, !this.isApart && ofKind.size === 0);
    expect(answer).toMatchObject({ status: 201, body: kind === UPLOADS ? {} : { version: 1 } });
    const id = String(answer.body['id']);
    ofKind.set(exampleId ?? this.exampleIdOf(kind), id);
    return id;
  }

  /** `value` with every id in it, but its own, replaced by that of a record that stands. */
  async withReferences(schema: Schema, value: unknown, field = ''): Promise<unknown> {
    const node = this.document.resolve(schema.anyOf?.[0] ?? schema.allOf?.[0] ?? schema);
    if (field === 'id') return uuidv7();
    // Whoever enters the first person is a person already; another id than that of the examples is another person.
    if (field === 'doneBy' && (value === SIGNED_IN || typeof value !== 'string')) return this.by.personId;
    if (field === 'itemCode') await this.id('control-plans');
    if (field === 'fileSha256' && typeof value === 'string') return this.fileSha256();
    if (node.format === 'uuid' && typeof value === 'string') return this.id(this.kindNamed(field), value);
    if (Array.isArray(value)) {
      const items = value as unknown[];
      return inOrder(items, (item) => this.withReferences(node.items ?? {}, item, field));
    }
    if (typeof value !== 'object' || value === null) return value;
    const fields = await inOrder(Object.entries(value), async ([name, part]) => [
      name, await this.withReferences(node.properties?.[name] ?? {}, part, name),
    ] as const);
    return Object.fromEntries(fields);
  }

  /** The id by which the examples of other kinds refer to this one, if any does. */
  private exampleIdOf(kind: string): string {
    for (const other of recordKinds(this.document)) {
      const entries = Object.entries(this.requestFor(other).example);
      const found = entries.find(([field, value]) => /Id$/.test(field) && typeof value === 'string' && this.kindNamed(field) === kind);
      if (found !== undefined) return String(found[1]);
    }
    return 'none';
  }

  /** What a signature has to show that its signer saw; nothing for what nobody signs. */
  private async seenBy(kind: string, { coilId, fromMm, toMm }: Fields): Promise<Fields> {
    if (kind === LIMITS) return this.seenOfChart();
    if (kind === RELEASES) return (this.seenPipe ??= await this.seenOfPipe(Number(fromMm) / 1000, Number(toMm) / 1000));
    if (kind !== DECISIONS) return {};
    const { body: evaluation } = await this.by.send('GET', `/api/coils/${String(coilId)}/evaluation`);
    const { body: decisions } = await this.by.send<unknown[]>('GET', `/api/coils/${String(coilId)}/decisions`);
    return { evaluationSha256: evaluation['sha256'], follows: decisions.length };
  }

  /** The same of a release: of a string of its own, on which so much pipe was made and nothing is open. */
  private async seenOfPipe(fromM: number, toM: number): Promise<Fields> {
    const { body: string } = await this.enter('casing-strings', { name: `To be released ${uuidv7()}` });
    const stringId = String(string['id']);
    const madeMm = String(toM * 1000);
    await entered(this.by, 'counter-periods', { stringId, observedAt: '2026-03-02T06:00:00Z', startReading: '0', startFootageMm: 0, scaleMmPerCount: '1', scaleRelativeU: '0' });
    for (const [observedAt, reading] of [['2026-03-02T06:00:00Z', '0'], ['2026-03-02T10:00:00Z', madeMm]]) await entered(this.by, 'counter-readings', { stringId, observedAt, reading });
    await entered(this.by, 'control-plans', {
      stringId, observedAt: '2026-03-02T05:00:00Z', document: 'CP-3', revision: '1', fromMm: 0,
      items: [{ code: 'NC-1', clause: '5.1', demands: 'nonconformances-closed', at: 'pipe', exceptAt: [] }],
    });
    const { body: proposal } = await this.by.send('GET', `/api/casing-strings/${stringId}/release-proposal?fromM=${fromM}&toM=${toM}`);
    return { stringId, exceptions: [], ownWorkBecause: null, evidenceSha256: proposal['evidenceSha256'] };
  }

  /** The same of limits of the chart of the examples: of points on pipe of its string that nothing else lies on. */
  private async seenOfChart(): Promise<Fields> {
    const chartId = await this.id('control-charts', this.exampleIdOf('control-charts'));
    const { fromMm, toMm } = (this.readPipe ??= await this.readForChart(chartId));
    const trial = await this.by.send('GET', `/api/control-charts/${chartId}/trial-limits?fromM=${fromMm / 1000}&toM=${toMm / 1000}`);
    expect(trial).toMatchObject({ status: 200 });
    const hasWarnings = (trial.body['warnings'] as unknown[]).length > 0;
    return { chartId, fromMm, toMm, appliesFromMm: toMm, removed: [], studySha256: trial.body['studySha256'], warningsAcceptedBecause: hasWarnings ? 'Limits to begin with' : null };
  }

  /** Reads what the chart of the examples charts: two subgroups. */
  private async readForChart(chartId: string): Promise<{ readonly fromMm: number; readonly toMm: number }> {
    const { body: { stringId, characteristic, subgroup, unit } } = await this.by.send('GET', `/api/control-charts/${chartId}`);
    const { size, everyMm } = subgroup as { size: number; everyMm: number };
    const fromMm = 1_000_000;
    for (let nth = 0; nth < 2 * size; nth += 1) {
      const footageMm = fromMm + Math.floor(nth / size) * everyMm + (nth % size) * 100;
      await entered(this.by, 'inspections', {
        stringId, observedAt: '2026-03-02T09:00:00Z', from: { footageMm }, kind: 'dimensional', characteristic: (characteristic as Fields)['name'], value: `127.0${(nth * 7) % 10}`, unit, verdict: 'accepted',
      });
    }
    return { fromMm, toMm: fromMm + 2 * everyMm };
  }

  private requestFor(kind: string): { schema: Schema; example: Fields } {
    const operation = this.document.operation('POST', `/api/${kind}`);
    const request = operation === undefined ? null : requestOf(operation);
    if (request === null) throw new Error(`there is no way to enter ${kind}`);
    return request;
  }

  /** `leavingCoilId` leads to coils, `cutOutId` to cut-outs, `channelIds` to channels, a standard is an instrument; an id that names no kind is a person's. A kind named in full goes first. */
  private kindNamed(field: string): string {
    const named = field.replace(/Ids$/, 'Id');
    const noun = /([A-Z]?[a-z]+)Id$/.exec(named)?.[1]?.toLowerCase();
    if (noun === undefined || noun === 'person') return 'people';
    if (noun === 'standard') return 'instruments';
    if (noun === 'limits') return LIMITS;
    const whole = `${named.slice(0, -'Id'.length).replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}s`;
    const kinds = recordKinds(this.document);
    const kind = kinds.find((one) => one === whole) ?? kinds.find((one) => one.endsWith(`${noun}s`));
    if (kind === undefined) throw new Error(`no kind of record is meant by ${field}`);
    return kind;
  }
}

/** One after the other: records made at once would come in another order each time. */
async function inOrder<T, U>(items: readonly T[], work: (item: T) => Promise<U>): Promise<U[]> {
  const done: U[] = [];
  for (const item of items) done.push(await work(item));
  return done;
}

/** True when an answer only asks whether unlikely values are right. */
export const isQuestion = ({ status, body }: Answer): boolean => status === 422 && String(body['type']).endsWith(':implausible');

/** What to send in `confirm` when the values that were asked about are right. */
export const confirmationsOf = ({ body }: Answer): unknown[] => (body['errors'] as Fields[]).map(({ confirm }) => confirm);

/** The shortest thing that shows itself to be a PDF; with other bytes each time where it is to be unlike any other. */
const pdf = (isApart: boolean): Buffer => Buffer.from(`%PDF-1.7\n% ${isApart ? uuidv7() : 'a paper'}\n`);

const NAMES = ['name', 'number', 'signInName', 'code'] as const;

function apart(body: Fields): Fields {
  drawn += 1;
  const renamed = NAMES.filter((name) => typeof body[name] === 'string').map((name) => [name, `${String(body[name])}-${drawn}`]);
  return { ...body, ...Object.fromEntries(renamed) as Fields };
}
