import type { Readable } from 'node:stream';

/** Reads a stream of bytes to its end. Rejects with the stream's error. */
export async function collectBytes(stream: Readable): Promise<Buffer> {
  const chunks: Buffer[] = [];
  for await (const chunk of stream as AsyncIterable<Buffer>) chunks.push(chunk);
  return Buffer.concat(chunks);
}
