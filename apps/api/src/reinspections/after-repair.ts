import type { IntervalSet } from '#libs/intervals';
import { countsOn, reinspection, type On, type OpenPoint, type Reinspection } from '#libs/reinspection';
import type { RecordedChange, RecordedLook, RecordedRepair, RecordedWeld } from './looks.js';

/** All that changed pipe of a string, and the pipe that is no longer in it. */
export interface Changes {
  readonly repairs: readonly RecordedRepair[];
  readonly welds: readonly RecordedWeld[];
  readonly removed: IntervalSet;
}

/** What is open on pipe of a repair that a weld was the last to change. */
export interface OpenSinceWeld {
  readonly weld: RecordedWeld;
  readonly open: readonly OpenPoint<RecordedLook>[];
}

/** What came of a repair: on the pipe that it was the last to change, and on that which welds made again since. */
export interface AfterRepair extends Reinspection<RecordedLook, RecordedChange> {
  readonly openSinceWelds: readonly OpenSinceWeld[];
}

/**
 * Holds a repair against all that came after it. A weld made again over repaired pipe does not close the repair: until that pipe was looked at
 * after the weld, by every method used before, it stays open with the repair. What a later repair changed is told of that one.
 */
export function afterRepair(repair: RecordedRepair, { repairs, welds, removed }: Changes, looks: readonly RecordedLook[]): AfterRepair {
  const changes = [...repairs, ...welds];
  const own = reinspection<RecordedLook, RecordedChange>(repair, changes, looks, removed);
  const lastRepaired = countsOn({ on: repair.on, atUs: repair.atUs }, repairs.filter(({ atUs }) => atUs > repair.atUs));
  const since = welds.filter(({ atUs }) => atUs > repair.atUs).map((weld) => ({
    weld, found: reinspection<RecordedLook, RecordedChange>({ ...weld, on: weld.on.intersect(lastRepaired) }, changes, looks, removed),
  }));
  return {
    ...own, since: joined(looks, [own, ...since.map(({ found }) => found)].flatMap((found) => found.since)),
    openSinceWelds: since.map(({ weld, found }) => ({ weld, open: found.open })),
  };
}

/** Each look once, with all the pipe that it is given with, in the order of the looks. */
function joined(looks: readonly RecordedLook[], some: readonly On<RecordedLook>[]): On<RecordedLook>[] {
  return looks.flatMap((it) => {
    const [first, ...more] = some.filter((one) => one.it === it);
    return first === undefined ? [] : [{ it, on: more.reduce((sum, { on }) => sum.union(on), first.on) }];
  });
}
