import { tradeCases, type TradeCase } from './trade-cases.js';

/** The cases of 02-strip-coil-grades.json by the spec that checks them; strip-cases.spec.ts looks that each has one. */
export const STRIP_SUBJECTS = {
  thickness: /^en10051-(catA|lowcarbon|categor|shape)|^hot-strip-|^en10131-/,
  grades: /^en10149-|^api5st-|^api5ct-|^api5l-(psl2|46th)-/,
  formulas: /^api5l-elongation-|^ce-|^plate-mass-|^coil-length-/,
} as const;

export type StripSubject = keyof typeof STRIP_SUBJECTS;

export const ALL_STRIP_CASES = tradeCases('02-strip-coil-grades.json');

export function stripCases(subject: StripSubject): readonly TradeCase[] {
  return ALL_STRIP_CASES.filter(({ id }) => STRIP_SUBJECTS[subject].test(id));
}
