import { formatMetresShort, type IntervalMm } from './instants-and-lengths.js';

/** A straight scale from millimetres to points. */
export interface BarScale {
  readonly rangeMm: IntervalMm;
  readonly leftPt: number;
  readonly widthPt: number;
}

/** A stretch narrower than this on its scale is drawn this wide, so that it can be seen. */
export const DRAWN_WIDTH_MIN_PT = 3;

export function toPt(scale: BarScale, lengthMm: number): number {
  const { fromMm, toMm } = scale.rangeMm;
  return scale.leftPt + ((lengthMm - fromMm) / (toMm - fromMm)) * scale.widthPt;
}

/** The shortest range that holds zero and every given length, and is not empty. */
export function rangeHolding(lengthsMm: readonly number[]): IntervalMm {
  const fromMm = Math.min(0, ...lengthsMm);
  return { fromMm, toMm: Math.max(fromMm + 1, ...lengthsMm) };
}

/** Left end and width of a stretch as drawn: at least the minimum width, kept about its middle and within the bar. */
export function drawnStretch(scale: BarScale, interval: IntervalMm): { leftPt: number; widthPt: number } {
  const startPt = toPt(scale, interval.fromMm);
  const endPt = toPt(scale, interval.toMm);
  const widthPt = Math.max(DRAWN_WIDTH_MIN_PT, endPt - startPt);
  const wishedPt = (startPt + endPt - widthPt) / 2;
  const leftPt = Math.max(scale.leftPt, Math.min(wishedPt, scale.leftPt + scale.widthPt - widthPt));
  return { leftPt, widthPt };
}

/** The step of 1, 2 or 5 times a power of ten, at least 1 mm, that cuts a range into at most `partsMax` parts. */
export function roundStepMm(lengthMm: number, partsMax: number): number {
  const least = Math.max(1, lengthMm / partsMax);
  const power = 10 ** Math.floor(Math.log10(least));
  const factor = [1, 2, 5, 10].find((candidate) => candidate * power >= least) ?? 10;
  return factor * power;
}

/** Scale marks: both ends first, then the round lengths between them. */
export function scaleMarks(rangeMm: IntervalMm): { atMm: number; text: string }[] {
  const stepMm = roundStepMm(rangeMm.toMm - rangeMm.fromMm, 8);
  const marksMm = [rangeMm.fromMm, rangeMm.toMm];
  for (let atMm = Math.ceil(rangeMm.fromMm / stepMm) * stepMm; atMm < rangeMm.toMm; atMm += stepMm) {
    if (atMm > rangeMm.fromMm) marksMm.push(atMm);
  }
  return marksMm.map((atMm) => ({ atMm, text: formatMetresShort(atMm) }));
}
