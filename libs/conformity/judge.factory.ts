import type { ConformityRules, Judgement, JudgeOptions, Limits, Reading, Verdict } from '#libs/conformity';
import { judge } from '#libs/conformity';

export const ABSOLUTE: ConformityRules = { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '1' };
export const ROUNDING: ConformityRules = { ...ABSOLUTE, rounding: 'rounding' };
export const GUARDED: ConformityRules = { ...ABSOLUTE, decision: 'guarded-acceptance' };
export const PROOF: ConformityRules = { ...ABSOLUTE, decision: 'proof-of-conformity' };

export const limits = (min: string | null, max: string | null, unit = '%'): Limits => ({ min, max, unit });

/** The judgement of one value, printed in the unit of the limits unless another is named. */
export function judged(given: Limits, rules: ConformityRules, printed: string, more: Partial<Reading & JudgeOptions> = {}): Judgement {
  const { toDecimals = null, ...rest } = more;
  const reading: Reading = { printed, unit: given.unit, multiplier: '1', expandedU: null, ...rest };
  return judge(given, rules, { toDecimals, expandedU: null })(reading);
}

export function verdicts(given: Limits, rules: ConformityRules, texts: readonly string[], more?: Partial<Reading & JudgeOptions>): Verdict[] {
  return texts.map((printed) => judged(given, rules, printed, more).verdict);
}
