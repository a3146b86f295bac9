import { createHash } from 'node:crypto';
import { constants } from 'node:fs';
import { access, chmod, chown, mkdir, realpath, stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { accountMay, ensureSystemUser, runsAsRoot, type Account } from './account.js';
import { completeBinaries, copyBinaries, type PostgresBinaries } from './binaries.js';
import { inspectDataFolder, layoutOf, unusable } from './cluster-folder.js';
import { codeOf, EmbeddedPostgresError } from './embedded-postgres-error.js';

/** Where PostgreSQL's data and binaries are, and the user it runs as (undefined: the user of this program). */
export interface Placement {
  readonly dataFolder: string;
  readonly binaries: PostgresBinaries;
  readonly account: Account | undefined;
}

/** Where data and binaries go when the system user cannot reach the asked places. */
const systemFolder = '/var/lib/everymetre';

/**
 * Prepares the data folder and the binaries for the user PostgreSQL will run as. As root, that is the owner of the
 * existing cluster, else the system user `everymetre`. Throws EmbeddedPostgresError.
 */
export async function choosePlacement(dataFolder: string, binaries: PostgresBinaries): Promise<Placement> {
  const requested = resolve(dataFolder);
  const content = await inspectDataFolder(requested, binaries.majorVersion);
  await completeBinaries(binaries);
  if (!runsAsRoot()) {
    return { dataFolder: await prepareOwnFolder(requested), binaries, account: undefined };
  }
  const account = (content === 'cluster' ? await ownerOf(layoutOf(requested).cluster) : undefined) ?? ensureSystemUser();
  return {
    account,
    dataFolder: await chooseFolderFor(account, requested, content),
    binaries: mayRun(account, binaries) ? binaries : await copyForSystemUser(account, binaries),
  };
}

async function prepareOwnFolder(folder: string): Promise<string> {
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    await access(folder, constants.R_OK | constants.W_OK | constants.X_OK);
    return await realpath(folder);
  } catch (cause) {
    throw unusable(folder, cause);
  }
}

async function ownerOf(path: string): Promise<Account | undefined> {
  const { uid, gid } = await stat(path);
  return uid === 0 ? undefined : { uid, gid };
}

async function chooseFolderFor(account: Account, requested: string, content: 'empty' | 'cluster'): Promise<string> {
  const substitute = join(systemFolder, createHash('sha256').update(requested).digest('hex').slice(0, 12));
  if (content === 'cluster') {
    if (accountMay(account, ['r', 'w', 'x'], requested)) return await realpath(requested);
    throw new EmbeddedPostgresError(
      `The data folder ${requested} holds a database, but the user it runs as (uid ${account.uid}) can no longer reach it: give that user the right to enter the folders above it.`,
    );
  }
  // A database once put there stays in use, even if the asked folder has become reachable since.
  if (await holdsCluster(substitute)) return substitute;
  if (accountMay(account, ['x'], await nearestExisting(dirname(requested)))) {
    await prepareFolderFor(account, requested);
    if (accountMay(account, ['r', 'w', 'x'], requested)) return await realpath(requested);
  }
  await prepareFolderFor(account, substitute);
  if (accountMay(account, ['r', 'w', 'x'], substitute)) return substitute;
  throw new EmbeddedPostgresError(
    `Neither ${requested} nor ${substitute} can be used by PostgreSQL's own user (uid ${account.uid}): choose a data folder that user can reach, or start Everymetre as an ordinary user.`,
  );
}

async function holdsCluster(folder: string): Promise<boolean> {
  return await access(layoutOf(folder).cluster).then(
    () => true,
    () => false,
  );
}

async function nearestExisting(path: string): Promise<string> {
  const found = await stat(path).then(
    () => true,
    () => false,
  );
  return found || dirname(path) === path ? path : await nearestExisting(dirname(path));
}

async function prepareFolderFor(account: Account, folder: string): Promise<void> {
  try {
    await mkdir(folder, { recursive: true, mode: 0o755 });
    await chown(folder, account.uid, account.gid);
    await chmod(folder, 0o700);
  } catch (cause) {
    throw unusable(folder, cause);
  }
}

function mayRun(account: Account, binaries: PostgresBinaries): boolean {
  return (
    accountMay(account, ['r', 'x'], binaries.initdb) &&
    accountMay(account, ['r', 'x'], binaries.postgres) &&
    accountMay(account, ['r'], join(binaries.packageFolder, 'native', 'share', 'postgresql', 'postgres.bki'))
  );
}

async function copyForSystemUser(account: Account, binaries: PostgresBinaries): Promise<PostgresBinaries> {
  try {
    await mkdir(systemFolder, { recursive: true, mode: 0o755 });
    const copy = await copyBinaries(binaries, systemFolder);
    if (mayRun(account, copy)) return copy;
  } catch (cause) {
    throw cannotCopy(codeOf(cause), cause);
  }
  throw cannotCopy('the copy cannot be run');
}

function cannotCopy(reason: string, cause?: unknown): EmbeddedPostgresError {
  return new EmbeddedPostgresError(
    `PostgreSQL's own user cannot reach the binaries, and they cannot be copied to ${systemFolder} (${reason}): start Everymetre as an ordinary user, or set DATABASE_URL to a PostgreSQL server.`,
    { cause },
  );
}
