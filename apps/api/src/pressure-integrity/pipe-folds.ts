import { interval } from '#libs/intervals';
import { LengthError, roundMm, type OuterWallMap, type Wall } from '#libs/length';
import type { PipeInputs, PipeKnowledge } from '#libs/ratings';
import type { StringModel } from '../line/length-models.service.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { linkTo } from '../trace/record-link.js';
import { refOf, type Origins } from './origins.js';

type Knot = OuterWallMap['knots'][number];
type Lambda = NonNullable<PipeInputs['lambda']>;

const LAMBDA_DECIMALS = 9;

/**
 * κ and λ along the outer wall, by footage: between two known points the slope of the depth, past the last the ratio that the string
 * states. The depths of two known points are taken as independent in the uncertainty of their slope: the cautious choice for a
 * difference. κ is null where the string states none.
 */
export function pipeFolds({ string, lengths }: StringModel, wall: Wall, origins: Origins): PipeKnowledge['folds'] {
  const record = linkTo('casing-string', string, string.name);
  const kappa = string.diameterRatio === null ? null : origins.with(
    { value: string.diameterRatio, record: refOf(record) }, { what: 'κ as the string states it', record, at: null, u: numberOf(string.diameterRatioU) },
  );
  const { knots } = lengths.outer;
  const { fromMm, toMm } = wall.footageRange;
  const ends = knots.slice(1).map((knot) => footageAt(wall, knot)).filter((mm) => mm !== null);
  const edges = [Math.floor(fromMm), ...ends, Math.ceil(toMm)];
  return edges.slice(1).flatMap((end, index) => {
    const from = edges[index] as number;
    if (from >= end) return [];
    const [before, after] = [knots[index], knots[index + 1]];
    const lambda = before === undefined || after === undefined ? stated(string, record, origins) : measured(before, after, lengths.lengths.scaleRelativeU, origins);
    return [{ interval: interval(from, end), of: { kappa, lambda } }];
  });
}

/** Null for a point below the shoe that is asked about. */
function footageAt(wall: Wall, { mdMm }: Knot): number | null {
  try {
    return roundMm(wall.footageAt(mdMm).footageMm);
  } catch (error) {
    if (error instanceof LengthError) return null;
    throw error;
  }
}

function stated({ lengthRatio, lengthRatioU }: StringModel['string'], record: RecordLink, origins: Origins): Lambda {
  return origins.with({ value: lengthRatio, record: refOf(record), basis: 'past the last tie (default ratio)' as const }, { what: 'λ as the string states it', record, at: null, u: numberOf(lengthRatioU) });
}

function measured(before: Knot, after: Knot, scaleRelativeU: number, origins: Origins): Lambda {
  const netMm = after.netMm - before.netMm;
  const value = (after.mdMm - before.mdMm) / netMm;
  const record: RecordLink = { ...after.record, label: `shoe at ${roundMm(after.mdMm)} mm` };
  const u = Math.hypot(before.uMm / netMm, after.uMm / netMm, value * scaleRelativeU);
  return origins.with({ value: value.toFixed(LAMBDA_DECIMALS), record: refOf(record), basis: 'between ties' as const }, { what: 'λ between two known points', record, at: null, u });
}

const numberOf = (text: string | null): number | null => (text === null ? null : Number(text));
