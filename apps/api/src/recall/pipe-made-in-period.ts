import { footageAtReading, roundMm, type CounterPeriod, type UncertainSegment } from '#libs/length';

/**
 * The pipe made while a period of the master counter held: from its start footage to where the next period begins or
 * the greatest reading in it reached. The end carries the scale's doubt over what was counted, s · (end − start); null
 * when nothing was counted.
 */
export function pipeMadeIn(period: CounterPeriod, readings: readonly number[], nextStartMm: number | null): UncertainSegment | null {
  const reached = [...readings.map((reading) => footageAtReading(period, reading)), ...(nextStartMm === null ? [] : [nextStartMm])];
  const fromMm = Math.max(0, roundMm(period.startFootageMm));
  const toMm = roundMm(Math.max(...reached, -Infinity));
  if (!(toMm > fromMm)) return null;
  return { fromMm, toMm, uFromMm: 0, uToMm: period.scaleRelativeU * (toMm - fromMm) };
}
