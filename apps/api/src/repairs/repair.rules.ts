import { compare, decimal } from '#libs/exact';
import type { Interval, IntervalSet } from '#libs/intervals';
import type { WeldProcedure } from '#libs/welding';
import type { FieldProblem } from '../http/problem.js';
import { outside, type Finding } from '../records/plausibility.js';
import { isAtJoint } from '../rejoins/joint.js';
import { outsideProcedure, unusualReadings } from '../welds/weld.rules.js';
import type { Repair } from './repair.entity.js';
import type { RepairInput } from './repair.dto.js';

type Said = Pick<RepairInput,
  'method' | 'spliceId' | 'rejoinId' | 'depthRemovedMm' | 'remainingWallMm' | 'wallLimitMm' | 'instrumentId' | 'weldProcedureId' | 'readings' | 'chosen' | 'fillerBatch'>;

/** What of a repair does not go together, field by field. */
export function repairFaults(said: Said): FieldProblem[] {
  const { spliceId = null, rejoinId = null, depthRemovedMm, remainingWallMm, wallLimitMm, instrumentId } = said;
  return [
    ...(spliceId !== null && rejoinId !== null ? [{ field: 'rejoinId', value: rejoinId, limit: 'either a splice or a re-join' }] : []),
    ...(wallLimitMm != null && remainingWallMm == null ? [{ field: 'wallLimitMm', value: wallLimitMm, limit: 'a limit only beside the wall that was left' }] : []),
    ...(instrumentId != null && depthRemovedMm == null && remainingWallMm == null
      ? [{ field: 'instrumentId', value: instrumentId, limit: 'an instrument only beside what was measured with it' }]
      : []),
    ...weldFaults(said),
  ];
}

/** A weld-repair names its procedure; nothing else is welded. */
function weldFaults({ method, weldProcedureId, readings, chosen, fillerBatch }: Said): FieldProblem[] {
  if (method === 'weld-repair') {
    return weldProcedureId == null ? [{ field: 'weldProcedureId', value: null, limit: 'the procedure that a weld-repair was made by' }] : [];
  }
  const limit = 'only for a weld-repair';
  return [
    ...(weldProcedureId == null ? [] : [{ field: 'weldProcedureId', value: weldProcedureId, limit }]),
    ...(readings.length === 0 ? [] : [{ field: 'readings', value: readings, limit }]),
    ...(chosen.length === 0 ? [] : [{ field: 'chosen', value: chosen, limit }]),
    ...(fillerBatch == null ? [] : [{ field: 'fillerBatch', value: fillerBatch, limit }]),
  ];
}

type Figures = Pick<Repair, 'method' | 'depthRemovedMm' | 'remainingWallMm' | 'wallLimitMm'>;

/** The methods that take metal away: what they took and left is asked for. */
const TAKES_METAL: readonly Repair['method'][] = ['grinding', 'machining'];

/**
 * A wall below its limit is taken and marked, and so is what nobody measured where metal was taken away. A wall that no such
 * pipe has (table of usual values), and a depth beyond the wall that the string began with, are asked about once.
 */
export function wallFindings({ method, depthRemovedMm, remainingWallMm, wallLimitMm }: Figures, nominalWallMm: string): Finding[] {
  const isAsked = TAKES_METAL.includes(method);
  const unsaid = (field: string, value: string | null): Finding[] =>
    (isAsked && value === null ? [{ tier: 'noted', field, value: 'not reported', limit: `measured after ${method}` }] : []);
  return [
    ...unsaid('depthRemovedMm', depthRemovedMm),
    ...unsaid('remainingWallMm', remainingWallMm),
    ...(depthRemovedMm === null ? [] : outside('implausible', 'depthRemovedMm', depthRemovedMm, { max: Number(nominalWallMm), unit: 'mm, the wall of the string' })),
    ...(remainingWallMm === null ? [] : outside('implausible', 'remainingWallMm', remainingWallMm, { min: 0.3, max: 40, unit: 'mm' })),
    ...(remainingWallMm !== null && wallLimitMm !== null && compare(decimal(remainingWallMm), decimal(wallLimitMm)) < 0
      ? [{ tier: 'out-of-specification' as const, field: 'remainingWallMm', value: remainingWallMm, limit: `at least ${wallLimitMm} mm` }]
      : []),
  ];
}

/** A weld outside its procedure, or by a procedure for another kind of weld, is taken and marked. */
export function repairWeldFindings(weld: Pick<Repair, 'readings' | 'chosen'>, procedure: WeldProcedure, purpose: string): Finding[] {
  const other: Finding[] = purpose === 'repair' ? [] : [{ tier: 'noted', field: 'weldProcedureId', value: purpose, limit: 'a procedure for repairs' }];
  return [...other, ...unusualReadings(weld.readings), ...outsideProcedure(weld, procedure)];
}

/** A re-join that is named though the record does not lie at its joint is taken and marked. */
export function liesOffJoint(id: string, span: Interval, joint: IntervalSet): Finding[] {
  const place = joint.hull();
  return place === null || isAtJoint(span, joint) ? [] : liesElsewhere('rejoinId', id, span, place);
}

/** A record that is named though it lies elsewhere on the pipe is taken and marked: one of the two places is wrong. */
export function liesElsewhere(field: string, id: string, span: Interval, named: Interval): Finding[] {
  if (span.fromMm < named.toMm && named.fromMm < span.toMm) return [];
  return [{ tier: 'noted', field, value: id, limit: `one on the same pipe; it lies on ${named.fromMm} to ${named.toMm} mm` }];
}
