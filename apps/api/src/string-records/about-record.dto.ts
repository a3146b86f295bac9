import { Choice, Id } from '../http/fields.js';
import { STRING_KIND_NAMES } from './string-kinds.js';

/** A record of the same string that something is about. */
export class AboutRecordPart {
  @Choice({ description: 'Its kind.', example: 'splice', of: STRING_KIND_NAMES })
  kind!: string;

  @Id({ description: 'Its id.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0c' })
  id!: string;
}
