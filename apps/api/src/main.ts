import 'reflect-metadata';
import { DataSource } from 'typeorm';
import { readConfiguration, type Configuration } from './configuration.js';
import { demoQuestion, demoSignIns, loadDemo } from './start/demo.js';
import { greeting } from './start/greeting.js';
import { openLog, type ProgramLog } from './start/log.js';
import { startService, type Service } from './start/service.js';
import { startFailureLine } from './start/start-failure.js';
import { stopOnSignal } from './start/stop-on-signal.js';

let configuration: Configuration | null = null;
let service: Service | null = null;
try {
  configuration = readConfiguration(process.env);
  const log = await openLog(configuration);
  service = await startService(configuration, log.logger);
  await serve(configuration, service, log);
} catch (error) {
  process.stderr.write(`${startFailureLine(error, configuration)}\n`);
  await service?.stop();
  process.exit(1);
}

async function serve(given: Configuration, started: Service, { logger, place }: ProgramLog): Promise<void> {
  const { app, firstStart, embedded } = started;
  const signIns = firstStart && given.demo ? await loadDemo(app, given) : embedded ? await demoSignIns(given) : [];
  await app.listen(given.port, given.host);
  stopOnSignal(started, logger);
  const people: unknown[] = await app.get(DataSource).query('select 1 from credential limit 1');
  const [url, question] = [await app.getUrl(), await demoQuestion()];
  process.stdout.write(greeting({ url, logPlace: place, signIns, question, nobody: people.length === 0 }));
}
