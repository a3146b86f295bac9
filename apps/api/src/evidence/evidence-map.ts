import { evidenceLine, verdictAlong, type EvidenceLine, type VerdictStretch } from '#libs/evidence';
import { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { ControlPlanItem } from '../control-plans/control-plan-item.js';
import type { ControlPlan } from '../control-plans/control-plan.entity.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { demandedPipe, plannedPipe } from './demanded-pipe.js';
import type { EvidenceGround } from './evidence-ground.js';
import { isSameTestimony, type RecordTestimony, type WaiverTestimony } from './record-testimony.js';

/** An item of a plan with the pipe of it. */
export interface PlannedItem {
  readonly plan: ControlPlan;
  readonly item: ControlPlanItem;
  /** Pipe that the plan holds for. */
  readonly planned: IntervalSet;
  readonly demanded: IntervalSet;
}

/** What an item came to along the pipe that its plan holds for; no item is what holds come to. */
export interface MapLine extends EvidenceLine<RecordLink> {
  readonly of: PlannedItem | null;
  readonly testimonies: readonly RecordTestimony[];
}

/** What each item came to along the pipe of a string. */
export interface MapLines {
  readonly ground: EvidenceGround;
  readonly plans: readonly ControlPlan[];
  /** Item by item, as in the plans; last the holds. */
  readonly lines: readonly MapLine[];
}

/** The evidence for all pipe of a string. */
export interface EvidenceMap extends MapLines {
  readonly verdict: readonly VerdictStretch[];
}

/** Names the line of holds in a verdict; no item of a plan can have it, since a code has no lower-case letter. */
export const HOLDS_KEY = 'hold';

/** The items of some plans, which come in order of footage, with the pipe of each. */
export function plannedItems(plans: readonly ControlPlan[], { pipe, cutOut, splices, model }: Pick<EvidenceGround, 'pipe' | 'cutOut' | 'splices' | 'model'>): PlannedItem[] {
  const ground = {
    pipe, cutOut, net: model.lengths.nets.at(Infinity), splices: splices.map(({ span }) => span), cuts: model.records.cutOuts.map(({ span }) => span),
  };
  const planned = plannedPipe(plans, pipe);
  return plans.flatMap((plan, index) => {
    const own = planned[index] ?? IntervalSet.empty;
    return plan.items.map((item) => ({ plan, item, planned: own, demanded: demandedPipe(item, own, ground) }));
  });
}

/** The line of an item from what records say of it, and what was waived of it; the line `before` where nothing else is said now. */
export function lineOf(of: PlannedItem, said: readonly RecordTestimony[], waived: readonly WaiverTestimony[], before: MapLine | null = null): MapLine {
  const testimonies = [...said, ...waived.flatMap((one) => stillWaived(one, said))].sort(inOrder);
  if (before?.of === of && areSame(before.testimonies, testimonies)) return before;
  return { ...evidenceLine(keyOf(of), of.planned, of.demanded, testimonies), of, testimonies };
}

const areSame = (some: readonly RecordTestimony[], others: readonly RecordTestimony[]): boolean =>
  some.length === others.length && some.every((one, index) => isSameTestimony(one, others[index] as RecordTestimony));

/** Code and plan: two revisions may have the same codes. */
export const keyOf = ({ plan, item }: Pick<PlannedItem, 'plan' | 'item'>): string => `${item.code} ${plan.id}`;

/**
 * Who waives answers for what was known then: pipe of which something bad was entered later, or said later by an amendment, is waived
 * no more. What failed was not agreed beforehand: whenever it was entered, a concession under its nonconformance alone makes it conceded.
 */
function stillWaived({ isConcession, ...waiver }: WaiverTestimony, said: readonly RecordTestimony[]): RecordTestimony[] {
  const sinceUs = waiver.enteredAt === null ? Infinity : microseconds(waiver.enteredAt);
  const isLater = ({ saidAt }: RecordTestimony): boolean => saidAt !== null && microseconds(saidAt) > sinceUs;
  const beyond = said.filter((one) => (one.says === 'failed' && (!isConcession || isLater(one))) || (one.says === 'suspect' && isLater(one)));
  return IntervalSet.of(waiver).subtract(IntervalSet.from(beyond)).intervals.map((part) => ({ ...waiver, ...part }));
}

/** The order does not depend on when or how records were read: the same evidence gives the same list. */
function inOrder(one: RecordTestimony, other: RecordTestimony): number {
  return one.fromMm - other.fromMm || one.toMm - other.toMm || textOrder(one.says, other.says) || textOrder(recordsText(one), recordsText(other)) || textOrder(one.because, other.because);
}

const recordsText = ({ records }: RecordTestimony): string => records.map(({ id, version }) => `${id}/${version}`).join(' ');
const textOrder = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);

/** The line of holds: pipe that is held fails whatever else stands for it. */
export function holdsLine(held: readonly RecordTestimony[], pipe: IntervalSet): MapLine {
  const on = IntervalSet.from(held).intersect(pipe);
  const testimonies = held.toSorted(inOrder);
  return { ...evidenceLine(HOLDS_KEY, on, on, testimonies), of: null, testimonies };
}

/** The map of some lines. */
export function mapOf({ ground, plans, lines }: MapLines): EvidenceMap {
  return { ground, plans, lines, verdict: verdictAlong(ground.pipe, lines) };
}

/** The lines on which a release is given: all but those that ask for one. */
export const linesToRelease = (lines: readonly MapLine[]): readonly MapLine[] => lines.filter(({ of }) => of?.item.demands !== 'released');
