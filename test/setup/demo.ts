import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import type { DataSource } from 'typeorm';
import { createDataSource } from '#libs/persistence';
import { ENTITIES } from '../../apps/api/src/app.module.js';
import { readConfiguration } from '../../apps/api/src/configuration.js';
import { createApp } from '../../apps/api/src/create-app.js';
import type { DemoSignIn } from '../../apps/api/src/start/demo.js';
import { playInDemo } from '../../seed-demo/play-in.js';
import { AnswerCheck } from './answer-check.js';
import { cloneTemplate, databaseUrl, dropDatabase } from './template-database.js';

/** The API on a database of its own with the demo well in it. */
export interface DemoApi {
  readonly app: NestFastifyApplication;
  readonly dataSource: DataSource;
  readonly signIns: readonly DemoSignIn[];
  /** The answer to a question of the demo's auditor; anything but `status` fails the test with the problem. */
  ask<B = Record<string, unknown>>(path: string, status?: number): Promise<B>;
  /** The headers of the auditor's requests. */
  readonly headers: Readonly<Record<string, string>>;
  /** The headers of requests of somebody else of the demo, newly signed in. */
  headersOf(signInName: string): Promise<Readonly<Record<string, string>>>;
  close(): Promise<void>;
}

/** Plays the demo into a new database, migrated and empty. */
export async function startDemoApi(): Promise<DemoApi> {
  const name = await cloneTemplate();
  const dataSource = await createDataSource({ url: databaseUrl(name), entities: ENTITIES, role: 'everymetre_app' }).initialize();
  // Hashes that cost nothing.
  const configuration = { ...readConfiguration({}), passwordHash: { memoryKib: 8, passes: 1 } };
  const app = await createApp({ configuration, dataSource });
  const signIns = await playInDemo(app);
  const answers = new AnswerCheck(app);
  const server = app.getHttpAdapter().getInstance();
  const headersOf = async (signInName: string): Promise<Readonly<Record<string, string>>> => {
    const password = signIns.find((person) => person.signInName === signInName)?.password;
    const reply = await server.inject({ method: 'POST', url: '/api/sign-in', payload: { name: signInName, password } });
    return { authorization: `Bearer ${reply.json<{ token: string }>().token}` };
  };
  const headers = await headersOf('merle');
  return {
    app, dataSource, signIns, headers, headersOf,
    async ask<B>(path: string, status = 200) {
      const reply = await server.inject({ method: 'GET', url: `/api/${path}`, headers });
      const body = reply.json<B>();
      if (reply.statusCode !== status) throw new Error(`${path}: ${reply.statusCode} ${reply.payload.slice(0, 500)}`);
      answers.check({
        method: 'GET', url: `/api/${path}`, contentType: String(reply.headers['content-type']), status: reply.statusCode, body,
      });
      return body;
    },
    async close() {
      await app.close();
      await dataSource.destroy();
      await dropDatabase(name);
    },
  };
}
