import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { describe, expect, jest, test } from '@jest/globals';
import { LARGE_BROKEN_FILES, LARGE_BYTES, LARGE_LINES } from '../../../../test/setup/certificate-csv.campaign.js';
import type { ReadInProcess } from '../../../../test/setup/read-certificates.program.js';
import { type CsvReading, readCertificates } from './certificate-csv.js';

// 200 MB take some 20 seconds on a free core, and the cores are shared with other suites.
jest.setTimeout(240_000);

const ROOT = fileURLToPath(new URL('../../../..', import.meta.url));
/** Of garbage not yet collected, which varies from run to run; a reader that keeps what it read would take three times as much. */
const SLACK_BYTES = 64 * 1024 * 1024;

async function readApart(goodLines: number): Promise<ReadInProcess> {
  const command = ['--no-warnings', '--import', './.tools/swc-loader.mjs', './test/setup/read-certificates.program.ts', String(goodLines)];
  const { stdout } = await promisify(execFile)(process.execPath, command, { cwd: ROOT });
  return JSON.parse(stdout) as ReadInProcess;
}

describe('a file of 200 MB', () => {
  test('with its fault in the last line takes little more memory than one of 10 MB', async () => {
    const [small, large] = [await readApart(Math.ceil(LARGE_LINES / 20)), await readApart(LARGE_LINES)];
    expect(small.bytes).toBeGreaterThan(LARGE_BYTES / 20);
    expect(large.bytes).toBeGreaterThan(LARGE_BYTES);
    expect(large.rssGrowthBytes).toBeLessThanOrEqual(1.3 * small.rssGrowthBytes + SLACK_BYTES);
    expect(large.heapGrowthBytes).toBeLessThanOrEqual(1.3 * small.heapGrowthBytes + SLACK_BYTES);
    const expected = LARGE_BROKEN_FILES[0]!;
    expect(large.faults).toEqual([expect.objectContaining({ line: expected.line, column: expected.column, fault: expect.stringMatching(expected.says) })]);
    expect(large.end).toMatchObject({ lines: expected.line, faults: 1, stopped: null });
  });

  test('without a line end is refused by its first 128 KiB', async () => {
    const endless = LARGE_BROKEN_FILES[1]!;
    let bytes = 0;
    async function* counted(): AsyncGenerator<Uint8Array> {
      for await (const piece of endless.bytes()) {
        bytes += piece.length;
        yield piece;
      }
    }
    const readings: CsvReading[] = [];
    for await (const reading of readCertificates(counted())) readings.push(reading);
    expect(bytes).toBeLessThanOrEqual(128 * 1024);
    expect(readings).toEqual([
      { kind: 'fault', fault: expect.objectContaining({ line: endless.line, column: endless.column, fault: expect.stringMatching(endless.says) }) },
      { kind: 'end', end: expect.objectContaining({ faults: 1, certificates: 0 }) },
    ]);
  });
});
