// Lets Node itself run the project's TypeScript, by `node --import ./.tools/swc-loader.mjs file.ts` or by importing
// this file before a dynamic import: swc compiles each file, `#libs/*` leads to the sources, and a relative
// `./x.js` leads to `./x.ts`. The same file is loaded a second time, as hooks, in the thread Node keeps for them.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { register } from 'node:module';
import { fileURLToPath } from 'node:url';
import { isMainThread } from 'node:worker_threads';

const typeScript = /^file:.*(?<!\.d)\.ts$/u;
const registered = Symbol.for('everymetre.swc-loader');

if (isMainThread && globalThis[registered] === undefined) {
  globalThis[registered] = true;
  register(import.meta.url);
}

export async function resolve(specifier, context, nextResolve) {
  if (/^\.{1,2}\/.*\.js$/u.test(specifier) && typeScript.test(context.parentURL ?? '')) {
    const source = new URL(specifier.replace(/\.js$/u, '.ts'), context.parentURL);
    if (existsSync(source)) return { url: source.href, format: 'module', shortCircuit: true };
  }
  return nextResolve(specifier, { ...context, conditions: [...context.conditions, 'source'] });
}

const settings = readFileSync(new URL('../.swcrc', import.meta.url), 'utf8');
const compiled = new URL('../.test-data/compiled/', import.meta.url);

/** What swc made of just this source before, under these settings; campaigns start the program dozens of times. */
async function compile(file, source) {
  const kept = new URL(`${createHash('sha256').update(settings).update(file).update(source).digest('hex')}.js`, compiled);
  if (existsSync(kept)) return readFileSync(kept, 'utf8');
  const { transform } = await import('@swc/core');
  const { code } = await transform(source, { ...JSON.parse(settings), swcrc: false, configFile: false, filename: file });
  try {
    mkdirSync(compiled, { recursive: true });
    const half = new URL(`${kept.href}.${process.pid}`);
    writeFileSync(half, code);
    renameSync(half, kept);
  } catch {
    // Another user's folder: then it is compiled each time.
  }
  return code;
}

export async function load(url, context, nextLoad) {
  if (!typeScript.test(url)) return nextLoad(url, context);
  const file = fileURLToPath(url);
  return { format: 'module', source: await compile(file, readFileSync(file, 'utf8')), shortCircuit: true };
}
