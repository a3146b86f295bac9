import 'reflect-metadata';
import { parseArgs } from 'node:util';
import { readConfiguration, type Configuration } from './configuration.js';
import { FirstAdministratorService } from './people/first-administrator.service.js';
import { openLog } from './start/log.js';
import { readPassword } from './start/read-password.js';
import { startService, type Service } from './start/service.js';
import { StartFailure, startFailureLine } from './start/start-failure.js';

const USAGE = 'Use: npm run admin -- --name "Their Name" --sign-in name   (the password is asked for, or read from a pipe)';

let configuration: Configuration | null = null;
let service: Service | null = null;
try {
  const { name, signInName } = namesOf(process.argv.slice(2));
  configuration = readConfiguration(process.env);
  const { logger } = await openLog(configuration);
  const password = await readPassword('Password (15 characters or more): ', 'Once more: ');
  service = await startService(configuration, logger);
  await service.app.get(FirstAdministratorService).make({ name, signInName, password });
  await service.stop();
  process.stdout.write(`${name} can now sign in as "${signInName}".\n`);
} catch (error) {
  process.stderr.write(`${startFailureLine(error, configuration)}\n`);
  await service?.stop();
  process.exit(1);
}

function namesOf(parameters: string[]): { name: string; signInName: string } {
  try {
    const options = { name: { type: 'string' }, 'sign-in': { type: 'string' } } as const;
    const { name, 'sign-in': signInName } = parseArgs({ args: parameters, options }).values;
    if (name !== undefined && signInName !== undefined) return { name, signInName };
  } catch {
    // An unknown option is answered like a missing one.
  }
  throw new StartFailure(USAGE);
}
