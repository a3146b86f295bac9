/** What is wrong with stored bytes; stable, for callers to act on. */
export type BlockErrorCode = 'not-a-block' | 'unknown-version' | 'wrong-length' | 'wrong-checksum' | 'contradictory';

/** Stored bytes that cannot be what was once encoded. Nothing is read from them. The message says why. */
export class BlockError extends Error {
  override readonly name = 'BlockError';

  constructor(
    readonly code: BlockErrorCode,
    message: string,
  ) {
    super(message);
  }
}
