import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import type { Response } from 'light-my-request';
import type { DataSource } from 'typeorm';
import { v7 as uuidv7 } from 'uuid';
import { createDataSource, type Clock } from '#libs/persistence';
import { Credentials } from '../../apps/api/src/access/credentials.js';
import type { Role } from '../../apps/api/src/access/permissions.js';
import { Sessions } from '../../apps/api/src/access/sessions.js';
import { ENTITIES } from '../../apps/api/src/app.module.js';
import { readConfiguration, type Configuration } from '../../apps/api/src/configuration.js';
import { createApp } from '../../apps/api/src/create-app.js';
import { FirstAdministratorService } from '../../apps/api/src/people/first-administrator.service.js';
import { AnswerCheck } from './answer-check.js';
import type { ApiDocument } from './document.js';
import { recordingRoutes, type Route } from './routes.js';
import { cloneTemplate, databaseUrl, dropDatabase } from './template-database.js';

export const TEST_PASSWORD = 'nine coils stayed dry';

/** An answer of the API, its JSON parsed. */
export interface Answer<B = Record<string, unknown>> {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | undefined>>;
  readonly body: B;
}

export interface SendOptions {
  readonly body?: unknown;
  readonly headers?: Readonly<Record<string, string>>;
  /** Where the request comes from; 127.0.0.1 when absent. */
  readonly address?: string;
}

export type Method = 'GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE';

type Send = <B = Record<string, unknown>>(method: Method, path: string, options?: SendOptions) => Promise<Answer<B>>;

/** Somebody signed in: sends requests with their token. */
export interface SignedIn {
  readonly personId: string;
  readonly token: string;
  readonly signInName: string;
  readonly send: Send;
}

export interface TestApi {
  readonly app: NestFastifyApplication;
  /** Connected as the owner of the database, past every grant. */
  readonly owner: DataSource;
  readonly dataSource: DataSource;
  readonly databaseUrl: string;
  /** Every route the server has. */
  readonly routes: readonly Route[];
  readonly document: ApiDocument;
  /**
   * Sends a request without a token unless `options.headers` bring one. An answer that the API document does not
   * allow fails the test.
   */
  readonly send: Send;
  /** A new person with these roles, signed in. Its password is TEST_PASSWORD. */
  signIn(...roles: Role[]): Promise<SignedIn>;
  /** Listens on a free port, for tests that need a socket. Gives `http://127.0.0.1:…`. */
  listen(): Promise<string>;
  close(): Promise<void>;
}

/** Hashes that cost nothing, and limits that a campaign of requests does not meet. */
function testConfiguration(): Configuration {
  return {
    ...readConfiguration({ RATE_STRANGER_PER_MINUTE: '1000000000', RATE_SESSION_PER_MINUTE: '1000000000' }),
    passwordHash: { memoryKib: 8, passes: 1 },
  };
}

/** The whole API on a new database of its own, migrated and empty but for one administrator; by the database's clock without `clock`. */
export async function startTestApi(changes: Partial<Configuration> = {}, clock?: Clock): Promise<TestApi> {
  const name = await cloneTemplate();
  const url = databaseUrl(name);
  const owner = await createDataSource({ url, entities: ENTITIES, poolSize: 2 }).initialize();
  const dataSource = await createDataSource({ url, entities: ENTITIES, role: 'everymetre_app' }).initialize();
  const configuration = { ...testConfiguration(), ...changes };
  const { started: app, routes } = await recordingRoutes(() => createApp({ configuration, dataSource, ...(clock === undefined ? {} : { clock }) }));
  const answers = new AnswerCheck(app);
  const server = app.getHttpAdapter().getInstance();

  const send = async <B>(method: Method, path: string, options: SendOptions = {}): Promise<Answer<B>> => {
    const { body, headers = {}, address } = options;
    const reply = await server.inject({
      method, url: path, headers, payloadAsStream: true,
      ...(body === undefined ? {} : { payload: body as object }),
      ...(address === undefined ? {} : { remoteAddress: address }),
    });
    const answer = { status: reply.statusCode, headers: reply.headers as Answer['headers'], body: (await bodyOf(reply)) as B };
    answers.check({ method, url: path, contentType: answer.headers['content-type'], ...answer });
    return answer;
  };
  const passwordDigest = await app.get(Credentials).digestOf(TEST_PASSWORD);
  const firstId = await app.get(FirstAdministratorService).make({
    name: 'Test Administrator', signInName: 'first-administrator', password: TEST_PASSWORD,
  });

  return {
    app, owner, dataSource, databaseUrl: url, routes, send,
    get document() {
      return answers.document;
    },
    async signIn(...roles) {
      const personId = uuidv7();
      const signInName = `test-${personId}`;
      await addPerson(owner, { personId, signInName, roles, keyedBy: firstId, passwordDigest });
      const { token } = await app.get(Sessions).open(personId);
      const withToken: Send = (method, path, options = {}) =>
        send(method, path, { ...options, headers: { authorization: `Bearer ${token}`, ...options.headers } });
      return { personId, token, signInName, send: withToken };
    },
    async listen() {
      await app.listen(0, '127.0.0.1');
      return app.getUrl();
    },
    async close() {
      await app.close();
      await dataSource.destroy();
      await owner.destroy();
      await dropDatabase(name);
    },
  };
}

/** Of a stream of events, which ends only when somebody ends it, what comes first. */
async function bodyOf(reply: Response): Promise<unknown> {
  const type = String(reply.headers['content-type'] ?? '');
  const chunks: Buffer[] = [];
  for await (const chunk of reply.stream()) {
    chunks.push(Buffer.from(chunk as Uint8Array));
    if (type.startsWith('text/event-stream')) break;
  }
  const payload = Buffer.concat(chunks).toString();
  return /[/+]json/.test(type) ? (JSON.parse(payload) as unknown) : payload;
}

interface TestPerson {
  readonly personId: string;
  readonly signInName: string;
  readonly roles: readonly Role[];
  readonly keyedBy: string;
  readonly passwordDigest: string;
}

async function addPerson(owner: DataSource, person: TestPerson): Promise<void> {
  const { personId, signInName, roles, keyedBy, passwordDigest } = person;
  await owner.transaction(async (manager) => {
    await manager.query("select set_config('app.actor', $1, true), set_config('app.request', 'test', true)", [keyedBy]);
    await manager.query(
      `insert into person (id, version, known_from, observed_at, state, done_by, keyed_by, source, marks, request_id,
                           digest, name, sign_in_name, roles, active)
       select $1, 1, now, now, 'active', $2, $2, 'keyed', '[]', 'test', '', $3, $4, $5, true from clock_timestamp() as now`,
      [personId, keyedBy, `Test ${roles.join(' and ')}`, signInName, roles],
    );
    await manager.query('insert into credential (person_id, password_hash) values ($1, $2)', [personId, passwordDigest]);
  });
}
