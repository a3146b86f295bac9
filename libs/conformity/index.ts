export { conformanceProbability } from './conformance-probability.js';
export type { Judgement } from './judgement.js';
export { judge, judgeBounds } from './judge.js';
export { parseReading } from './reading.js';
export type { Bounds, Reading } from './reading.js';
export type { ConformityRules, JudgeOptions, Limits } from './requirement.js';
export { VERDICTS, worst } from './verdict.js';
export type { Verdict } from './verdict.js';
export { keyOfTexts, remembering } from './remembering.js';
