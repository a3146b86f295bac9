/** Why a question about lengths has no answer; stable, for callers to act on. */
export type LengthErrorCode =
  | 'empty-interval'
  | 'reversed-interval'
  | 'above-the-hang-off'
  | 'below-the-shoe'
  | 'cut-out'
  | 'not-on-this-wall'
  | 'no-hang-off'
  | 'before-the-hang-off'
  | 'no-hang-off-path'
  | 'no-readings'
  | 'before-the-first-reading'
  | 'bad-input';

/** A question that the records cannot answer, or inputs that contradict themselves. The message says which. */
export class LengthError extends Error {
  override readonly name = 'LengthError';

  constructor(
    readonly code: LengthErrorCode,
    message: string,
  ) {
    super(message);
  }
}

/** @throws LengthError 'empty-interval' or 'reversed-interval' */
export function refuseEmptyOrReversed({ fromMm, toMm }: { fromMm: number; toMm: number }): void {
  if (fromMm === toMm) throw new LengthError('empty-interval', `the interval [${fromMm}, ${toMm}) mm is empty`);
  if (!(fromMm < toMm)) throw new LengthError('reversed-interval', `the interval [${fromMm}, ${toMm}) mm is reversed`);
}
