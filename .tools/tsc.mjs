// The native TypeScript 7 compiler, called by path because its alias shares the name `tsc` with the TypeScript 6
// that the linter needs. Arguments are passed on.
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';

const require = createRequire(import.meta.url);
const packageFile = require.resolve('typescript-7/package.json');
const compiler = join(dirname(packageFile), require(packageFile).bin.tsc);
const { status } = spawnSync(process.execPath, [compiler, ...process.argv.slice(2)], { stdio: 'inherit' });
process.exit(status ?? 1);
