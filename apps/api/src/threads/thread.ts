import { Worker } from 'node:worker_threads';

const OLD_MB = 256;
const YOUNG_MB = 64;

/**
 * A thread that runs the program `name`.worker beside the file at `besideUrl` (an `import.meta.url`). It does not keep the
 * process alive. A compiled program starts it as it is; one run from its TypeScript sources (tests, development) gives the
 * thread the loader it needs, since a thread does not inherit what its parent reads sources with. `youngMb`: most memory of
 * what it has just made, before the collector looks.
 */
export function startThread(besideUrl: string, name: string, youngMb = YOUNG_MB): Worker {
  const isSource = besideUrl.endsWith('.ts');
  const program = new URL(`./${name}.worker.${isSource ? 'ts' : 'js'}`, besideUrl);
  const thread = new Worker(isSource ? throughLoader(program) : program, { resourceLimits: { maxOldGenerationSizeMb: OLD_MB, maxYoungGenerationSizeMb: youngMb } });
  thread.unref();
  return thread;
}

function throughLoader(program: URL): URL {
  const loader = new URL('../../../../.tools/swc-loader.mjs', import.meta.url);
  const start = `import { register } from 'node:module';
    register(${JSON.stringify(loader.href)});
    await import(${JSON.stringify(program.href)});`;
  return new URL(`data:text/javascript,${encodeURIComponent(start)}`);
}
