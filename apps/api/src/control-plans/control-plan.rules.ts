import type { FieldProblem } from '../http/problem.js';
import type { ControlPlanItem, PlanScope } from './control-plan-item.js';
import type { ControlPlanItemPart, PlanExceptionPart } from './control-plan.dto.js';
import type { ControlPlan } from './control-plan.entity.js';

/** A plan as people name it. */
export const planLabel = ({ document, revision, fromMm }: Pick<ControlPlan, 'document' | 'revision' | 'fromMm'>): string => `${document} revision ${revision}, from ${fromMm} mm`;

/** What a plan asks for, as columns. */
export function plannedItems(items: readonly ControlPlanItemPart[]): ControlPlanItem[] {
  return items.map(({ code, clause, demands, at, marginMm, exceptAt, channelId, characteristic, reachMm, test, point }) => ({
    code, clause, demands, at, marginMm: marginMm ?? null, exceptAt: (exceptAt ?? []).map((one) => ({ at: one.at, marginMm: one.marginMm })),
    channelId: channelId ?? null, characteristic: characteristic ?? null, reachMm: reachMm ?? null, test: test ?? null, point: point ?? null,
  }));
}

/** What contradicts itself in a plan, field by field. */
export function planFaults(items: readonly ControlPlanItemPart[]): FieldProblem[] {
  const codes = items.map(({ code }) => code);
  return items.flatMap((item, index) => {
    const field = `items[${index}]`;
    const isDouble = codes.indexOf(item.code) < index;
    return [
      ...(isDouble ? [{ field: `${field}.code`, value: item.code, limit: 'each code once' }] : []),
      ...scopeFaults(item, field), ...marginFaults(item, field), ...exceptionFaults(item, field), ...contentFaults(item, field),
    ];
  });
}

const isEnd = (at: PlanScope): boolean => at === 'lead-end' || at === 'tail-end';

const END_MARGIN = 'at least 1 mm: how long the end is';

function scopeFaults({ demands, at }: ControlPlanItemPart, field: string): FieldProblem[] {
  const only = demands === 'splice-accepted' ? 'splices' : demands === 'rejoin-accepted' ? 're-joins' : at;
  return at === only ? [] : [{ field: `${field}.at`, value: at, limit: `${only}, where alone ${demands} can be asked for` }];
}

const OF_JOINTS: ReadonlySet<string> = new Set(['splice-accepted', 'rejoin-accepted']);

function marginFaults({ at, demands, marginMm }: ControlPlanItemPart, field: string): FieldProblem[] {
  const fault = (limit: string): FieldProblem[] => [{ field: `${field}.marginMm`, value: marginMm ?? null, limit }];
  if (at === 'pipe') return marginMm == null ? [] : fault('none of an item for pipe');
  if (marginMm == null) return fault(isEnd(at) ? END_MARGIN : 'how far beyond the joint, to both sides');
  if (OF_JOINTS.has(demands)) return marginMm === 0 ? [] : fault('0: a verdict is of the joint itself, and says nothing of the pipe beside it');
  return isEnd(at) && marginMm < 1 ? fault(END_MARGIN) : [];
}

function exceptionFaults({ at, exceptAt }: ControlPlanItemPart, field: string): FieldProblem[] {
  const exceptions = exceptAt ?? [];
  if (at !== 'pipe' && exceptions.length > 0) return [{ field: `${field}.exceptAt`, value: exceptions, limit: 'none but of an item for pipe' }];
  return exceptions.flatMap((one, nth) => exceptionFault(one, exceptions.slice(0, nth), `${field}.exceptAt[${nth}]`));
}

function exceptionFault({ at, marginMm }: PlanExceptionPart, before: readonly PlanExceptionPart[], field: string): FieldProblem[] {
  return [
    ...(before.some((one) => one.at === at) ? [{ field: `${field}.at`, value: at, limit: 'each place once' }] : []),
    ...(isEnd(at) && marginMm < 1 ? [{ field: `${field}.marginMm`, value: marginMm, limit: END_MARGIN }] : []),
  ];
}

/** What goes with some demands only, and what these need. */
function contentFaults(item: ControlPlanItemPart, field: string): FieldProblem[] {
  const { demands, test } = item;
  const pairs = [
    ['channelId', 'channel-inspected', 'the channel'], ['characteristic', 'dimension', 'what is measured'],
    ['reachMm', 'dimension', 'how far to both sides one reading stands'], ['point', 'point', 'hold, witness or review'],
  ] as const;
  return [
    ...pairs.flatMap(([name, of, what]): FieldProblem[] => {
      const value = item[name] ?? null;
      return (value !== null) === (demands === of) ? [] : [{ field: `${field}.${name}`, value, limit: `${what}, of ${of} and of nothing else` }];
    }),
    ...(test != null && demands !== 'destructive-tests' ? [{ field: `${field}.test`, value: test, limit: 'none but of destructive-tests' }] : []),
  ];
}
