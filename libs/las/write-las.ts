import type { LasLog, LasRow } from './las-log.js';
import { LasWriter } from './las-writer.js';

/** Text is given out when so much of it has come together. */
const CHUNK_CHARACTERS = 64 * 1024;

/**
 * A log as text of CWLS LAS 2.0, unwrapped, CR LF between its lines; rows are taken as they are needed and never kept.
 * Throws LasError that names the item or curve: for the header before any text, for a row or an end that is not at STOP after
 * text was given out, which is then no valid file.
 */
export async function* writeLas(log: LasLog, rows: AsyncIterable<LasRow> | Iterable<LasRow>): AsyncGenerator<string> {
  const writer = new LasWriter(log);
  let text = writer.head;
  for await (const row of rows) {
    text += writer.line(row);
    if (text.length >= CHUNK_CHARACTERS) {
      yield text;
      text = '';
    }
  }
  writer.demandEnd();
  if (text !== '') yield text;
}
