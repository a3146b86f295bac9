import { mkdir, open } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { destination, pino, stdSerializers, type Logger } from 'pino';
import type { Configuration } from '../configuration.js';
import { StartFailure } from './start-failure.js';

const LOG_FILE = 'everymetre.log';

/** Wherever a value under one of these names might come along, it is not written. */
const SECRETS = ['authorization', 'cookie', 'password', 'token', 'secret'];
const REDACTED = SECRETS.flatMap((name) => [name, `*.${name}`, `req.headers.${name}`]);

/** An error without the parameters and results a driver hangs on it: those are people's data. */
function errorLine(error: Error): object {
  const { type, message, stack } = stdSerializers.err(error);
  const { code, constraint } = error as { code?: unknown; constraint?: unknown };
  return { type, message, stack, code, constraint };
}

/** The program's one log, and where it goes. Flushed at once, since the last lines are the ones that matter. */
export interface ProgramLog {
  readonly logger: Logger;
  readonly place: string;
}

/** Opens the log. Throws StartFailure when the data folder cannot be made or written. */
export async function openLog({ logTo, logLevel, dataFolder }: Configuration): Promise<ProgramLog> {
  const options = { level: logLevel, redact: REDACTED, serializers: { err: errorLine } };
  if (logTo === 'stdout') return { logger: pino(options, destination({ fd: 1, sync: true })), place: 'stdout' };
  const place = join(dataFolder, LOG_FILE);
  try {
    await makeFolder(dataFolder);
    await (await open(place, 'a', 0o600)).close();
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new StartFailure(`The data folder ${dataFolder} cannot be used (${reason}): set EVERYMETRE_DATA to another one.`);
  }
  return { logger: pino(options, destination({ dest: place, sync: true, append: true })), place };
}

/** Node's own recursive mkdir never ends on a file system that cannot hold folders, such as /proc. */
async function makeFolder(path: string): Promise<void> {
  try {
    await mkdir(path);
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === 'EEXIST') return;
    if (code !== 'ENOENT' || dirname(path) === path) throw error;
    await makeFolder(dirname(path));
    await mkdir(path);
  }
}
