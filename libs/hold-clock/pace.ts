/** How fast the line ran lately, by the readings of its master counter: now, and the least and the most of it. */
import { lastIndexWhere, type WeldFootage } from '#libs/length';

/** A counter that said nothing for so long says nothing of now. Our own choice: at 5 m/min it is 50 m of pipe. */
export const RECENT_US = 600_000_000;
/** The speed now is taken over at least so long where readings allow it, so that a counter's step plays no part. Our own choice. */
const STEADY_US = 30_000_000;
/** The least and the greatest speed are taken over steps of at least so long, for the same reason. Our own choice. */
const STEP_US = 5_000_000;
/** Footage is in whole millimetres: less than this is no movement. */
const STILL_MM = 1;

/** Speeds in mm/µs; negative backwards. */
export interface Pace {
  /** The two readings that the speed now rests on, the earlier first. */
  readonly run: readonly [WeldFootage, WeldFootage];
  /** Exactly 0 while the line stands. */
  readonly mmPerUs: number;
  /** The least and the greatest of the speed now and of all steps that are recent. */
  readonly leastMmPerUs: number;
  readonly greatestMmPerUs: number;
  /** How many readings are recent, and the time from the first of them to the last, µs. */
  readonly readings: number;
  readonly overUs: number;
}

/** At `atUs`, from readings in the order of time; null where fewer than two are recent. Looks at recent readings only. */
export function paceAt(readings: readonly WeldFootage[], atUs: number): Pace | null {
  const lastAt = lastIndexWhere(readings, (one) => one.atUs <= atUs);
  const last = readings[lastAt];
  if (last === undefined || atUs - last.atUs > RECENT_US) return null;
  const recent = recentOnes(readings, lastAt, last.atUs - RECENT_US);
  const from = heldAgainst(recent, last);
  if (from === null) return null;
  const now = speed(from, last);
  const speeds = [now, ...steps(recent).map(([one, next]) => speed(one, next))];
  return {
    run: [from, last], mmPerUs: now, leastMmPerUs: Math.min(...speeds), greatestMmPerUs: Math.max(...speeds),
    readings: recent.length, overUs: last.atUs - (recent.at(-1)?.atUs ?? last.atUs),
  };
}

/** From the last one back. */
function recentOnes(readings: readonly WeldFootage[], lastAt: number, sinceUs: number): WeldFootage[] {
  const recent: WeldFootage[] = [];
  for (let index = lastAt; index >= 0; index -= 1) {
    const one = readings[index] as WeldFootage;
    if (one.atUs < sinceUs) break;
    recent.push(one);
  }
  return recent;
}

/** The reading that the last one is held against: the latest that is steady, or the earliest there is. */
function heldAgainst(recent: readonly WeldFootage[], last: WeldFootage): WeldFootage | null {
  const earlier = recent.filter(({ atUs }) => atUs < last.atUs);
  return earlier.find(({ atUs }) => last.atUs - atUs >= STEADY_US) ?? earlier.at(-1) ?? null;
}

/** Readings that follow each other, the earlier first; of some that come quickly, those that are a step apart. */
function steps(recent: readonly WeldFootage[]): [WeldFootage, WeldFootage][] {
  const found: [WeldFootage, WeldFootage][] = [];
  let later = recent[0];
  for (const one of recent) {
    if (later === undefined || later.atUs - one.atUs < STEP_US) continue;
    found.push([one, later]);
    later = one;
  }
  return found;
}

function speed(from: WeldFootage, to: WeldFootage): number {
  const ranMm = to.footageMm - from.footageMm;
  return Math.abs(ranMm) <= STILL_MM ? 0 : ranMm / (to.atUs - from.atUs);
}
