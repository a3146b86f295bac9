import { spawnSync } from 'node:child_process';
import { EmbeddedPostgresError } from './embedded-postgres-error.js';

/** The user PostgreSQL runs as, when that is not the user of this program. */
export interface Account {
  readonly uid: number;
  readonly gid: number;
}

const systemUser = 'everymetre';

/** Ways to create a system user: that of most distributions, then that of BusyBox (Alpine). */
const creationCommands: readonly (readonly string[])[] = [
  ['useradd', '--system', '--user-group', '--no-create-home', '--home-dir', '/nonexistent', '--shell', '/usr/sbin/nologin', systemUser],
  ['adduser', '-S', '-D', '-H', '-h', '/nonexistent', '-s', '/sbin/nologin', systemUser],
];

/** True when this program runs as root, as whom PostgreSQL refuses to run. */
export function runsAsRoot(): boolean {
  return process.getuid?.() === 0;
}

/** The system user `everymetre`, created when missing. Throws EmbeddedPostgresError when it cannot be. */
export function ensureSystemUser(): Account {
  const found = findSystemUser();
  if (found !== undefined) return found;
  for (const [command = '', ...args] of creationCommands) {
    spawnSync(command, args, { stdio: 'ignore' });
    // Asked again even when the command failed: another start may have created the user at the same moment.
    const created = findSystemUser();
    if (created !== undefined) return created;
  }
  throw new EmbeddedPostgresError(
    `PostgreSQL does not run as root, and the system user "${systemUser}" it would run as cannot be created: start Everymetre as an ordinary user, or set DATABASE_URL to a PostgreSQL server.`,
  );
}

function findSystemUser(): Account | undefined {
  const uid = idOf('-u');
  const gid = idOf('-g');
  return uid === undefined || gid === undefined ? undefined : { uid, gid };
}

function idOf(option: '-u' | '-g'): number | undefined {
  const { status, stdout } = spawnSync('id', [option, systemUser], { encoding: 'utf8' });
  return status === 0 ? Number.parseInt(stdout, 10) : undefined;
}

/**
 * Whether the account holds every one of the rights (read, write, execute or enter) on the path. It is tried as that user,
 * so that folders above, access lists and read-only mounts all count.
 */
export function accountMay(account: Account, rights: readonly ('r' | 'w' | 'x')[], path: string): boolean {
  const script = rights.map((right) => `test -${right} "$1"`).join(' && ');
  return spawnSync('/bin/sh', ['-c', script, 'sh', path], { ...account, cwd: '/', stdio: 'ignore' }).status === 0;
}
