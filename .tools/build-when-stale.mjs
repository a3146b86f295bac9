// Compiles the program into .build when a source file has changed since the last time; silent otherwise.
// What counts is the list of source files with their times and sizes, kept in .build/.stamp.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const output = join(root, '.build');
const stamp = join(output, '.stamp');
const folders = ['apps', 'libs', 'migrations', 'seed-demo', 'test/bench'];
const settings = ['tsconfig.json', '.tools/tsconfig.build.json', 'package-lock.json'];

/** Besides the sources only JSON files are read by the compiler. */
const isSource = (name) => name.endsWith('.ts') || name.endsWith('.json');

export function sourceState() {
  const hash = createHash('sha256');
  const note = (path) => {
    const { mtimeMs, size } = statSync(join(root, path));
    hash.update(`${path} ${mtimeMs} ${size}\n`);
  };
  const walk = (folder) => {
    for (const entry of readdirSync(join(root, folder), { withFileTypes: true })) {
      const path = `${folder}/${entry.name}`;
      if (entry.isDirectory()) walk(path);
      else if (isSource(entry.name)) note(path);
    }
  };
  for (const folder of folders) if (existsSync(join(root, folder))) walk(folder);
  settings.forEach(note);
  return hash.digest('hex');
}

/** Compiles when needed. Answers false when that failed; the compiler has said why. */
export function buildWhenStale() {
  const state = sourceState();
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === state) return true;
  // What was compiled from a file that is gone must not stay.
  rmSync(output, { recursive: true, force: true });
  mkdirSync(output);
  const compiler = [join(root, '.tools/tsc.mjs'), '-p', join(root, '.tools/tsconfig.build.json')];
  const { status } = spawnSync(process.execPath, compiler, { cwd: root, stdio: 'inherit' });
  if (status !== 0) return false;
  writeFileSync(stamp, state);
  return true;
}

if (process.argv[1] === fileURLToPath(import.meta.url) && !buildWhenStale()) {
  console.error('The program could not be compiled; the messages above say why.');
  process.exit(1);
}
