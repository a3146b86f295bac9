import { createHash } from 'node:crypto';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { FirstAdministratorService } from '../apps/api/src/people/first-administrator.service.js';
import type { DemoSignIn } from '../apps/api/src/start/demo.js';
import { CREW, PEOPLE, PEOPLE_AT } from './people.js';
import { newPassphrase } from './passphrase.js';
import type { StoryClock } from './story-clock.js';
import { storyId } from './story-id.js';
import { later, type Amendment, type Decision, type Entry, type Fields, type Limits, type Release, type Samples, type Step, type Who, type Withdrawal } from './step.js';

interface Reply {
  readonly status: number;
  readonly body: Record<string, unknown>;
}

/** Thrown when the program does not take a step of the story; the story and the program then disagree. */
class StoryRefused extends Error {}

/**
 * Plays the story in by requests, each person with a session of their own, so that every record passes what everybody's
 * pass: form, permission, invariants, history.
 */
export class Player {
  private readonly ids = new Map<string, string>();
  private readonly tokens = new Map<Who, string>();
  private readonly passwords = new Map<Who, string>();

  constructor(
    private readonly app: NestFastifyApplication,
    private readonly clock: StoryClock,
  ) {}

  /** Makes the people, each with a new password, and signs them in. */
  async enterPeople(): Promise<DemoSignIn[]> {
    const signIns = PEOPLE.map((person) => ({ ...person, password: newPassphrase() }));
    for (const [index, person] of signIns.entries()) {
      const { name, signInName, password, roles } = person;
      const at = later(PEOPLE_AT, index);
      const id = this.named(signInName, at);
      this.passwords.set(signInName, password);
      this.clock.set(at);
      if (index === 0) await this.app.get(FirstAdministratorService).make({ name, signInName, password, id });
      else await this.demand(201, 'tomke', 'POST', 'people', { id, observedAt: at, name, signInName, password, roles, active: true });
      const { body } = await this.demand(200, null, 'POST', 'sign-in', { name: signInName, password });
      this.tokens.set(signInName, String(body['token']));
    }
    await this.enterCrew();
    return signIns;
  }

  /** Those who never sign in: on record, and not let in. */
  private async enterCrew(): Promise<void> {
    for (const { key, name, enteredAt } of CREW) {
      this.clock.set(enteredAt);
      const person = { id: this.named(key, enteredAt), observedAt: enteredAt, name, signInName: key, password: newPassphrase(), roles: ['qc-inspector'], active: false };
      await this.demand(201, 'tomke', 'POST', 'people', person);
    }
  }

  /** Plays all steps in the order in which they were recorded. */
  async play(story: readonly Step[]): Promise<void> {
    const inOrder = [...story].sort((a, b) => Date.parse(a.recordedAt) - Date.parse(b.recordedAt));
    for (const step of inOrder) {
      if ('key' in step) this.named(step.key, step.recordedAt);
    }
    for (const step of inOrder) {
      this.clock.set(step.recordedAt);
      await this.take(step);
    }
  }

  private async take(step: Step): Promise<void> {
    switch (step.step) {
      case 'entry':
        return this.enter(step);
      case 'readings': {
        const readings = step.readings.map((fields, index) => ({ id: storyId(`${step.key} ${index}`, step.recordedAt), ...fields }));
        await this.demand(201, step.by, 'POST', `${step.kind}/batch`, { readings });
        return;
      }
      case 'amendment':
        return this.change(step, 'PATCH', '', { reason: step.reason, ...step.changes });
      case 'withdrawal':
        return this.change(step, 'POST', '/void', { reason: step.reason });
      case 'decision':
        return this.decide(step);
      case 'release':
        return this.release(step);
      case 'limits':
        return this.approve(step);
      case 'samples':
        return this.send(step);
    }
  }

  private async enter({ by, kind, key, fields, confirmed }: Entry): Promise<void> {
    const body = { id: this.idOf(key), ...fields };
    if (confirmed.length === 0) {
      await this.demand(201, by, 'POST', kind, body);
      return;
    }
    const asked = await this.demand(422, by, 'POST', kind, body);
    const errors = asked.body['errors'] as { field: string; confirm: string }[];
    if (errors.map(({ field }) => field).join() !== confirmed.join()) throw refusal(kind, body, asked);
    await this.demand(201, by, 'POST', kind, { ...body, confirm: errors.map(({ confirm }) => confirm) });
  }

  /** Signs what is shown then. */
  private async decide({ by, key, coil, decision, grounds, concessionLimit }: Decision): Promise<void> {
    const coilId = this.idOf(coil);
    const { body } = await this.demand(200, by, 'GET', `coils/${coilId}/evaluation`);
    const { decisionCount } = body['standing'] as { decisionCount: number };
    await this.demand(201, by, 'POST', 'coil-decisions', {
      id: this.idOf(key), coilId, decision, grounds, concessionLimit, evaluationSha256: body['sha256'], follows: decisionCount, secret: this.passwords.get(by),
    });
  }

