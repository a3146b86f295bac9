import { interval, type Interval } from '#libs/intervals';
import { Boundaries, type Stretch } from './boundaries.js';
import { Exclusions } from './exclusions.js';
import { checkPlan, checkWindow, type Boundary, type Exclusion, type SubgroupPlan } from './plan.js';

/** Windows of pipe that make one point. */
export interface WindowSubgroup {
  readonly windows: readonly Interval[];
  /** A boundary lies between it and the subgroup before it. */
  readonly beginsAnew: boolean;
}

export interface LeftOutPipe {
  readonly place: Interval;
  readonly because: string;
}

export interface LaidWindows {
  readonly subgroups: readonly WindowSubgroup[];
  /** Subgroups that could not be laid, and pipe passed over before the first one of a stretch. */
  readonly leftOut: readonly LeftOutPipe[];
}

/** How far apart windows and subgroups begin, and how long a subgroup is, mm. */
interface Grid {
  readonly windowMm: number;
  readonly size: number;
  readonly stepMm: number;
  readonly spanMm: number;
  readonly everyMm: number;
}

interface LaidInStretch {
  readonly groups: readonly Interval[][];
  readonly leftOut: readonly LeftOutPipe[];
}

/**
 * Lays windows over pipe of which every metre could be read. Each stretch between two boundaries has a grid of its own, which begins
 * with its first pipe that is not left out; a subgroup begins every `everyMm` of it (or its own length, where that is more), and one
 * that meets an exclusion is not laid. So the windows are the same whatever pipe is asked about, and something left out further on
 * moves none of the others. The windows of a subgroup lie evenly within `withinMm`; one behind the other where that is too short.
 * @param asked whole mm, half-open: subgroups that lie within it are told
 * Throws RangeError as `checkPlan`, and unless `windowMm` is whole mm from 1 on.
 */
export function windowsOf(asked: Interval, boundaries: readonly Boundary[], exclusions: readonly Exclusion[], plan: SubgroupPlan, windowMm: number): LaidWindows {
  checkPlan(plan);
  checkWindow(windowMm);
  const excluded = new Exclusions(exclusions);
  const grid = gridOf(plan, windowMm);
  const laid = new Boundaries(boundaries).stretchesOf(asked).map((stretch) => laidIn(stretch, asked, excluded, grid));
  let hasEarlier = false;
  const subgroups = laid.flatMap(({ groups }) => groups.map((windows, index) => {
    const beginsAnew = hasEarlier && index === 0;
    hasEarlier = true;
    return { windows, beginsAnew };
  }));
  return { subgroups, leftOut: laid.flatMap(({ leftOut }) => leftOut) };
}

/** The pipe that one subgroup of windows takes, mm. */
export const spanOfWindows = (plan: SubgroupPlan, windowMm: number): number => gridOf(plan, windowMm).spanMm;

function gridOf({ size, withinMm, everyMm }: SubgroupPlan, windowMm: number): Grid {
  const stepMm = size === 1 ? windowMm : Math.max(windowMm, Math.floor(withinMm / (size - 1)));
  const spanMm = (size - 1) * stepMm + windowMm;
  return { windowMm, size, stepMm, spanMm, everyMm: Math.max(everyMm, spanMm) };
}

function laidIn(stretch: Stretch, asked: Interval, excluded: Exclusions, { stepMm, spanMm, everyMm, windowMm, size }: Grid): LaidInStretch {
  const [groups, leftOut]: [Interval[][], LeftOutPipe[]] = [[], []];
  const originMm = excluded.endFrom(stretch.fromMm);
  const passedOver = clipped({ fromMm: stretch.fromMm, toMm: Math.min(originMm, stretch.toMm) }, asked);
  if (passedOver !== null) leftOut.push({ place: passedOver, because: excluded.reasonAt(passedOver) ?? '' });
  const skipped = Math.max(0, Math.ceil((asked.fromMm - originMm) / everyMm));
  for (let fromMm = originMm + skipped * everyMm; fromMm < stretch.toMm; fromMm += everyMm) {
    if (fromMm + spanMm > stretch.toMm) {
      if (stretch.end !== null) leftOut.push({ place: interval(fromMm, stretch.toMm), because: `too little pipe before ${stretch.end.label}` });
      break;
    }
    const windows = Array.from({ length: size }, (_, index) => interval(fromMm + index * stepMm, fromMm + index * stepMm + windowMm));
    const because = windows.map((window) => excluded.reasonAt(window)).find((one) => one !== null);
    if (because === undefined) groups.push(windows);
    else leftOut.push({ place: interval(fromMm, fromMm + spanMm), because });
  }
  return { groups, leftOut };
}

function clipped({ fromMm, toMm }: Interval, asked: Interval): Interval | null {
  const [from, to] = [Math.max(fromMm, asked.fromMm), Math.min(toMm, asked.toMm)];
  return from < to ? interval(from, to) : null;
}
