/** What makes an indication of a channel's samples. Levels are in the channel's unit, lengths in whole millimetres. */
export interface IndicationRule {
  /** `above` for amplitudes, `below` for what must not become too little, such as a wall thickness. */
  readonly sense: 'above' | 'below';
  /** A sample at this level, or beyond it, makes an indication. */
  readonly threshold: number;
  /** An indication reaches as far, to both sides, as samples are at this level or beyond it; not beyond the threshold, and equal to it for no hysteresis. */
  readonly release: number;
  /** What is shorter is no indication, unless it may continue where nothing was read; 0 keeps all. */
  readonly minimumLengthMm: number;
  /** Neighbours nearer to each other than this are one indication; 0 leaves them apart. */
  readonly combiningMm: number;
  /** A running indication goes on over a gap of at most this length when the signal behind it is still at the release level; 0: every gap ends it. */
  readonly bridgedGapMm: number;
}

/** Throws RangeError naming the field, the value and what is allowed. */
export function checkRule(rule: IndicationRule): void {
  finite(rule.threshold, 'threshold');
  finite(rule.release, 'release');
  const isBeyond = rule.sense === 'above' ? rule.release > rule.threshold : rule.release < rule.threshold;
  if (isBeyond) throw new RangeError(`release is beyond the threshold: ${rule.release} against ${rule.threshold} (${rule.sense})`);
  wholeFrom(0, rule.minimumLengthMm, 'minimumLengthMm');
  wholeFrom(0, rule.combiningMm, 'combiningMm');
  wholeFrom(0, rule.bridgedGapMm, 'bridgedGapMm');
}

/** Throws RangeError naming the value unless it is a whole number, `least` or more. */
export function wholeFrom(least: number, value: number, name: string): void {
  if (!Number.isSafeInteger(value) || value < least) throw new RangeError(`${name} is not a whole number from ${least}: ${value}`);
}

function finite(value: number, name: string): void {
  if (!Number.isFinite(value)) throw new RangeError(`${name} is not a finite number: ${value}`);
}
