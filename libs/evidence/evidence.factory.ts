import { IntervalSet, interval } from '#libs/intervals';
import type { JudgedStretch } from './judged-pipe.js';
import type { Saying, Testimony } from './testimony.js';

export const mm = (fromMm: number, toMm: number): IntervalSet => IntervalSet.of(interval(fromMm, toMm));

/** A word in time on all of its pipe, unless `onTimeFromMm` says from where on. */
export const word = (says: Saying, fromMm: number, toMm: number, onTimeFromMm = 0): Testimony<string> => ({ fromMm, toMm, says, onTimeFromMm, because: `it ${says}`, records: [`r-${says}`] });

export const stretch = (fromMm: number, toMm: number, state: JudgedStretch['state'], rest: Partial<JudgedStretch> = {}): JudgedStretch => ({
  fromMm, toMm, state, late: false, otherwise: null, by: [], ...rest,
});
