import { IntervalSet, type Interval } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { HandoverAcceptance } from '../handover-acceptances/handover-acceptance.entity.js';
import type { Handover, HandoverItem } from '../handovers/handover.entity.js';
import type { Inspection } from '../inspections/inspection.entity.js';
import type { Rejoin } from '../rejoins/rejoin.entity.js';
import type { SpliceVersion } from '../splices/splice.entity.js';

export const OPEN_KINDS = ['stop', 'splice', 'rejoin', 'repair', 'inspection', 'nonconformance', 'handover-item'] as const;

/** What is open of a splice, in words; null when it was accepted and its place seen. */
export function openOfSplice({ verdict, doubt, confirmed }: Pick<SpliceVersion, 'verdict' | 'doubt' | 'confirmed'>): string | null {
  const judged = { accepted: [], open: ['no verdict yet'], 'in-doubt': [`in doubt: ${doubt ?? ''}`], rejected: ['rejected'] }[verdict];
  const said = [...judged, ...(confirmed ? [] : ['its place is predicted, and was not confirmed'])];
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

/** An item of a handover that nobody took over. */
export interface OpenHandoverItem {
  readonly item: HandoverItem;
  readonly words: string;
}

/** The items of a handover that were refused, or all of them while nobody accepted it. */
export function openOfHandover({ items }: Pick<Handover, 'items'>, acceptance: Pick<HandoverAcceptance, 'items'> | null): OpenHandoverItem[] {
  return items.flatMap((item, index) => {
    if (acceptance === null) return [{ item, words: `${item.words} (handed over, accepted by nobody)` }];
    const said = acceptance.items.find((one) => one.item === index + 1);
    return said?.accepted === true ? [] : [{ item, words: `${item.words} (refused: ${said?.words ?? ''})` }];
  });
}

/** True for a place that lies wholly in pipe that was cut out; what has no place lies nowhere. */
export function isCutOut(footage: readonly Interval[], cutOut: IntervalSet): boolean {
  return footage.length > 0 && cutOut.covers(IntervalSet.from(footage));
}

/** The oldest first; of one instant, in the order of their ids. */
export function byAge(one: { readonly since: string; readonly record: { readonly id: string } }, other: typeof one): number {
  return microseconds(one.since) - microseconds(other.since) || (one.record.id < other.record.id ? -1 : 1);
}
