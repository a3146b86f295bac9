import type { IntervalSet } from '#libs/intervals';
import { testimonies, type OnTimeFrom, type RecordTestimony, type Word } from '../record-testimony.js';

/** What is said of some pipe, by whatever was on record. */
export interface WordOnPipe extends Word {
  readonly on: IntervalSet;
}

export const spoken = (words: readonly WordOnPipe[], onTimeFrom: OnTimeFrom): RecordTestimony[] => words.flatMap((word) => testimonies(word.on, word, onTimeFrom));
