import { compare, decimal } from '#libs/exact';
import { findWeldVariable, type WeldProcedure } from '#libs/welding';
import type { FieldProblem } from '../http/problem.js';
import type { WeldProcedureInput, WeldRangePart } from './weld-procedure.dto.js';
import type { WeldProcedureVersion } from './weld-procedure.entity.js';

/** What contradicts itself in a procedure, field by field. */
export function procedureFaults({ ranges, lists }: WeldProcedureInput): FieldProblem[] {
  return [
    ...(ranges.length + lists.length === 0 ? [{ field: 'ranges', value: ranges, limit: 'at least one range or list: a procedure limits something' }] : []),
    ...ranges.flatMap((range, index) => rangeFaults(range, `ranges[${index}]`)),
    ...lists.flatMap(({ allowed }, index) => (allowed.length === 0 ? [{ field: `lists[${index}].allowed`, value: allowed, limit: 'at least one' }] : [])),
  ];
}

function rangeFaults({ variable, min, max, unit }: WeldRangePart, field: string): FieldProblem[] {
  const units = findWeldVariable(variable)?.units ?? [];
  const isReversed = min != null && max != null && compare(decimal(min), decimal(max)) > 0;
  return [
    ...(units.includes(unit) ? [] : [{ field: `${field}.unit`, value: unit, limit: `for ${variable} one of ${units.join(', ')}` }]),
    ...(isReversed ? [{ field: `${field}.max`, value: max, limit: `at least the ${min} of min` }] : []),
  ];
}

/** What people call a revision of a procedure. */
export const procedureName = ({ number, revision }: Pick<WeldProcedureVersion, 'number' | 'revision'>): string => `${number} rev ${revision}`;

/** A procedure as welds are held against it. */
export function weldProcedureOf(procedure: WeldProcedureVersion): WeldProcedure {
  const { ranges, lists, process } = procedure;
  const named = lists.some(({ choice }) => choice === 'process') ? lists : [{ choice: 'process' as const, allowed: [process] }, ...lists];
  return { name: procedureName(procedure), ranges, lists: named };
}
