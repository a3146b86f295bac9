import type { Answer, SignedIn, TestApi } from './api.js';
import type { BadRequest } from './bad-requests.js';
import { databaseState } from './database-state.js';

/** Something that must not happen to a bad request. */
export interface Finding {
  readonly what: string;
  readonly request: string;
}

export interface CampaignReport {
  readonly sent: number;
  readonly findings: readonly Finding[];
  /** Answers by fault and status. */
  readonly counts: Readonly<Record<string, Record<string, number>>>;
  readonly slowestMs: number;
  readonly p99Ms: number;
}

const BATCH = 100;
const SLOW_MS = 1000;
const MEMBERS = ['type', 'title', 'status', 'detail', 'instance', 'requestId', 'errors'];
/** A wrong field is named, unless the request was refused before its fields were looked at. */
const OF_FIELDS = [400, 422];

/**
 * Sends bad requests one after the other, as somebody signed in, and finds every answer that is no refusal, no
 * problem, names no field or comes late, and every batch of requests that left something in the database.
 */
export async function sendBadRequests(api: TestApi, by: SignedIn, requests: Iterable<BadRequest>): Promise<CampaignReport> {
  const findings: Finding[] = [];
  const counts: Record<string, Record<string, number>> = {};
  const times: number[] = [];
  for (const batch of inBatches(requests)) {
    const before = await databaseState(api.owner);
    for (const request of batch) {
      const started = performance.now();
      const outcome = await sent(by, request);
      const ms = performance.now() - started;
      times.push(ms);
      const status = outcome instanceof Error ? 'none' : String(outcome.status);
      const row = (counts[request.fault] ??= {});
      row[status] = (row[status] ?? 0) + 1;
      const faults = [...faultsOf(request, outcome), ...(ms > SLOW_MS ? [`took ${Math.round(ms)} ms`] : [])];
      findings.push(...faults.map((what) => ({ what, request: shown(request) })));
    }
    const after = await databaseState(api.owner);
    const written = Object.keys(after).filter((table) => after[table] !== before[table]);
    if (written.length > 0) {
      findings.push({ what: `wrote to ${written.join(', ')}`, request: `one of ${batch.length}: ${[...new Set(batch.map(shown))].slice(0, 3).join('; ')}` });
    }
  }
  times.sort((a, b) => a - b);
  return { sent: times.length, findings, counts, slowestMs: times.at(-1) ?? 0, p99Ms: times[Math.floor(times.length * 0.99)] ?? 0 };
}

/** Drawn batch by batch: some requests are a megabyte. */
function* inBatches(requests: Iterable<BadRequest>): Generator<BadRequest[]> {
  let batch: BadRequest[] = [];
  for (const request of requests) {
    batch.push(request);
    if (batch.length < BATCH) continue;
    yield batch;
    batch = [];
  }
  if (batch.length > 0) yield batch;
}

/** An answer that the API document does not allow is thrown, and is a finding like any other. */
async function sent(by: SignedIn, { method, url, headers, body }: BadRequest): Promise<Answer | Error> {
  try {
    return await by.send(method as 'GET', url, { headers, ...(body === undefined ? {} : { body }) });
  } catch (error) {
    return error instanceof Error ? error : new Error(String(error));
  }
}

/** Only these may answer that somebody signed in is not known: they ask for the password itself. */
const ASKS_PASSWORD = /^\/api\/(sign-in|me\/password|coil-decisions|releases)/;

function faultsOf({ field, url }: BadRequest, outcome: Answer | Error): string[] {
  if (outcome instanceof Error) return [outcome.message.slice(0, 300)];
  const { status, headers, body } = outcome;
  if (status < 400 || status >= 500 || (status === 401 && !ASKS_PASSWORD.test(url))) return [`answered ${status}`];
  if (!String(headers['content-type']).startsWith('application/problem+json')) return [`type ${String(headers['content-type'])}`];
  const missing = MEMBERS.filter((member) => !(member in body));
  if (missing.length > 0) return [`no ${missing.join(', ')}`];
  if (field === undefined || !OF_FIELDS.includes(status)) return [];
  const errors = body['errors'] as { field: string; value?: unknown; limit: string }[];
  const named = errors.some((entry) => isAbout(entry.field, field) && 'value' in entry && entry.limit.length > 2);
  return named ? [] : [`names ${errors.map((entry) => entry.field).join(', ') || 'no field'} for ${field}`];
}

/** A fault in a part may be told of the part, of what it is part of, or of a field in it. */
const isAbout = (told: string, field: string): boolean => told === field || told.startsWith(field) || field.startsWith(`${told}.`) || field.startsWith(`${told}[`);

function shown({ fault, method, url, headers, body, field }: BadRequest): string {
  const text = typeof body === 'string' ? body : (JSON.stringify(body) as string | undefined) ?? '';
  return `${fault}${field === undefined ? '' : ` (${field})`}: ${method} ${url.slice(0, 120)} ${JSON.stringify(headers).slice(0, 120)} ${text.slice(0, 400)}`;
}
