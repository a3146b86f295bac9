import {
  pipeInPlace, pipeMade, stripConsumed, type LengthModel, type LengthSum, type ShoeTie, type SumName,
} from '#libs/length';
import { attempt, type WhyNot } from '../trace/attempt.js';
import type { StripUse } from './strip-use.js';

/** The sums that can be drawn up at a time, and why the others cannot. */
export interface ThreeSums {
  readonly sums: readonly LengthSum[];
  readonly notSummed: readonly ({ readonly name: SumName } & WhyNot)[];
}

export interface SumInputs {
  readonly lengths: LengthModel;
  readonly atUs: number;
  /** The shoe tie the sums are drawn up at; without one the pipe in place is only known through the counter. */
  readonly tie: ShoeTie | null;
  readonly strip: readonly StripUse[];
  readonly elongation: { readonly ratio: number; readonly u: number } | null;
}

const NO_TIE: WhyNot = { code: 'no-shoe-tie', detail: 'no shoe tie by then: the depth of the shoe would only repeat the counter' };
const NO_SEGMENT: WhyNot = { code: 'no-segment', detail: 'no coil segment is on record: nothing says what strip was used' };

/** Strip consumed, pipe made and pipe in place, each from its own records. */
export function threeSums({ lengths, atUs, tie, strip, elongation }: SumInputs): ThreeSums {
  const drawn: { name: SumName; sum: LengthSum | null; why: WhyNot | null }[] = [
    elongation === null
      ? { name: 'strip consumed', sum: null, why: NO_SEGMENT }
      : { name: 'strip consumed', sum: stripConsumed(strip.map(({ use }) => use), elongation), why: null },
    named('pipe made', () => pipeMade(lengths, atUs)),
    tie === null
      ? { name: 'pipe in place', sum: null, why: NO_TIE }
      : named('pipe in place', () => pipeInPlace(lengths, { shoeMdMm: tie.shoeMdMm, uShoeMm: tie.uShoeMm, atUs: tie.atUs })),
  ];
  return {
    sums: drawn.flatMap(({ sum }) => sum ?? []),
    notSummed: drawn.flatMap(({ name, why }) => (why === null ? [] : [{ name, ...why }])),
  };
}

function named(name: SumName, work: () => LengthSum): { name: SumName; sum: LengthSum | null; why: WhyNot | null } {
  const { found, why } = attempt(work);
  return { name, sum: found, why };
}
