// Installs the locked dependencies when they are missing or older than the lock file; silent otherwise.
// It needs nothing but Node itself, since it runs before anything is installed.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';

const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(`Everymetre needs Node 20.19 or newer; this is ${process.versions.node}.`);
  process.exit(1);
}

const root = fileURLToPath(new URL('..', import.meta.url));
const stamp = join(root, 'node_modules', '.installed-lock');
const wanted = createHash('sha256').update(readFileSync(join(root, 'package-lock.json'))).digest('hex');

if (!existsSync(stamp) || readFileSync(stamp, 'utf8') !== wanted) {
  console.log('Installing the locked dependencies (once) ...');
  // Install scripts are not run: the only one needed, PostgreSQL's library links, is done where PostgreSQL is started.
  const npm = spawnSync('npm', ['ci', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    shell: process.platform === 'win32',
  });
  if (npm.status !== 0) {
    console.error('The dependencies could not be installed; the message above says why.');
    process.exit(npm.status ?? 1);
  }
  writeFileSync(stamp, wanted);
}
