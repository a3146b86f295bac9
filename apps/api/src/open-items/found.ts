import type { RecordVersion } from '#libs/persistence';
import type { AboutRecord } from '../string-records/about-records.service.js';
import type { IntervalAnswer } from '../trace/trace.dto.js';
import type { OpenItemAnswer } from './open-items.dto.js';

/** An open item before names and nonconformances are put to it. */
export interface Found extends Pick<OpenItemAnswer, 'what' | 'record' | 'words'> {
  readonly row: RecordVersion;
  readonly footage: IntervalAnswer[];
  readonly about: AboutRecord | null;
  /** Since when, where that is not when the record was made. */
  readonly since?: string;
  /** Further records that are open with it, such as the other tests of a unit. */
  readonly along?: readonly string[];
}

/** Characters, as the answer takes them. */
export const LONGEST_WORDS = 5000;
