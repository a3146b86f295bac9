import { IntervalSet } from '#libs/intervals';
import type { LeftOutReading } from '../characteristics/characteristic-source.js';
import { grouped } from '../suppliers/grouped.js';
import type { Characteristic } from '../control-charts/control-chart-plan.js';
import type { ChartPart } from './chart-part.js';
import { inMetres } from './in-metres.js';
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

/** Readings of which what lies between them could have been read as well: not so of joints, coils, checks and events. */
const OF_ANY_PIPE: ReadonlySet<Characteristic> = new Set(['channel', 'inspected', 'counter-ratio']);

/** Pipe asked about between the readings, mm, that is not among what was left out: nobody looked at it for this chart. 0 where readings are not of any pipe. */
export function betweenMm({ plan, row, asked }: Pick<ChartPart, 'plan' | 'row' | 'asked'>): number {
  if (!OF_ANY_PIPE.has(plan.characteristic.of)) return 0;
  const read = row.points.flatMap(({ readings }) => readings.flatMap(({ place }) => place ?? []));
  return IntervalSet.of(asked).subtract(IntervalSet.from(read)).subtract(IntervalSet.from(row.leftOut.flatMap(({ place }) => place ?? []))).totalLengthMm;
}

/** What a person is to know of it; empty where there is none. */
export const betweenWords = (mm: number): string => (mm === 0 ? '' : `Between the readings lie ${inMetres(mm)} m that nobody read for this chart: they are not watched.`);

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
const amount = ({ count, lengthMm }: Pick<LeftOutSum, 'count' | 'lengthMm'>): string => (lengthMm === 0 ? String(count) : `${count} (${inMetres(lengthMm)} m)`);
