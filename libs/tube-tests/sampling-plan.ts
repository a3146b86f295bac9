import { API_5ST_FLATTENING, COMMON_PRACTICE } from './sources.js';

/**
 * What metres a sample stands for, and where samples are demanded:
 * - `coil-ends`: one at both ends of each coil's pipe.
 * - `stop-sides`: one at each side of each stop of the seam weld. Pipe is then cut at the stops: no sample of the test stands
 *   for anything beyond one.
 * - `every-length`: one every `everyMm` of pipe.
 */
export type SamplingRule =
  | { readonly rule: 'coil-ends' }
  | { readonly rule: 'stop-sides' }
  | { readonly rule: 'every-length'; readonly everyMm: number };

export type SamplingRuleName = SamplingRule['rule'];

/** The rules that the specification gives for one kind of test; a metre is represented when any of them says so. */
export interface SamplingPlan {
  readonly test: string;
  readonly rules: readonly SamplingRule[];
}

export interface RuleInWords {
  readonly rule: SamplingRuleName;
  readonly words: string;
  readonly source: string;
}

/** To be shown wherever represented metres are. A sentence of our own. */
export const INFERENCE_CAUTION =
  'Only the sampled pieces were tested. That the metres between two samples are like them is inferred, not shown.';

/** A rule as a reader sees it. */
export function inWords(rule: SamplingRule): RuleInWords {
  switch (rule.rule) {
    case 'coil-ends':
      return {
        rule: 'coil-ends',
        words: 'Both ends of each coil: a sample at an end stands for the coil\'s pipe as far as the middle between it and the next '
          + 'sample of the same test, or the coil\'s other end; a sample between them takes over what is nearer to it.',
        source: `${COMMON_PRACTICE}; for flattening, ${API_5ST_FLATTENING} asks for one from each end of each continuously `
          + 'milled length. What a sample between the ends stands for is our own choice',
      };
    case 'stop-sides':
      return {
        rule: 'stop-sides',
        words: 'Each side of a stop of the seam weld: a sample beside it stands for the pipe of its side as far as the middle between it '
          + 'and the next sample of the same test, or the next stop or end of the coil; none stands for pipe beyond a stop.',
        source: `${COMMON_PRACTICE}; what a sample between stops stands for is our own choice`,
      };
    case 'every-length':
      return {
        rule: 'every-length',
        words: `Every ${metres(rule.everyMm)} m: a sample stands for the pipe made after it, as far as the next sample of the same test, `
          + `${metres(rule.everyMm)} m at most, and never for pipe of another coil.`,
        source: `${COMMON_PRACTICE}; that it stands for what follows, and ends with the coil, is our own choice`,
      };
  }
}

/** Throws RangeError unless no test and no rule of a test comes twice, each plan has a rule, and lengths are whole mm over 0. */
export function demandSensiblePlans(plans: readonly SamplingPlan[]): void {
  if (new Set(plans.map(({ test }) => test)).size !== plans.length) throw new RangeError('two plans are for one test');
  for (const { test, rules } of plans) {
    if (rules.length === 0) throw new RangeError(`${test}: the plan has no rule`);
    if (new Set(rules.map(({ rule }) => rule)).size !== rules.length) throw new RangeError(`${test}: one rule comes twice`);
    for (const rule of rules) {
      if (rule.rule === 'every-length' && !(Number.isSafeInteger(rule.everyMm) && rule.everyMm > 0)) {
        throw new RangeError(`${test}: everyMm is not a whole number over 0: ${rule.everyMm}`);
      }
    }
  }
}

function metres(lengthMm: number): string {
  return String(lengthMm / 1000);
}
