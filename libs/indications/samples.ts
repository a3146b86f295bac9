/** What a value says of the true one: it is the value, at least it ("≥ 100", saturated), or at most it ("≤ 0.5"). */
export const MEASURED = 0;
export const AT_LEAST = 1;
export const AT_MOST = 2;

/** Samples of one channel in order of footage; the arrays belong together index by index. */
export interface SampleBlock {
  /** Footage, whole mm, never falling; several samples at one millimetre are allowed, as a line that stands gives them; a reversal begins another signal. Up to 2,147 km. */
  readonly positionsMm: Int32Array;
  /** In the channel's unit; NaN is a missing sample, whatever its bound says. */
  readonly values: Float32Array | Float64Array;
  /** `MEASURED`, `AT_LEAST` or `AT_MOST` for each; null: all measured. */
  readonly bounds: Uint8Array | null;
}

/** Throws RangeError when the arrays differ in length, footage falls (within the block, or from `lastMm` before it), or a bound is none of the three. */
export function checkBlock({ positionsMm, values, bounds }: SampleBlock, lastMm: number): void {
  const count = positionsMm.length;
  if (values.length !== count || (bounds !== null && bounds.length !== count)) {
    throw new RangeError(`arrays of different lengths: ${count} positions, ${values.length} values, ${bounds?.length ?? 'no'} bounds`);
  }
  let beforeMm = lastMm;
  for (let index = 0; index < count; index += 1) {
    const atMm = positionsMm[index] as number;
    if (atMm < beforeMm) throw new RangeError(`footage falls from ${beforeMm} to ${atMm} mm at sample ${index}`);
    beforeMm = atMm;
  }
  if (bounds !== null) checkBounds(bounds);
}

function checkBounds(bounds: Uint8Array): void {
  for (let index = 0; index < bounds.length; index += 1) {
    if ((bounds[index] as number) > AT_MOST) throw new RangeError(`bound of sample ${index} is none of 0, 1 and 2: ${bounds[index]}`);
  }
}
