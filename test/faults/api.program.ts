// The program itself. What main.ts loads is loaded ahead, and main.ts starts when a line comes in, so that a campaign of
// restarts does not wait for the compiler each time.
import { once } from 'node:events';
import 'reflect-metadata';
import '../../apps/api/src/start/service.js';

await once(process.stdin, 'data');
process.stdin.destroy();
await import('../../apps/api/src/main.js');
