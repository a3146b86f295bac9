import { COVERAGE_FACTOR, type Shoe } from '#libs/length';
import { instantOf } from '#libs/persistence';
import type { StringModel } from '../line/length-models.service.js';
import type { Ground } from './ground.js';
import type { ShoeAnswer, TraceStringAnswer } from './trace.dto.js';
import { linkTo } from './record-link.js';

/** The string an answer is about, with its well and where measured depth is zero. */
export function stringAnswer({ string }: StringModel, { well }: Ground): TraceStringAnswer {
  return { ...linkTo('casing-string', string, string.name), well: linkTo('well', well, well.name), datum: well.datum };
}

/** The fold as answers show it: whole mm, ± with k = 2. */
export function shoeAnswer(shoe: Shoe): ShoeAnswer {
  return {
    mdMm: Math.round(shoe.mdMm),
    mdPlusMinusMm: Math.ceil(COVERAGE_FACTOR * shoe.uMdMm),
    basis: shoe.basis,
    at: Number.isFinite(shoe.atUs) ? instantOf(shoe.atUs) : null,
  };
}
