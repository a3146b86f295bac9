import type { IntervalSet } from '#libs/intervals';
import type { Look, RepairEvent } from './look.js';

/**
 * The pipe about which a look still says something: its place less all that was repaired at its instant or later. What was
 * seen at the very instant of a repair is not later than it. Common practice; API 5CT asks for it of coupling stock.
 */
export function countsOn({ on, atUs }: Pick<Look, 'on' | 'atUs'>, repairs: readonly RepairEvent[]): IntervalSet {
  return repairs.filter((repair) => repair.atUs >= atUs).reduce((left, repair) => left.subtract(repair.on), on);
}
