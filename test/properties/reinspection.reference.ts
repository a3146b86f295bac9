/**
 * The rule for repaired pipe, walked millimetre by millimetre and look by look, as one would do it with a list and a pencil.
 * It shares nothing with the library: intervals are pairs of numbers, sizes are whole tenths of a millimetre.
 */
export interface PlainLook {
  readonly from: number;
  readonly to: number;
  readonly at: number;
  readonly method: string;
  readonly standsInFor: readonly string[];
  readonly technique: string | null;
  readonly reflector: string | null;
  readonly tenths: number;
  readonly outcome: 'accepted' | 'held' | 'rejected';
  readonly seesFlaws: boolean;
}

export interface PlainRepair {
  readonly from: number;
  readonly to: number;
  readonly at: number;
}

export interface PlainHistory {
  readonly repairs: readonly PlainRepair[];
  readonly looks: readonly PlainLook[];
  readonly cuts: readonly { readonly from: number; readonly to: number }[];
}

const holds = ({ from, to }: { from: number; to: number }, mm: number): boolean => from <= mm && mm < to;

/** True when the look still says something about this millimetre. */
export function stillCounts(look: PlainLook, mm: number, { repairs }: PlainHistory): boolean {
  if (!holds(look, mm)) return false;
  for (const repair of repairs) {
    if (holds(repair, mm) && repair.at >= look.at) return false;
  }
  return true;
}

/** What is open on this millimetre after the repair, as `reason method`; null where it is not this repair's to answer for. */
export function openOn(repair: PlainRepair, mm: number, history: PlainHistory): Set<string> | null {
  const { repairs, looks, cuts } = history;
  if (!holds(repair, mm) || cuts.some((cut) => holds(cut, mm))) return null;
  if (repairs.some((other) => holds(other, mm) && other.at > repair.at)) return null;
  const here = looks.filter((look) => holds(look, mm));
  const [old, fresh] = [here.filter(({ at }) => at <= repair.at), here.filter(({ at }) => at > repair.at)];
  const open = new Set<string>();
  const isSeen = fresh.some(({ seesFlaws }) => seesFlaws);
  if (!isSeen) open.add('not-looked-at');
  for (const look of old) {
    const inPlace = fresh.filter(({ method, standsInFor }) => method === look.method || standsInFor.some((other) => other === look.method));
    const again = inPlace.filter(({ outcome }) => outcome === 'accepted');
    if (again.length === 0) {
      // A look that turned it down and still stands says more than that the method is missing.
      if (isSeen && !inPlace.some((one) => turnsDown(one, fresh))) open.add(`not-repeated ${look.method}`);
      continue;
    }
    const best = Math.max(...again.map((one) => rank(one, look)));
    if (best < 3) open.add(`${['not-stated', 'not-comparable', 'less-sensitive'][best]} ${look.method}`);
  }
  for (const look of fresh) {
    if (turnsDown(look, fresh)) open.add(`${look.outcome} ${look.method}`);
  }
  return open;
}

/** A rejection for good; a hold until a later word of the same method which would have seen no less. */
function turnsDown(look: PlainLook, fresh: readonly PlainLook[]): boolean {
  if (look.outcome === 'rejected') return true;
  if (look.outcome === 'accepted') return false;
  for (const other of fresh) {
    const isWord = other.outcome === 'accepted' || other.outcome === 'rejected';
    if (isWord && other.at > look.at && other.method === look.method && rank(other, look) === 3) return false;
  }
  return true;
}

/** 3 as sensitive or said to stand in, 2 less, 1 another reflector, 0 nobody knows. */
function rank(now: PlainLook, then: PlainLook): number {
  if (now.method !== then.method) return 3;
  if (now.reflector === null && then.reflector === null) return now.technique === then.technique ? 3 : 0;
  if (now.reflector === null || then.reflector === null) return 0;
  if (now.reflector !== then.reflector) return 1;
  return now.tenths <= then.tenths ? 3 : 2;
}

/** The same of a repair that may have been welded over since: what the last weld leaves open on its pipe is open with it, unless a later repair answers for that. */
export function openOnWeldedOver(repair: PlainRepair, mm: number, { repairs, looks, cuts }: PlainHistory, welds: readonly PlainRepair[]): Set<string> | null {
  if (!holds(repair, mm) || repairs.some((other) => holds(other, mm) && other.at > repair.at)) return null;
  const after = welds.filter((weld) => holds(weld, mm) && weld.at > repair.at).sort((one, other) => other.at - one.at);
  return openOn(after[0] ?? repair, mm, { repairs: [...repairs, ...welds], looks, cuts });
}
