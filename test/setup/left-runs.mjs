// Ends the servers and deletes the data of test runs that were killed before their tear-down.
import { readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';

export async function removeLeftRuns(testData) {
  const { isRunning } = await import('../../libs/persistence/embedded/cluster-folder.ts');
  const { findPostmaster } = await import('../../libs/persistence/embedded/postmaster-file.ts');
  for (const entry of await readdir(testData)) {
    if (!/^run-\d+\.json$/u.test(entry)) continue;
    const record = join(testData, entry);
    const { pid, dataFolder } = JSON.parse(await readFile(record, 'utf8'));
    if (isRunning(pid)) continue;
    const postmaster = await findPostmaster(join(dataFolder, 'cluster'));
    if (postmaster !== undefined) process.kill(postmaster.pid, 'SIGKILL');
    for (const path of [dataFolder, record.replace(/\.json$/u, ''), record]) {
      await rm(path, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
    }
  }
}
