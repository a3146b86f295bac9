import type { RecordVersion } from '#libs/persistence';
import type { RecordLink } from './trace.dto.js';

/** A record named in an answer, with the version that was used and what people call it. */
export const linkTo = (kind: string, row: Pick<RecordVersion, 'id' | 'version'>, label: string): RecordLink => ({
  kind,
  id: row.id,
  version: row.version,
  label,
});
