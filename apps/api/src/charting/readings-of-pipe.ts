import type { SpecificationLimits } from '#libs/spc';
import type { CharacteristicReading } from '../characteristics/characteristic-source.js';
import { isAsked } from './chart-part.js';
import type { BarePart } from './control-chart-views.service.js';

/** The least or the greatest value of some readings, with the reading that it is of. */
export interface ExtremeReading {
  readonly value: number;
  readonly reading: CharacteristicReading;
}

/** All readings of the pipe asked about, those that limits were taken without too. One that lies across the end of a part is told once. */
export function readingsOfPipe(parts: readonly Pick<BarePart, 'asked' | 'row'>[]): CharacteristicReading[] {
  const told = new Set<string>();
  return parts.flatMap((part) => {
    const own = part.row.points.filter((point) => isAsked(part, point)).flatMap(({ readings }) => readings).map((reading) => ({ reading, key: keyOf(reading) })).filter(({ key }) => !told.has(key));
    // Two of one part may be alike, as two readings of one splice.
    for (const { key } of own) told.add(key);
    return own.map(({ reading }) => reading);
  });
}

const keyOf = ({ place, label, values, records }: CharacteristicReading): string => JSON.stringify([place, label, values, records.map(({ id }) => id)]);

/** The first of the least (−1) or of the greatest (1). Throws Error without a reading. */
export function extremeOf(readings: readonly CharacteristicReading[], sign: 1 | -1): ExtremeReading {
  let found: ExtremeReading | null = null;
  for (const reading of readings) {
    for (const value of reading.values) if (found === null || sign * value > sign * found.value) found = { value, reading };
  }
  if (found === null) throw new Error('pipe without readings');
  return found;
}

/** How many values lie outside; one that is on a limit is inside. */
export const countOutside = (readings: readonly CharacteristicReading[], { lower, upper }: SpecificationLimits): number =>
  readings.reduce((sum, { values }) => sum + values.filter((value) => value < (lower ?? -Infinity) || value > (upper ?? Infinity)).length, 0);
