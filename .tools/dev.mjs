// Runs the program and starts it anew whenever a source file changes. A change that does not compile leaves the
// program as it runs.
import { spawn } from 'node:child_process';
import { existsSync, watch } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildWhenStale } from './build-when-stale.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const quietMs = 150;
let program = null;
let timer = null;
let restarting = false;

function start() {
  program = spawn(process.execPath, ['--enable-source-maps', join(root, '.build/apps/api/src/main.js')], { cwd: root, stdio: 'inherit' });
  program.on('exit', (code) => {
    program = null;
    if (restarting) {
      restarting = false;
      start();
    } else if (code !== 0) console.error(`The program ended with ${code}; it starts again with the next change.`);
    else process.exit(0);
  });
}

function changed() {
  if (!buildWhenStale()) return;
  if (program === null) {
    start();
    return;
  }
  if (restarting) return;
  restarting = true;
  program.kill('SIGTERM');
}

for (const folder of ['apps', 'libs', 'migrations', 'seed-demo']) {
  if (!existsSync(join(root, folder))) continue;
  watch(join(root, folder), { recursive: true }, () => {
    clearTimeout(timer);
    timer = setTimeout(changed, quietMs);
  });
}
// The program gets the terminal's Ctrl-C itself; this process waits for its end.
process.on('SIGINT', () => undefined);
process.on('SIGTERM', () => program?.kill('SIGTERM'));
changed();
