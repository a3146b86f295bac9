import { createHash } from 'node:crypto';
import { v7 as uuidv7 } from 'uuid';

/**
 * The id of a record of the demo, the same in every database and however the story grows around it: a UUIDv7 of the instant
 * it was recorded at; the rest, which is random elsewhere, is a digest of its key.
 */
export function storyId(key: string, recordedAt: string): string {
  const random = new Uint8Array(createHash('sha256').update(key).digest());
  return uuidv7({ msecs: Date.parse(recordedAt), seq: 0, random });
}
