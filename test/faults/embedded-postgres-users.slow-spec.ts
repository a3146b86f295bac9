import { spawnSync } from 'node:child_process';
import { chmod, chown, cp, lstat, mkdir, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, describe, expect, jest, test } from '@jest/globals';
import { completeBinaries, copyBinaries, locateBinaries, type PostgresBinaries } from '../../libs/persistence/embedded/binaries.js';
import { EmbeddedPostgresError } from '../../libs/persistence/embedded/index.js';
import {
  cleanUp,
  deleteLater,
  endOf,
  keep,
  keptRows,
  newFolder,
  reportOf,
  start,
  startProgram,
  type OtherUser,
  type ProgramReport,
} from './embedded-postgres.harness.js';

jest.setTimeout(60_000);
afterEach(cleanUp);

const runsAsRoot = process.getuid?.() === 0;
const nobody: OtherUser = { uid: 65534, gid: 65534 };

describe('a package whose install script has not run', () => {
  test('gets its links and its right to execute, and then runs', async () => {
    const copy = await bareCopy();
    expect(versionSaidBy(copy)).toBe('');
    await completeBinaries(copy);
    expect(versionSaidBy(copy)).toMatch(/^postgres \(PostgreSQL\) 18\./u);
    await completeBinaries(copy);
  });

  test('and may not be written to is refused in one line', async () => {
    const copy = await bareCopy();
    await chmod(join(copy.packageFolder, 'native', 'lib'), 0o555);
    const error: unknown = await withoutRoot(() =>
      completeBinaries(copy).then(
        () => undefined,
        (reason: unknown) => reason,
      ),
    );
    expect(error).toBeInstanceOf(EmbeddedPostgresError);
    expect((error as EmbeddedPostgresError).message).toMatch(/are incomplete and cannot be completed \(EACCES[^\n]*: run "npm rebuild"/u);
    await chmod(join(copy.packageFolder, 'native', 'lib'), 0o755);
  });

  test('is copied whole, for every user, and once', async () => {
    const bare = await bareCopy();
    await completeBinaries(bare);
    const parent = await newFolder();
    const copy = await copyBinaries(bare, parent);
    expect(versionSaidBy(copy, runsAsRoot ? nobody : undefined)).toMatch(/^postgres \(PostgreSQL\) 18\./u);
    const { ino } = await stat(copy.packageFolder);
    await copyBinaries(bare, parent);
    expect([(await stat(copy.packageFolder)).ino, await readdir(parent)]).toEqual([ino, [`postgres-${bare.version}`]]);
  });
});

describe('a data folder this user may not use', () => {
  test.each([
    ['no right at all', 0o000],
    ['no right to write', 0o500],
  ])('with %s is refused in one line', async (_, mode) => {
    const dataFolder = await newFolder(mode);
    const { error } = await reportOf(startProgram(dataFolder, {}, runsAsRoot ? nobody : undefined));
    expect(error).toMatch(/^The data folder .* cannot be read and written by this user \(EACCES[^\n]*: give this user the folder, or choose another\.$/u);
    expect((await stat(dataFolder)).mode & 0o777).toBe(mode);
    expect(await keptAfterOpening(dataFolder)).toEqual([]);
  });
});

if (runsAsRoot) {
  describe('started by root', () => {
    test('runs as the system user, on the folder asked for', async () => {
      const dataFolder = join(await newFolder(), 'data');
      const server = await start({ dataFolder });
      expect(server.dataFolder).toBe(dataFolder);
      const owner = await stat(join(dataFolder, 'cluster'));
      expect(owner.uid).toBe(Number(spawnSync('id', ['-u', 'everymetre'], { encoding: 'utf8' }).stdout));
    });

    test('under a folder closed to others keeps the data where its user can reach it, for good', async () => {
      const closed = await newFolder(0o700);
      const dataFolder = join(closed, 'data');
      const first = await start({ dataFolder });
      deleteLater(first.dataFolder);
      expect(first.dataFolder).toMatch(/^\/var\/lib\/everymetre\/[0-9a-f]{12}$/u);
      await keep(first.url, 'first');
      await first.stop();
      await chmod(closed, 0o755);
      const second = await start({ dataFolder });
      expect([second.dataFolder, second.firstStart]).toEqual([first.dataFolder, false]);
      expect(await keptRows(second.url)).toEqual(['first']);
      expect(await readdir(closed)).toEqual([]);
    });

    test('a database that has become unreachable is not replaced by an empty one', async () => {
      const parent = await newFolder();
      const dataFolder = join(parent, 'data');
      const first = await start({ dataFolder });
      await keep(first.url, 'first');
      await first.stop();
      await chmod(parent, 0o700);
      await expect(start({ dataFolder })).rejects.toThrow(/holds a database, but the user it runs as \(uid \d+\) can no longer reach it/u);
      await chmod(parent, 0o755);
      expect(await keptRows((await start({ dataFolder })).url)).toEqual(['first']);
    });

    test('serves the data of an ordinary user as that user', async () => {
      const { dataFolder } = await writtenByNobody();
      const server = await start({ dataFolder });
      expect(await keptRows(server.url)).toEqual(['by an ordinary user', 'written after the signal']);
      await server.stop();
      const again = startProgram(dataFolder, {}, nobody);
      const { error, firstStart, url } = await reportOf(again);
      expect([error, firstStart]).toEqual(['', false]);
      expect(await keptRows(url)).toEqual(['by an ordinary user', 'written after the signal']);
    });
  });
}

/** A copy of the installed package as an archive without install scripts leaves it: no links, nothing executable. */
async function bareCopy(): Promise<PostgresBinaries> {
  const installed = await locateBinaries();
  const folder = join(await newFolder(), 'package');
  await cp(installed.packageFolder, folder, { recursive: true, verbatimSymlinks: true });
  const within = (path: string): string => path.replace(installed.packageFolder, folder);
  const copy = {
    ...installed,
    packageFolder: folder,
    initdb: within(installed.initdb),
    postgres: within(installed.postgres),
    pgCtl: within(installed.pgCtl),
  };
  for (const program of [copy.initdb, copy.postgres, copy.pgCtl]) await chmod(program, 0o644);
  const libraries = join(folder, 'native', 'lib');
  for (const name of await readdir(libraries)) {
    if ((await lstat(join(libraries, name))).isSymbolicLink()) await rm(join(libraries, name));
  }
  return copy;
}

/** What `postgres --version` prints, or nothing when it cannot run. */
function versionSaidBy(binaries: PostgresBinaries, user?: OtherUser): string {
  const { status, stdout } = spawnSync(binaries.postgres, ['--version'], { encoding: 'utf8', cwd: '/', ...user });
  return status === 0 ? stdout : '';
}

/** Root may write anywhere; this gives that up for the time of a call. */
async function withoutRoot<T>(call: () => Promise<T>): Promise<T> {
  if (!runsAsRoot) return await call();
  process.seteuid!(nobody.uid);
  try {
    return await call();
  } finally {
    process.seteuid!(0);
  }
}

/** What a refused start has left in a folder. */
async function keptAfterOpening(folder: string): Promise<string[]> {
  await chmod(folder, 0o700);
  return await readdir(folder);
}

/** A database an ordinary user made and stopped. */
async function writtenByNobody(): Promise<ProgramReport> {
  const own = join(await newFolder(), 'own');
  await mkdir(own);
  await chown(own, nobody.uid, nobody.gid);
  const program = startProgram(join(own, 'data'), {}, nobody);
  const report = await reportOf(program);
  expect([report.error, report.dataFolder]).toEqual(['', join(own, 'data')]);
  await keep(report.url, 'by an ordinary user');
  program.kill('SIGINT');
  await endOf(program);
  expect((await stat(join(own, 'data', 'cluster'))).uid).toBe(nobody.uid);
  return report;
}
