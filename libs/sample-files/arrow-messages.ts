import { FlatTable } from './flat-table.js';
import { PartError } from './part-error.js';

/*
 * The encapsulated messages of an Arrow IPC stream (Arrow Columnar Format 1.5, "IPC Streaming Format"): a schema, record
 * batches, an end-of-stream marker. Every length is held against the bytes that are there before anything is made of it.
 */

const CONTINUATION = 0xffffffff;
const PREFIX_BYTES = 8;
/** Versions V4 and V5 of the metadata; earlier ones lay unions out differently. */
const VERSIONS = new Set([3, 4]);
const HEADER = { schema: 1, dictionaryBatch: 2, recordBatch: 3 } as const;
const MESSAGE = { version: 0, headerType: 1, header: 2, bodyLength: 3 } as const;
const ALIGNMENT = 8;

export interface ArrowMessages {
  readonly schema: FlatTable;
  readonly batches: readonly ArrowBatch[];
  /** Whether there are dictionary batches, of which nothing is read. */
  readonly hasDictionaries: boolean;
}

/** One record batch: its metadata, and the bytes of its buffers. */
export interface ArrowBatch {
  readonly header: FlatTable;
  readonly body: Uint8Array;
}

/**
 * The messages of a stream in which all of it is accounted for. The marker at the end, which the format lets a writer leave
 * out, is demanded: without it nobody could tell a stream that was cut between two batches from a whole one.
 * @throws PartError `truncated`, `malformed` or `unsupported`
 */
export function arrowMessages(bytes: Uint8Array): ArrowMessages {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  demandStream(bytes);
  let schema: FlatTable | null = null;
  const batches: ArrowBatch[] = [];
  let hasDictionaries = false;
  let at = 0;
  for (;;) {
    const metadataBytes = metadataLength(view, at);
    at += PREFIX_BYTES;
    if (metadataBytes === 0) break;
    const message = messageAt(view, at, metadataBytes);
    at += metadataBytes;
    const bodyBytes = message.length(MESSAGE.bodyLength);
    demandThere(view, at, bodyBytes, 'the body of an Arrow message');
    const { kind, header } = headerOf(message, schema === null);
    if (schema === null) schema = header;
    else if (kind === HEADER.recordBatch) batches.push({ header, body: bytes.subarray(at, at + bodyBytes) });
    else hasDictionaries = true;
    at += bodyBytes;
  }
  if (at !== bytes.length) throw new PartError('malformed', `${bytes.length - at} bytes follow the end of the Arrow stream`);
  if (schema === null) throw new PartError('malformed', 'the Arrow stream has no schema');
  return { schema, batches, hasDictionaries };
}

function demandStream(bytes: Uint8Array): void {
  const magic = String.fromCharCode(...bytes.subarray(0, 6));
  if (magic === 'ARROW1') throw new PartError('unsupported', 'this is the file format of Arrow IPC; send the stream format', { limit: 'Arrow IPC stream' });
}

function metadataLength(view: DataView, at: number): number {
  if (at + PREFIX_BYTES > view.byteLength) {
    throw new PartError('truncated', at === view.byteLength
      ? 'the Arrow stream ends without its end-of-stream marker: it may have been cut'
      : 'the Arrow stream ends within the start of a message');
  }
  if (view.getUint32(at, true) !== CONTINUATION) {
    throw new PartError('malformed', `there is no Arrow message at byte ${at}; an Arrow IPC stream of format version 0.15 or later is taken`);
  }
  const length = view.getInt32(at + 4, true);
  if (length < 0 || length % ALIGNMENT !== 0) throw new PartError('malformed', `the metadata of the Arrow message at byte ${at} has ${length} bytes`, { value: String(length) });
  return length;
}

function messageAt(view: DataView, at: number, metadataBytes: number): FlatTable {
  demandThere(view, at, metadataBytes, 'the metadata of an Arrow message');
  const message = FlatTable.root(new DataView(view.buffer, view.byteOffset + at, metadataBytes));
  const version = message.int16(MESSAGE.version);
  if (!VERSIONS.has(version)) throw new PartError('unsupported', `Arrow metadata version V${version + 1} is not taken, V4 and V5 are`, { value: `V${version + 1}`, limit: 'V4, V5' });
  return message;
}

function headerOf(message: FlatTable, isFirst: boolean): { readonly kind: number; readonly header: FlatTable } {
  const kind = message.uint8(MESSAGE.headerType);
  const header = message.table(MESSAGE.header);
  const isInPlace = isFirst ? kind === HEADER.schema : kind === HEADER.recordBatch || kind === HEADER.dictionaryBatch;
  if (isInPlace && header !== null) return { kind, header };
  throw new PartError('malformed', `an Arrow stream has one schema and then record batches; a message of kind ${kind} is out of place`, { value: String(kind) });
}

function demandThere(view: DataView, at: number, bytes: number, what: string): void {
  const there = view.byteLength - at;
  if (bytes > there) throw new PartError('truncated', `${what} declares ${bytes} bytes, and ${there} are there`, { value: String(bytes), limit: String(there) });
}
