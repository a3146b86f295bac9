import type { ExplanationStep } from '#libs/explanation';
import type { WallName } from '#libs/length';
import type { CollapseLimits, CollapseRegime } from './collapse.js';
import { INPUT_WORDS, type InputName, type WhyNotKnown } from './pipe-inputs.js';

/** A pressure with the way it was found. */
export interface ComputedPressure {
  readonly kind: 'computed';
  /** Not rounded. */
  readonly pressureMpa: number;
  /** As tables of ratings print it: whole psi, to 10. */
  readonly tablePsi: string;
  readonly steps: readonly ExplanationStep[];
}

export interface ComputedCollapse extends ComputedPressure {
  readonly dOverT: number;
  readonly regime: CollapseRegime;
  /** The D/t at which one regime ends and the next begins, for this yield strength. */
  readonly limits: CollapseLimits;
}

/** No number, and why; never a guess. */
export interface NotComputable {
  readonly kind: 'not computable';
  readonly wall: WallName;
  /** The inputs that are not known, or with which no formula holds. */
  readonly inputs: readonly InputName[];
  /** The whole sentence. */
  readonly because: string;
}

export function notComputable(wall: WallName, inputs: readonly InputName[], why: string): NotComputable {
  return { kind: 'not computable', wall, inputs, because: `not computable for the ${wall} wall, because ${why}` };
}

/** Inputs without a reason come first and are told together; each reason follows in its own words. */
export function inputsMissing(wall: WallName, inputs: readonly InputName[], why: WhyNotKnown = {}): NotComputable {
  const names = inputs.filter((name) => why[name] === undefined).map((name) => INPUT_WORDS[name]);
  const listed = names.length <= 1 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
  const unknown = names.length === 0 ? [] : [`${listed} of the pipe ${names.length === 1 ? 'is' : 'are'} not known`];
  const reasons = inputs.flatMap((name) => why[name] ?? []);
  return notComputable(wall, inputs, [...unknown, ...new Set(reasons)].join('; and '));
}
