import { compare, decimal } from '#libs/exact';
import { isUnitName } from '#libs/units';
import type { ScopeItem } from '#libs/validity';
import type { FieldProblem } from '../http/problem.js';
import type { QualificationInput, ScopePart } from './qualification.dto.js';

/** What contradicts itself in a qualification. A field that is not as it should be is named with what would be. */
export function qualificationFaults({ methods, scope, startsOn, expiresOn }: QualificationInput): FieldProblem[] {
  return [
    ...(methods.length === 0 ? [{ field: 'methods', value: methods, limit: 'at least one method' }] : []),
    ...(expiresOn != null && expiresOn < startsOn ? [{ field: 'expiresOn', value: expiresOn, limit: `not before ${startsOn}, its first day` }] : []),
    ...scope.flatMap((part, index) => [...partFaults(part, `scope[${index}]`), ...nameFaults(scope, index)]),
  ];
}

/** A qualification has its methods and its level besides, and limits a variable once. */
function nameFaults(scope: readonly ScopePart[], index: number): FieldProblem[] {
  const { name } = scope[index] ?? { name: '' };
  const isTaken = ['method', 'level'].includes(name) || scope.findIndex((part) => part.name === name) !== index;
  return isTaken ? [{ field: `scope[${index}].name`, value: name, limit: 'a variable limited once, and neither method nor level' }] : [];
}

function partFaults({ values, min, max, unit }: ScopePart, field: string): FieldProblem[] {
  const isRange = min != null || max != null;
  if (isRange === (values != null)) return [{ field: `${field}.values`, value: values ?? null, limit: 'either listed values, or the ends of a range' }];
  if (!isRange) {
    return [
      ...(values?.length === 0 ? [{ field: `${field}.values`, value: values, limit: 'at least one value' }] : []),
      ...(unit == null ? [] : [{ field: `${field}.unit`, value: unit, limit: 'a unit only with a range' }]),
    ];
  }
  if (unit == null || !isUnitName(unit)) return [{ field: `${field}.unit`, value: unit ?? null, limit: 'the unit of the range, such as mm' }];
  const isReversed = min != null && max != null && compare(decimal(min), decimal(max)) > 0;
  return isReversed ? [{ field: `${field}.max`, value: max, limit: `at least the ${min} of min` }] : [];
}

/** A part of the scope as it is kept. */
export function scopeItem({ name, values, min, max, unit }: ScopePart): ScopeItem {
  return values == null
    ? { kind: 'range', name, min: min ?? null, max: max ?? null, unit: unit ?? '' }
    : { kind: 'list', name, values };
}

/** A part of the scope as it was sent. */
export function scopePart(item: ScopeItem): ScopePart {
  return item.kind === 'list'
    ? { name: item.name, values: [...item.values], min: null, max: null, unit: null }
    : { name: item.name, values: null, min: item.min, max: item.max, unit: item.unit };
}
