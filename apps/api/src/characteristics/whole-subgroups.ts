import type { CharacteristicReading, CharacteristicReadings, LeftOutReading } from './characteristic-source.js';

/**
 * Readings that belong together by what they are of, as a splice or a coil, in subgroups of so many each. What is left of one of them
 * makes no subgroup, and is told.
 * @param readings in order, those of one thing in a row; `of` what they are of
 */
export function wholeSubgroups(readings: readonly CharacteristicReading[], size: number, of: string, leftOut: readonly LeftOutReading[]): CharacteristicReadings {
  const kept: CharacteristicReading[] = [];
  const over: LeftOutReading[] = [];
  for (const own of inRows(readings)) {
    const whole = own.length - (own.length % size);
    kept.push(...own.slice(0, whole));
    over.push(...own.slice(whole).map(({ place, records, label }) => ({ place, records, because: `too few readings of ${of} ${label} for one more subgroup of ${size}` })));
  }
  return { readings: kept, leftOut: [...leftOut, ...over] };
}

/** Those with the same label in a row. */
function inRows(readings: readonly CharacteristicReading[]): CharacteristicReading[][] {
  const rows: CharacteristicReading[][] = [];
  for (const reading of readings) {
    const last = rows.at(-1);
    if (last?.[0]?.label === reading.label) last.push(reading);
    else rows.push([reading]);
  }
  return rows;
}
