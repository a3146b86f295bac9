/** A line laid out millimetre by millimetre: what stands, what passed a station, what was read of it and when. */

export interface PlainStep {
  readonly atUs: number;
  /** Footage at the weld point. */
  readonly weld: number;
}

export interface PlainHistory {
  readonly steps: readonly PlainStep[];
  readonly cuts: readonly { readonly from: number; readonly to: number; readonly atUs: number }[];
  readonly stationMm: number;
}

const range = (from: number, to: number): number[] => Array.from({ length: Math.max(0, to - from) }, (_, index) => from + index);

/** Millimetres that were not cut out by an instant, below a footage. */
const standing = ({ cuts }: PlainHistory, below: number, atUs: number): number[] =>
  range(0, below).filter((mm) => !cuts.some(({ from, to, atUs: cutUs }) => cutUs <= atUs && from <= mm && mm < to));

export const plainMade = ({ steps }: PlainHistory): number => Math.max(0, ...steps.map(({ weld }) => weld));

/** Footage of the first millimetre that has not passed the station, of those made: walked with the line, a microsecond before and at each cut too. */
export function plainPassed(history: PlainHistory): number {
  const { steps, cuts, stationMm } = history;
  const [first, last] = [steps[0]!.atUs, steps.at(-1)!.atUs];
  const weldAt = (atUs: number): number => {
    const after = steps.findIndex((step) => step.atUs >= atUs);
    const [one, two] = [steps[Math.max(after - 1, 0)]!, steps[after]!];
    return one.atUs === two.atUs ? two.weld : one.weld + ((two.weld - one.weld) * (atUs - one.atUs)) / (two.atUs - one.atUs);
  };
  const moments = [...steps.map(({ atUs }) => [atUs, atUs]), ...cuts.filter(({ atUs }) => atUs >= first && atUs <= last).flatMap(({ atUs }) => [[atUs, atUs - 1], [atUs, atUs]])];
  return Math.max(0, ...moments.map(([atUs, knownUs]) => {
    const pipe = standing(history, weldAt(atUs!), knownUs!);
    const passed = pipe.length - stationMm;
    return passed < 0 ? 0 : passed === pipe.length ? weldAt(atUs!) : pipe[passed]!;
  }));
}

export interface PlainGo {
  readonly fromUs: number;
  readonly read: readonly number[];
}

export interface PlainLook {
  readonly atUs: number;
  readonly from: number;
  readonly to: number;
  readonly fits: boolean;
  readonly accepted: boolean;
}

export interface PlainJoint {
  readonly kind: 'splice' | 're-join';
  readonly from: number;
  readonly to: number;
  readonly madeUs: number;
}

/** Millimetres at a joint, and those of them that neither a go nor an accepted look tells of. */
export function plainJoint(history: PlainHistory, joint: PlainJoint, marginMm: number, goes: readonly PlainGo[], looks: readonly PlainLook[]): { readonly zone: number[]; readonly missing: number[]; readonly state: string } {
  const made = plainMade(history);
  // Beyond what is made the pipe goes on, as far as the margin is concerned.
  const pipe = standing(history, made + 1_000, Infinity);
  const own = joint.kind === 'splice' ? pipe.filter((mm) => joint.from <= mm && mm < joint.to) : [];
  const below = pipe.filter((mm) => mm < joint.from).length;
  if (joint.kind === 'splice' ? own.length === 0 : below === 0) return { zone: [], missing: [], state: 'cut-out' };
  const margin = joint.kind === 'splice' ? marginMm : Math.max(marginMm, 1);
  const zone = pipe.slice(Math.max(0, below - margin), below + own.length + margin).filter((mm) => mm < made);
  if (zone.length === 0) return { zone, missing: [], state: 'not-yet' };
  const passed = plainPassed(history);
  const due = zone.filter((mm) => mm < passed);
  const left = due.filter((mm) => !goes.some(({ fromUs, read }) => (joint.kind === 'splice' || fromUs >= joint.madeUs) && read.includes(mm)));
  const isSeen = (mm: number): boolean => looks.some((look) => {
    if (!look.fits || !look.accepted || look.atUs <= joint.madeUs) return false;
    if (look.from <= mm && mm < look.to) return true;
    // One that touches a re-join tells of its two ends.
    const isThere = joint.kind === 're-join' && look.from <= joint.to + 1 && look.to >= joint.from - 1 && touches(look, joint);
    return isThere && (mm === joint.from - 1 || mm === joint.to);
  });
  const missing = left.filter((mm) => !isSeen(mm));
  const state = missing.length > 0 ? 'missing' : due.length < zone.length ? 'not-yet' : left.length === 0 ? 'covered' : 'covered-by-hand';
  return { zone, missing, state };
}

/** Shares a millimetre with the cut and the one to each side of it, or lies next to that. */
function touches({ from, to }: PlainLook, joint: PlainJoint): boolean {
  const about = range(Math.max(0, joint.from - 1), joint.to + 1);
  return range(from - 1, to + 1).some((mm) => about.includes(mm));
}
