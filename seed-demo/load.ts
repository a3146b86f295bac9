import 'reflect-metadata';
import { readConfiguration, type Configuration } from '../apps/api/src/configuration.js';
import { loadDemo } from '../apps/api/src/start/demo.js';
import { signInLines } from '../apps/api/src/start/greeting.js';
import { openLog } from '../apps/api/src/start/log.js';
import { startService, type Service } from '../apps/api/src/start/service.js';
import { startFailureLine } from '../apps/api/src/start/start-failure.js';

let configuration: Configuration | null = null;
let service: Service | null = null;
try {
  configuration = readConfiguration(process.env);
  const { logger } = await openLog(configuration);
  service = await startService(configuration, logger);
  const begun = performance.now();
  const signIns = await loadDemo(service.app, configuration);
  const seconds = ((performance.now() - begun) / 1000).toFixed(1);
  await service.stop();
  process.stdout.write(`The demo well Lindmoor Geothermal 2 was played in, in ${seconds} s.\n${signInLines(signIns).join('\n')}\n`);
} catch (error) {
  process.stderr.write(`${startFailureLine(error, configuration)}\n`);
  await service?.stop();
  process.exit(1);
}
