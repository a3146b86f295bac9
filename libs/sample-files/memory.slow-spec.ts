import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { expect, jest, test } from '@jest/globals';
import type { DecodedInProcess } from '../../test/setup/decode-parts.program.js';
import { PART_LIMITS } from './index.js';

// Hundreds of parts, among them bombs, on cores shared with other suites.
jest.setTimeout(240_000);

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
/**
 * What a text of the size of the limit takes as columns, and garbage not yet collected: mostly some 70 MB, on a busy machine once 613. A part that
 * declares 2 GB, or a bomb of a gigabyte, goes far past it: with the limit of decompression taken out it was 2.2 GB.
 */
const MOST_GROWTH = 64 * PART_LIMITS.maxDecodedBytes;

test('no broken part takes more memory than a good one may, in a heap of 64 MB', async () => {
  const command = ['--no-warnings', '--expose-gc', '--max-old-space-size=64', '--import', './.tools/swc-loader.mjs', './test/setup/decode-parts.program.ts', '11'];
  const { stdout } = await promisify(execFile)(process.execPath, command, { cwd: ROOT });
  const found = JSON.parse(stdout) as DecodedInProcess;
  expect(found.thrown).toEqual([]);
  expect(found.parts).toBeGreaterThan(800);
  expect(found.refused).toBeGreaterThanOrEqual(500);
  expect(found.residentGrowthBytes).toBeLessThan(MOST_GROWTH);
});