  /** Signs what is proposed then. */
  private async release({ by, key, string, fromMm, toMm, grounds, reasons, ownWorkBecause }: Release): Promise<void> {
    const stringId = this.idOf(string);
    const { body } = await this.demand(200, by, 'GET', `casing-strings/${stringId}/release-proposal?fromM=${fromMm / 1000}&toM=${toMm / 1000}`);
    const exceptions = Object.entries(reasons).map(([code, because]) => ({ code, because }));
    await this.demand(201, by, 'POST', 'releases', {
      id: this.idOf(key), stringId, fromMm, toMm, evidenceSha256: body['evidenceSha256'], exceptions, ownWorkBecause, grounds, secret: this.passwords.get(by),
    });
  }

  /** Signs the limits that are shown then. */
  private async approve({ by, key, chart, fromMm, toMm, removed, ...signed }: Limits): Promise<void> {
    const chartId = this.idOf(chart);
    const without = removed.map((one) => `${one.fromMm / 1000}-${one.toMm / 1000}`).join();
    const { body } = await this.demand(200, by, 'GET', `control-charts/${chartId}/trial-limits?fromM=${fromMm / 1000}&toM=${toMm / 1000}${without === '' ? '' : `&removeM=${without}`}`);
    const { appliesFromMm, warningsAcceptedBecause, grounds } = signed;
    await this.demand(201, by, 'POST', 'chart-limits', {
      id: this.idOf(key), chartId, fromMm, toMm, appliesFromMm, removed: removed.map((one) => ({ ...one, label: null })), studySha256: body['studySha256'], warningsAcceptedBecause, grounds, secret: this.passwords.get(by),
    });
  }

  /** Sends an upload of samples as a line computer does, and ends it. */
  private async send({ by, key, run, position, columns, parts }: Samples): Promise<void> {
    const id = this.idOf(key);
    const named = Object.entries(columns).map(([column, channelId]) => ({ column, channelId }));
    await this.demand(201, by, 'POST', 'signal-uploads', { id, runId: `@${run}`, positionColumn: position, position, decimals: 0, columns: named });
    for (const [index, { firstAt, lastAt, csv }] of parts.entries()) {
      const bytes = Buffer.from(csv());
      const times = firstAt === undefined || lastAt === undefined ? '' : `?firstAt=${firstAt}&lastAt=${lastAt}`;
      const digest = `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;
      await this.demand(200, by, 'PUT', `signal-uploads/${id}/parts/${index + 1}${times}`, bytes, { 'content-type': 'text/csv', 'content-digest': digest });
    }
    await this.demand(200, by, 'POST', `signal-uploads/${id}/end`, { partCount: parts.length });
  }

  /** Amends the version that is open then: positions derived again may have made more of them. */
  private async change(step: Amendment | Withdrawal, method: 'PATCH' | 'POST', tail: string, body: Fields): Promise<void> {
    const path = `${step.kind}/${this.idOf(step.of)}`;
    const open = await this.demand(200, step.by, 'GET', path);
    await this.demand(200, step.by, method, `${path}${tail}`, body, { 'if-match': `"${String(open.body['version'])}"` });
  }

  private async demand(
    status: number, by: Who | null, method: 'GET' | 'POST' | 'PATCH' | 'PUT', path: string, body?: Fields | Buffer, headers: Readonly<Record<string, string>> = {},
  ): Promise<Reply> {
    const reply = await this.app.getHttpAdapter().getInstance().inject({
      method,
      url: `/api/${path}`,
      headers: { ...headers, ...(by === null ? {} : { authorization: `Bearer ${this.tokens.get(by) ?? ''}` }) },
      ...(body === undefined ? {} : { payload: Buffer.isBuffer(body) ? body : this.resolved(body) as object }),
    });
    const answer = { status: reply.statusCode, body: reply.json<Record<string, unknown>>() };
    if (answer.status !== status) throw refusal(path, body ?? {}, answer);
    return answer;
  }

  private named(key: string, recordedAt: string): string {
    if (this.ids.has(key)) throw new StoryRefused(`two records of the demo have the key "${key}"`);
    const id = storyId(key, recordedAt);
    this.ids.set(key, id);
    return id;
  }

  private idOf(key: string): string {
    const id = this.ids.get(key);
    if (id === undefined) throw new StoryRefused(`no record of the demo has the key "${key}"`);
    return id;
  }

  /** The value with an id in place of each `@key`. */
  private resolved(value: unknown): unknown {
    if (typeof value === 'string') return value.startsWith('@') ? this.idOf(value.slice(1)) : value;
    if (Array.isArray(value)) return value.map((part) => this.resolved(part));
    if (typeof value !== 'object' || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([field, part]) => [field, this.resolved(part)]));
  }
}

function refusal(path: string, sent: object, { status, body }: Reply): StoryRefused {
  const said = JSON.stringify({ detail: body['detail'], errors: body['errors'] });
  return new StoryRefused(`the demo's ${path} was answered with ${status}: ${said}; sent: ${JSON.stringify(sent).slice(0, 500)}`);
}
