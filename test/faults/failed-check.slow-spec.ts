import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { v7 as uuidv7 } from 'uuid';
import type { EvidenceBody } from '../e2e/evidence.factory.js';
import { line } from '../e2e/evidence.factory.js';
import type { Fields } from '../e2e/line.factory.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { Wire, type WireAnswer } from '../setup/wire.js';
import { Draws } from '../properties/line-draws.reference.js';
import { endPrograms, killDatabase, makeAdministrator, Program, signedIn, tokenOf, withDatabase } from './api.harness.js';
import { cleanUp, newFolder } from './embedded-postgres.harness.js';
import { AFTER_LAST_CHECK, check, made, makeReleasedWorld, type ReleasedWorld } from './released-world.js';

jest.setTimeout(600_000);

/**
 * A check that failed becomes known after its pipe was released and hangs in the well. The program is killed around the commit:
 * afterwards the check is on record with all that follows from it, or there is no trace of it.
 */
const KILLS = 15;
/** Every third kill takes the database with it. */
const DATABASE_EVERY = 3;
const FIRST_DELAY_MS = 15;

const seed = seedFromEnvironment().seed ?? Math.trunc(Math.random() * 2 ** 31);
let dataFolder: string;
let program: Program;
let spare: Program;
let wire: Wire;
let world: ReleasedWorld;

const load = (): Program => Program.api({ EVERYMETRE_DATA: dataFolder });

async function startAgain(): Promise<void> {
  program = spare;
  const url = await program.started();
  spare = load();
  wire = await signedIn(url, 'inspector');
}

beforeAll(async () => {
  dataFolder = join(await newFolder(), 'data');
  await makeAdministrator(dataFolder);
  program = load();
  const url = await program.started();
  const administrator = await signedIn(url, 'first');
  await made(administrator, 'people', {
    observedAt: '2026-03-01T06:00:00Z', name: 'Inspector', signInName: 'inspector', roles: ['materials-engineer'], active: true, password: 'nine coils stayed very dry',
  });
  administrator.close();
  spare = load();
  world = await makeReleasedWorld(url, await tokenOf(url, 'inspector'));
  wire = await signedIn(url, 'inspector');
});

afterAll(async () => {
  await endPrograms();
  await cleanUp();
});

/** What is known of the release and of the check. */
interface Known {
  /** Rows of the check in the database. */
  readonly rows: number;
  readonly check: number;
  readonly line: string;
  readonly reopened: unknown;
  readonly changes: readonly unknown[];
  readonly walls: readonly { readonly wall: string; readonly md: readonly Fields[] }[];
  readonly failedChecks: readonly (Fields & { readonly proposals: readonly Fields[] })[];
}

async function got<B>(path: string): Promise<B> {
  const { status, body } = await wire.get(path);
  expect({ path, status, body }).toMatchObject({ status: 200 });
  return body as B;
}

interface StandingBody {
  readonly reopened: { readonly intervals: readonly unknown[] };
  readonly releases: readonly { readonly release: Fields; readonly changes: readonly ChangeBody[]; readonly reopenedOnWalls: Known['walls'] }[];
}
interface ChangeBody extends Fields {
  readonly after: { readonly state: string; readonly testimonies: readonly { readonly records: readonly Fields[] }[] };
}

async function known(checkId: string): Promise<Known> {
  const standing = await got<StandingBody>(`casing-strings/${world.stringId}/release-standing`);
  const proof = await got<{ readonly failedChecks: Known['failedChecks'] }>(`casing-strings/${world.stringId}/inspection-proof`);
  const [release] = standing.releases;
  expect([standing.releases.length, release?.release['id']]).toEqual([1, world.releaseId]);
  return {
    rows: await rowsOf(checkId), check: (await wire.get(`reference-checks/${checkId}`)).status, line: line(await got<EvidenceBody>(`casing-strings/${world.stringId}/evidence`), 'ET-1'),
    reopened: standing.reopened.intervals, walls: (release?.reopenedOnWalls ?? []).filter(({ md }) => md.length > 0), failedChecks: proof.failedChecks,
    changes: (release?.changes ?? []).map(({ code, fromMm, toMm, worse, after }) => ({ code, fromMm, toMm, worse, state: after.state, checks: checksNamed(after) })),
  };
}

/** The checks that the difference list names, of those that were tried. */
const checksNamed = ({ testimonies }: ChangeBody['after']): unknown[] =>
  [...new Set(testimonies.flatMap(({ records }) => records.filter(({ kind, id }) => kind === 'reference-check' && tried.has(String(id))).map(({ id }) => id)))];

const tried = new Set<string>();

const rowsOf = (id: string): Promise<number> => withDatabase(dataFolder, async (client) => {
  const { rows } = await client.query<{ count: string }>('select count(*) from reference_check where id = $1', [id]);
  return Number(rows[0]?.count);
});

const NOTHING = { rows: 0, check: 404, reopened: [], changes: [], walls: [], failedChecks: [] };

