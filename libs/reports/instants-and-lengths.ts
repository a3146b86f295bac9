/** How instants, lengths and intervals are written on a report: integer arithmetic, so no digit is invented or lost. */

/** A closed stretch in whole millimetres. */
export interface IntervalMm {
  readonly fromMm: number;
  readonly toMm: number;
}

function withThousands(digits: string): string {
  return digits.replace(/\B(?=(\d{3})+$)/g, ',');
}

/**
 * Metres with three decimals from whole millimetres.
 * @example formatMetres(1204310) // '1,204.310'
 */
export function formatMetres(lengthMm: number): string {
  const magnitudeMm = Math.abs(lengthMm);
  const whole = Math.floor(magnitudeMm / 1000);
  const fraction = String(magnitudeMm % 1000).padStart(3, '0');
  return `${lengthMm < 0 ? '−' : ''}${withThousands(String(whole))}.${fraction}`;
}

/**
 * Metres without trailing zeros, for scale labels.
 * @example formatMetresShort(1200500) // '1,200.5'
 */
export function formatMetresShort(lengthMm: number): string {
  return formatMetres(lengthMm).replace(/\.?0+$/, '');
}

/** An interval in metres, both ends written out. */
export function formatInterval(interval: IntervalMm): string {
  return `${formatMetres(interval.fromMm)} to ${formatMetres(interval.toMm)} m`;
}

/** An expanded uncertainty in metres, or the plain statement that there is none on record. */
export function formatUncertainty(uncertaintyMm: number | null): string {
  return uncertaintyMm === null ? '± not stated' : `± ${formatMetres(uncertaintyMm)} m (k = 2)`;
}

/**
 * A UTC instant as given, to the digit; a fraction of zero is left out.
 * @example formatInstant('2031-04-02T10:11:12.123456Z') // '2031-04-02 10:11:12.123456 UTC'
 */
export function formatInstant(instant: string): string {
  return instant.replace('T', ' ').replace(/(\.0+)?Z$/, ' UTC');
}
