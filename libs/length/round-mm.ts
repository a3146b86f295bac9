/**
 * The nearest whole millimetre, halves upwards (towards +∞), never −0.
 * Every boundary of every map is rounded once, by this function: a boundary shared by two intervals then
 * stays shared, and a partition maps to a partition.
 */
export function roundMm(mm: number): number {
  return Math.round(mm) + 0;
}
