import { IntervalSet, type Interval } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { HandoverAcceptance } from '../handover-acceptances/handover-acceptance.entity.js';
import type { Handover, HandoverItem } from '../handovers/handover.entity.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import type { Rejoin } from '../rejoins/rejoin.entity.js';
import { isConfirmed } from '../splice-arrivals/leaving-strip.js';
import type { SpliceVersion } from '../splices/splice.entity.js';

export const OPEN_KINDS = [
  'stop', 'splice', 'splice-step', 'weld', 'rejoin', 'repair', 'examination', 'indication', 'inspection', 'destructive-test', 'nonconformance', 'hold', 'chart-signals', 'handover-item',
] as const;

/** What is open of a splice, in words; null when it was accepted and its place seen. */
export function openOfSplice({ verdict, doubt, ...place }: Pick<SpliceVersion, 'verdict' | 'doubt' | 'confirmed' | 'predicted'>): string | null {
  const judged = { accepted: [], open: ['no verdict yet'], 'in-doubt': [`in doubt: ${doubt ?? ''}`], rejected: ['rejected'] }[verdict];
  const said = [...judged, ...(isConfirmed(place) ? [] : ['its place is predicted, and was not confirmed'])];
  return said.length === 0 ? null : said.join('; ');
}

/** What is open of a re-join, in words; null when it was accepted. What an accepted one rests on its own record says. */
export function openOfRejoin({ verdict }: Pick<Rejoin, 'verdict'>): string | null {
  return { accepted: null, open: 'no verdict yet', rejected: 'rejected' }[verdict];
}

/** What is open of an inspection that was not accepted, in words. */
export function openOfInspection({ verdict, characteristic, value, unit }: Pick<Inspection, 'verdict' | 'characteristic' | 'value' | 'unit'>): string {
  const measured = value === null ? characteristic : `${characteristic} ${value} ${unit ?? ''}`;
  return `${measured}: ${verdict === 'rejected' ? 'rejected' : 'for evaluation'}`;
}

/** An item of a handover that nobody took over, or that was taken over and is not settled. */
export interface OpenHandoverItem {
  readonly item: HandoverItem;
  readonly words: string;
}

/** Where what was handed over has come to. */
export interface Onward {
  /** Who took it over, by name. */
  readonly takenOverBy: string;
  /** The shift that took it over has handed over in turn. */
  readonly isHandedOn: boolean;
  /** What an item is about is open no more. */
  readonly isSettled: (item: HandoverItem) => boolean;
}

/**
 * The items of a handover that were refused, or all of them while nobody accepted it; and those that were accepted, until what
 * they are about is settled or who took them over hands over in turn.
 */
export function openOfHandover({ items }: Pick<Handover, 'items'>, acceptance: Pick<HandoverAcceptance, 'items'> | null, onward: Onward): OpenHandoverItem[] {
  return items.flatMap((item, index) => {
    if (acceptance === null) return [{ item, words: `${item.words} (handed over, accepted by nobody)` }];
    const said = acceptance.items.find((one) => one.item === index + 1);
    if (said?.accepted !== true) return [{ item, words: `${item.words} (refused: ${said?.words ?? ''})` }];
    if (onward.isHandedOn || onward.isSettled(item)) return [];
    return [{ item, words: `${item.words} (taken over by ${onward.takenOverBy}, not settled)` }];
  });
}

type Given = Pick<Handover, 'id' | 'shiftId' | 'nextShiftId' | 'observedAt'>;

/** Whether the shift that took a handover over has handed over since: the shift that is named, or any other than the one that gave it. */
export function isHandedOn({ shiftId, nextShiftId }: Given, acceptedAt: string, handovers: readonly Given[]): boolean {
  return handovers.some((later) => microseconds(later.observedAt) > microseconds(acceptedAt)
    && (nextShiftId === null ? later.shiftId !== shiftId : later.shiftId === nextShiftId));
}

/** True for a place that lies wholly in pipe that was cut out; what has no place lies nowhere. */
export function isCutOut(footage: readonly Interval[], cutOut: IntervalSet): boolean {
  return footage.length > 0 && cutOut.covers(IntervalSet.from(footage));
}

/** The oldest first; of one instant, in the order of their ids. */
export function byAge(one: { readonly since: string; readonly record: { readonly id: string } }, other: typeof one): number {
  return microseconds(one.since) - microseconds(other.since) || (one.record.id < other.record.id ? -1 : 1);
}
