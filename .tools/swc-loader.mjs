// Lets Node itself run the project's TypeScript, by `node --import ./.tools/swc-loader.mjs file.ts` or by importing
// this file before a dynamic import: swc compiles each file in memory, `#libs/*` leads to the sources, and a relative
// `./x.js` leads to `./x.ts`. The same file is loaded a second time, as hooks, in the thread Node keeps for them.
import { existsSync, readFileSync } from 'node:fs';
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

export async function load(url, context, nextLoad) {
  if (!typeScript.test(url)) return nextLoad(url, context);
  const { transform } = await import('@swc/core');
  const options = JSON.parse(readFileSync(new URL('../.swcrc', import.meta.url), 'utf8'));
  const file = fileURLToPath(url);
  const { code } = await transform(readFileSync(file, 'utf8'), { ...options, swcrc: false, configFile: false, filename: file });
  return { format: 'module', source: code, shortCircuit: true };
}
