import { randomBytes } from 'node:crypto';
import { chmod, lchown, link, mkdir, open, readdir, readFile, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Account } from './account.js';
import { codeOf, EmbeddedPostgresError, reasonOf } from './embedded-postgres-error.js';

/** What a data folder holds: `cluster` (PostgreSQL's own), `password` (its superuser's), `postgres.log`. */
export interface DataFolderLayout {
  readonly cluster: string;
  readonly password: string;
  readonly log: string;
}

/** The paths inside a data folder. */
export function layoutOf(dataFolder: string): DataFolderLayout {
  return {
    cluster: join(dataFolder, 'cluster'),
    password: join(dataFolder, 'password'),
    log: join(dataFolder, 'postgres.log'),
  };
}

const draftPrefix = 'cluster.new-';
const expectedEntry = /^(?:cluster\.new-.*|password(?:\.new-.*)?|postgres\.log(?:\.1)?|lost\+found|\.DS_Store)$/u;

/**
 * What is in the folder: nothing of ours yet (`empty`, also when it is missing), or a cluster of the wanted major
 * version. Throws EmbeddedPostgresError for anything else, so that nothing of others is ever written over.
 */
export async function inspectDataFolder(dataFolder: string, majorVersion: number): Promise<'empty' | 'cluster'> {
  const entries = await entriesOf(dataFolder);
  if (!entries.includes('cluster')) {
    const stranger = entries.find((entry) => !expectedEntry.test(entry));
    if (stranger === undefined) return 'empty';
    throw new EmbeddedPostgresError(
      `The data folder ${dataFolder} is not empty and is not Everymetre's (it holds "${stranger}"): choose an empty or new folder.`,
    );
  }
  const version = await readFile(join(layoutOf(dataFolder).cluster, 'PG_VERSION'), 'utf8').catch((cause: unknown) => {
    throw codeOf(cause) === 'ENOENT'
      ? new EmbeddedPostgresError(
          `The data folder ${dataFolder} holds a folder "cluster" that is not PostgreSQL's: choose an empty or new folder.`,
        )
      : unusable(dataFolder, cause);
  });
  if (Number.parseInt(version, 10) === majorVersion) return 'cluster';
  throw new EmbeddedPostgresError(
    `The data folder ${dataFolder} was written by PostgreSQL ${version.trim()} and this program brings ${majorVersion}: run the Everymetre release that wrote it, or choose an empty or new folder.`,
  );
}

async function entriesOf(dataFolder: string): Promise<string[]> {
  try {
    return await readdir(dataFolder);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return [];
    throw unusable(dataFolder, error);
  }
}

/** The error of a data folder this user cannot read or write. */
export function unusable(dataFolder: string, cause: unknown): EmbeddedPostgresError {
  return new EmbeddedPostgresError(
    `The data folder ${dataFolder} cannot be read and written by this user (${reasonOf(cause)}): give this user the folder, or choose another.`,
    { cause },
  );
}

/** Gives a path to the account, when there is one; of a link the link itself, lest it lead out of the folder. */
export async function giveTo(account: Account | undefined, path: string): Promise<void> {
  if (account !== undefined) await lchown(path, account.uid, account.gid);
}

/** The superuser's password. Throws EmbeddedPostgresError when its file is missing. */
export async function readPassword(dataFolder: string): Promise<string> {
  const file = layoutOf(dataFolder).password;
  const password = await readFile(file, 'utf8').catch((cause: unknown) => {
    throw new EmbeddedPostgresError(
      `The database's password file ${file} cannot be read (${codeOf(cause)}): put it back from a copy of the data folder.`,
      { cause },
    );
  });
  return password.trim();
}

/** Writes a random password of 192 bits, readable by its user alone, unless there is one; whole or not at all. */
export async function ensurePassword(dataFolder: string, account: Account | undefined): Promise<void> {
  const file = layoutOf(dataFolder).password;
  const draft = `${file}.new-${randomBytes(6).toString('hex')}`;
  const handle = await open(draft, 'wx', 0o600);
  try {
    await handle.writeFile(`${randomBytes(24).toString('base64url')}\n`);
    await handle.sync();
  } finally {
    await handle.close();
  }
  try {
    await giveTo(account, draft);
    await link(draft, file);
  } catch (error) {
    if (codeOf(error) !== 'EEXIST') throw error;
  } finally {
    await rm(draft, { force: true });
  }
}

/**
 * Fills a draft folder by `fill` and gives it its name once whole, so that a cluster is there completely or not at
 * all. When another start was first, its cluster is kept and the draft dropped.
 */
export async function createCluster(
  dataFolder: string,
  account: Account | undefined,
  fill: (draft: string) => Promise<void>,
): Promise<void> {
  const { cluster } = layoutOf(dataFolder);
  const draft = join(dataFolder, `${draftPrefix}${process.pid}-${randomBytes(6).toString('hex')}`);
  try {
    await mkdir(draft, { mode: 0o700 });
    await giveTo(account, draft);
    await fill(draft);
    await rename(draft, cluster);
    await syncFolder(dataFolder);
  } catch (error) {
    await rm(draft, { recursive: true, force: true, maxRetries: 3 });
    if (!(await entriesOf(dataFolder)).includes('cluster')) throw error;
  }
}

/** Makes a rename inside the folder durable; Windows has no such call. */
async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Whether a draft lies there whose maker no longer runs: a creation was interrupted. */
export async function hasInterruptedDraft(dataFolder: string): Promise<boolean> {
  return (await entriesOf(dataFolder)).some((entry) => {
    const maker = /^cluster\.new-(\d+)-/u.exec(entry)?.[1];
    return maker !== undefined && !isRunning(Number.parseInt(maker, 10));
  });
}

/** Removes drafts. To be called by the owner of the cluster, who makes every other draft pointless. */
export async function removeDrafts(dataFolder: string): Promise<void> {
  for (const entry of await entriesOf(dataFolder)) {
    if (entry.startsWith(draftPrefix)) {
      await rm(join(dataFolder, entry), { recursive: true, force: true, maxRetries: 3 }).catch(() => undefined);
    }
  }
}

/** PostgreSQL refuses a cluster folder that others may read, as a careless copy leaves it. */
export async function closeToOthers(clusterFolder: string): Promise<void> {
  if (process.platform !== 'win32') await chmod(clusterFolder, 0o700);
}

/** Whether a process of that id exists, whatever it is. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return codeOf(error) === 'EPERM';
  }
}
