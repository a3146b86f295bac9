// Reads a made file of so many good lines and one with a fault below them, in a process of its own, and tells what came of
// it and how far its memory grew at most while reading.
import { type CsvEnd, type CsvFault, readCertificates } from '../../apps/api/src/certificate-imports/certificate-csv.js';
import { withFaultAtItsEnd } from './certificate-csv.campaign.js';

export interface ReadInProcess {
  readonly bytes: number;
  readonly faults: readonly CsvFault[];
  readonly end: CsvEnd | null;
  readonly rssGrowthBytes: number;
  readonly heapGrowthBytes: number;
}

const before = process.memoryUsage();
let rss = before.rss;
let heapUsed = before.heapUsed;
let bytes = 0;

async function* measured(source: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  for await (const piece of source) {
    bytes += piece.length;
    const now = process.memoryUsage();
    rss = Math.max(rss, now.rss);
    heapUsed = Math.max(heapUsed, now.heapUsed);
    yield piece;
  }
}

const faults: CsvFault[] = [];
let end: CsvEnd | null = null;
for await (const reading of readCertificates(measured(withFaultAtItsEnd(Number(process.argv[2]))))) {
  if (reading.kind === 'fault') faults.push(reading.fault);
  if (reading.kind === 'end') end = reading.end;
}
const found: ReadInProcess = { bytes, faults, end, rssGrowthBytes: rss - before.rss, heapGrowthBytes: heapUsed - before.heapUsed };
process.stdout.write(JSON.stringify(found));