/** The check is not there, and the release stands on the evidence that it was signed on. */
const expectNothing = (found: Known): void => {
  expect({ seed, found }).toMatchObject({ seed, found: NOTHING });
  expect(found.line).toMatch(/^confirmed 0-50000 late, provisional 50000-180000 late, missing 180000-200000$/);
};

/** The check is there, and so is all that follows from it. */
function expectAll(found: Known, checkId: string): void {
  expect({ seed, found }).toMatchObject({
    seed, found: {
      rows: 1, check: 200, reopened: [AFTER_LAST_CHECK], changes: [{ code: 'ET-1', ...AFTER_LAST_CHECK, worse: true, state: 'suspect', checks: [checkId] }],
      failedChecks: [{ check: { kind: 'reference-check', id: checkId }, side: 'before', footage: { intervals: [AFTER_LAST_CHECK] }, proposals: [{ stringId: world.stringId }] }],
    },
  });
  expect(found.line).toMatch(/^confirmed 0-50000 late, suspect 50000-180000 late, missing 180000-200000$/);
  expect(found.walls.map(({ wall, md }) => [wall, md.length])).toEqual([['outer', 1], ['inner', 1]]);
  // The pipe hangs from where it was turned back down to the fold outside, and from there up inside.
  expect(found.walls[0]?.md[0]?.['toMm']).toBe(found.walls[1]?.md[0]?.['toMm']);
}

describe('a check that failed, entered after the release, the program killed around the commit', () => {
  test(`${KILLS} times: all of it is known afterwards or nothing, and a repeat has the effect of one`, async () => {
    const draws = new Draws(seed);
    const counts = { stood: 0, answered: 0, gone: 0, databaseKills: 0 };
    let delayMs = FIRST_DELAY_MS;
    for (let kill = 1; kill <= KILLS; kill += 1) {
      const body = { id: uuidv7(), ...check(world, '16:05', '41', 'end') };
      tried.add(body.id);
      expectNothing(await known(body.id));
      const answer = await killedWhile(wire.post('reference-checks', body), delayMs * draws.whole(50, 150) / 100, kill % DATABASE_EVERY === 0);
      if (kill % DATABASE_EVERY === 0) counts.databaseKills += 1;
      await startAgain();
      const found = await known(body.id);
      const stood = found.check === 200;
      if (answer !== null) expect([answer.status, stood]).toEqual([201, true]);
      if (stood) expectAll(found, body.id);
      else expectNothing(found);
      counts[answer !== null ? 'answered' : stood ? 'stood' : 'gone'] += 1;
      // Nearer to the commit from either side.
      delayMs = stood ? delayMs * 0.75 : delayMs * 1.35;
      await repeated(body);
      await recalled(found.check === 200 ? found : await known(body.id));
      await withdrawn(body.id);
    }
    process.stdout.write(`failed check: seed ${seed}, ${KILLS} kills (${counts.databaseKills} of the database too): ${counts.answered} answered, ${counts.stood} cut off and there, ${counts.gone} cut off and not there, none half done\n`);
    expect(counts.gone).toBeGreaterThan(1);
    expect(counts.stood + counts.answered).toBeGreaterThan(1);
  });

  /** The answer, when it came whole before the program was gone. */
  async function killedWhile(sent: Promise<WireAnswer>, delayMs: number, isDatabaseToo: boolean): Promise<WireAnswer | null> {
    const answer = sent.catch(() => null);
    await pause(delayMs);
    if (isDatabaseToo) await killDatabase(dataFolder);
    program.signal('SIGKILL');
    await program.ended();
    wire.close();
    const came = await answer;
    return came?.status === 201 ? came : null;
  }

  /** The request sent again, and once more: there is one check, and it says the same. */
  async function repeated(body: Fields & { readonly id: string }): Promise<void> {
    const [first, again] = [await wire.post('reference-checks', body), await wire.post('reference-checks', body)];
    expect([first.status, again]).toEqual([201, first]);
    expectAll(await known(body.id), body.id);
  }

  /** What the check puts in doubt, entered as proposed, is recalled at the same depths of both walls. */
  async function recalled({ failedChecks: [failed], walls }: Known): Promise<void> {
    const proposal = failed?.proposals[0];
    const { status, body } = await wire.post('nonconformances', { id: uuidv7(), ...proposal });
    expect({ status, body }).toMatchObject({ status: 201 });
    const id = String(body['id']);
    const recall = await got<{ readonly strings: readonly { readonly walls: readonly { readonly wall: string; readonly nominal: readonly Fields[] }[] }[] }>(`recall?nonconformanceId=${id}`);
    expect(recall.strings.map((one) => one.walls.map(({ wall, nominal }) => ({ wall, md: nominal })))).toEqual([walls]);
    await voided('nonconformances', id);
  }

  const withdrawn = async (id: string): Promise<void> => {
    await voided('reference-checks', id);
    const { reopened } = await known(id);
    expect(reopened).toEqual([]);
  };

  async function voided(path: string, id: string): Promise<void> {
    const answer = await wire.send({ method: 'POST', path: `/api/${path}/${id}/void`, body: { reason: 'Tried' }, headers: { 'if-match': '"1"' } });
    expect(answer).toMatchObject({ status: 200 });
  }
});
