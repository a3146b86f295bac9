import { setImmediate } from 'node:timers/promises';
import { parse } from 'csv-parse/sync';
import { CSV_LIMITS, type CsvLimits } from './csv-fault.js';
import { readLineBlocks } from './csv-lines.js';
import { type CsvReading, FileReader } from './file-reader.js';

export { CSV_LIMITS, type CsvFault, type CsvLimits, type CsvQuestion } from './csv-fault.js';
export type { CsvEnd, CsvReading } from './file-reader.js';
export type { ReadCertificate } from './open-certificate.js';

/**
 * Reads certificates from a CSV file of the template, one at a time as its lines go by. Of what has gone by only the names
 * of certificates are held, at most `limits.certificates`; memory does not otherwise grow with the file.
 * A certificate with a fault in any of its lines is not given; its faults are, in the order of the lines. Reading stops
 * at what makes the rest unreadable and after `limits.faults` faults, and the end says so. Nothing but the source throws.
 */
export async function* readCertificates(bytes: AsyncIterable<Uint8Array>, limits: CsvLimits = CSV_LIMITS): AsyncGenerator<CsvReading, void, undefined> {
  const reader = new FileReader(limits);
  for await (const block of readLineBlocks(bytes, limits.lineBytes)) {
    if (block.unreadable !== null) {
      yield* reader.refuseRest(block.unreadable);
      break;
    }
    // Each block holds whole lines, and no cell a line break: one record is one line. Quotes are known to close.
    const records = parse(block.bytes, { record_delimiter: [...block.lineEnds], quote: block.hasQuotes ? '"' : null, relax_column_count: true });
    yield* reader.read(block, records);
    if (reader.hasStopped) break;
    await setImmediate(); // other requests are served between blocks
  }
  yield* reader.end();
}
