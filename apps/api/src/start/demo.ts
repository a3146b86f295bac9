import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import type { Configuration } from '../configuration.js';

/** Somebody of the demo, with whose password one can look around. The passwords are made anew for each database. */
export interface DemoSignIn {
  readonly name: string;
  readonly signInName: string;
  readonly password: string;
  readonly roles: readonly string[];
}

const fileOf = ({ dataFolder }: Configuration): string => join(dataFolder, 'demo-sign-ins.json');

/** Plays the demo well in and keeps its sign-ins beside the database. */
export async function loadDemo(app: NestFastifyApplication, configuration: Configuration): Promise<DemoSignIn[]> {
  const { playInDemo } = await import('../../../../seed-demo/play-in.js');
  const signIns = await playInDemo(app);
  await writeFile(fileOf(configuration), `${JSON.stringify(signIns, null, 2)}\n`, { mode: 0o600 });
  return signIns;
}

/** Where the demo's question is asked: what stands at 212.0 to 214.5 m. */
export async function demoQuestion(): Promise<string> {
  const { MAIN_STRING_ID } = await import('../../../../seed-demo/story.js');
  return `/api/casing-strings/${MAIN_STRING_ID}/trace?fromM=212.0&toM=214.5`;
}

/** The sign-ins of a demo played in earlier; none when there is no demo. */
export async function demoSignIns(configuration: Configuration): Promise<DemoSignIn[]> {
  const text = await readFile(fileOf(configuration), 'utf8').catch(() => '[]');
  return JSON.parse(text) as DemoSignIn[];
}
