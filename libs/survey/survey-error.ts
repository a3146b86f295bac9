/** A survey that cannot be a well path, or a question the survey does not answer; the message says which. */
export class SurveyError extends RangeError {
  override readonly name = 'SurveyError';

  /**
   * @param field the input at fault, e.g. `stations[3].inclinationDeg`
   * @param value what was given
   * @param limit what would have been accepted, in words
   */
  constructor(
    readonly field: string,
    readonly value: number,
    readonly limit: string,
    message: string,
  ) {
    super(message);
  }
}

/** Throws SurveyError unless `value` is a finite number. */
export function requireFinite(field: string, value: number): void {
  if (!Number.isFinite(value)) {
    throw new SurveyError(field, value, 'a finite number', `${field} is ${value}: a finite number is needed`);
  }
}

/** Throws SurveyError unless `value` is a finite number from `least` to `most`, both allowed. */
export function requireWithin(field: string, value: number, least: number, most: number): void {
  if (!(value >= least && value <= most)) {
    const limit = `${least} to ${most}`;
    throw new SurveyError(field, value, limit, `${field} is ${value}: it must lie within ${limit}`);
  }
}
