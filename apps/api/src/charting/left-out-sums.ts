import { IntervalSet } from '#libs/intervals';
import type { LeftOutReading } from '../characteristics/characteristic-source.js';
import { grouped } from '../suppliers/grouped.js';
import type { ChartPart } from './chart-part.js';
import { meets } from './row-places.js';

/** What of some pipe entered no chart for one reason. */
export interface LeftOutSum {
  readonly because: string;
  /** Readings, lengths or subgroups. */
  readonly count: number;
  /** Their pipe; 0 of what has no place. */
  readonly lengthMm: number;
}

/** What of the pipe asked about entered no chart. */
export const leftOutOf = ({ row: { leftOut }, asked }: Pick<ChartPart, 'row' | 'asked'>): LeftOutReading[] => leftOut.filter(({ place }) => place === null || meets(place, asked));

/** By reason, that with the most pipe first. */
export function leftOutSums(leftOut: readonly Pick<LeftOutReading, 'place' | 'because'>[]): LeftOutSum[] {
  return [...grouped(leftOut, ({ because }) => because)]
    .map(([because, own]) => ({ because, count: own.length, lengthMm: IntervalSet.from(own.flatMap(({ place }) => place ?? [])).totalLengthMm }))
    .sort((one, other) => other.lengthMm - one.lengthMm || other.count - one.count);
}

/** So many reasons are told one by one in a sentence. */
const TOLD = 3;

/** `180 (180.000 m): nothing of a window was read by UT-wall; 2: no plain number`; empty where nothing was left out. */
export function leftOutWords(sums: readonly LeftOutSum[]): string {
  const rest = sums.slice(TOLD);
  const restWords = rest.length === 0 ? [] : [`${amount({ count: sumOf(rest, 'count'), lengthMm: sumOf(rest, 'lengthMm') })}: ${rest.length} other ${rest.length === 1 ? 'reason' : 'reasons'}`];
  return [...sums.slice(0, TOLD).map((one) => `${amount(one)}: ${one.because}`), ...restWords].join('; ');
}

const sumOf = (sums: readonly LeftOutSum[], field: 'count' | 'lengthMm'): number => sums.reduce((total, one) => total + one[field], 0);
const amount = ({ count, lengthMm }: Pick<LeftOutSum, 'count' | 'lengthMm'>): string => (lengthMm === 0 ? String(count) : `${count} (${(lengthMm / 1000).toFixed(3)} m)`);
