/** What is wrong with a part; stable, for callers to act on. */
export type PartErrorCode =
  /** The content encoding is not one that this program can undo. */
  | 'encoding-unavailable'
  /** The bytes are not what the content encoding says, or go on after its end. */
  | 'not-decompressible'
  /** More bytes, once decompressed, than the limit. */
  | 'too-large'
  | 'too-many-rows'
  /** Not of the format, or contradictory in itself. */
  | 'malformed'
  /** The bytes end before what they announce. */
  | 'truncated'
  /** Of the format, but with something in it that is not taken: compressed buffers, dictionaries, another byte order. */
  | 'unsupported'
  /** A column is missing, unknown, or there twice. */
  | 'wrong-columns'
  /** A column has a type that is not taken for it. */
  | 'wrong-type'
  | 'wrong-value'
  | 'wrong-position'
  /** A position lies before the one above it although the pipe went the other way. */
  | 'wrong-order'
  /** There is not one sample. */
  | 'empty';

/** Where and what, as far as it applies; texts are cut to 60 characters. */
export interface PartFault {
  /** Name of the column. */
  readonly field?: string;
  /** Number of the sample, from 1. */
  readonly row?: number;
  /** Line of the text, from 1. */
  readonly line?: number;
  readonly value?: string;
  readonly limit?: string;
}

/** A part that is refused; nothing of it is taken. The message says why, in words for whoever sent it. */
export class PartError extends Error {
  override readonly name = 'PartError';
  readonly field: string | null;
  readonly row: number | null;
  readonly line: number | null;
  readonly value: string | null;
  readonly limit: string | null;

  constructor(
    readonly code: PartErrorCode,
    message: string,
    { field, row, line, value, limit }: PartFault = {},
  ) {
    super(message);
    this.field = field === undefined ? null : shown(field);
    this.row = row ?? null;
    this.line = line ?? null;
    this.value = value === undefined ? null : shown(value);
    this.limit = limit ?? null;
  }
}

const SHOWN = 60;

/** A text of a sender as it may stand in a message: without control characters, and not longer than 60 characters. */
export function shown(text: string): string {
  const clean = text.slice(0, SHOWN + 1).replace(/\p{C}/gu, '\ufffd');
  return clean.length > SHOWN ? `${clean.slice(0, SHOWN - 1)}…` : clean;
}
