import type { FieldProblem } from '../http/problem.js';
import { intervalFaults } from '../line/given-place.js';
import type { HoldInput } from './hold.dto.js';

type Said = Pick<HoldInput, 'intervals' | 'coilIds' | 'spliceIds'>;

const LONGEST_LABEL = 200;

/** What people call a hold. */
export const holdLabel = ({ cause }: { readonly cause: string }): string => cause.slice(0, LONGEST_LABEL);

/** What does not go together in a hold: that it holds nothing, an interval the wrong way, and a coil or splice twice. */
export function holdFaults({ intervals, coilIds, spliceIds }: Said): FieldProblem[] {
  const isOfNothing = intervals.length + coilIds.length + spliceIds.length === 0;
  return [
    ...(isOfNothing ? [{ field: 'intervals', value: intervals, limit: 'at least one interval, coil or splice' }] : []),
    ...intervals.flatMap((given, index) => intervalFaults(given).map((fault) => ({ ...fault, field: `intervals[${index}].${fault.field}` }))),
    ...twice('coilIds', coilIds, 'each coil once'), ...twice('spliceIds', spliceIds, 'each splice once'),
  ];
}

const twice = (field: string, ids: readonly string[], limit: string): FieldProblem[] =>
  ids.flatMap((id, index) => (ids.indexOf(id) === index ? [] : [{ field: `${field}[${index}]`, value: id, limit }]));
