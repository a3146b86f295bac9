/**
 * Indications found the slow way: every sample is an object, every question is asked of the whole list again. Nothing is
 * carried from one sample to the next, and nothing is shared with the library.
 */
export interface PlainSample {
  readonly at: number;
  /** In tenths of the unit; null is missing. */
  readonly tenths: number | null;
  readonly bound: 'measured' | 'at-least' | 'at-most';
}

export interface PlainRule {
  readonly sense: 'above' | 'below';
  readonly threshold: number;
  readonly release: number;
  readonly minimumLength: number;
  readonly combining: number;
  readonly bridged: number;
}

export interface PlainStretch {
  readonly from: number;
  readonly to: number;
}

export interface PlainIndication extends PlainStretch {
  readonly begins: string;
  readonly ends: string;
  readonly peak: number;
  readonly peakAt: number;
  readonly isBound: boolean;
  readonly samples: number;
  readonly runs: number;
  readonly missing: number;
}

export interface PlainDetection {
  readonly indications: readonly PlainIndication[];
  readonly gaps: readonly PlainStretch[];
  readonly tooShort: number;
}

const holds = ({ from, to }: PlainStretch, mm: number): boolean => from <= mm && mm < to;

/** Whether a sample is at the level or beyond it, or may be. */
function reaches({ tenths, bound }: PlainSample, level: number, sense: 'above' | 'below'): boolean {
  if (tenths === null) return false;
  if (sense === 'above') return tenths >= level || bound === 'at-least';
  return tenths <= level || bound === 'at-most';
}

/** For each millimetre from the first sample on: the index of a good sample that speaks for it, 'missing', or 'excluded'. */
function spokenFor(samples: readonly PlainSample[], excluded: readonly PlainStretch[], pitch: number): Map<number, 'good' | 'missing' | 'excluded'> {
  const told = new Map<number, 'good' | 'missing' | 'excluded'>();
  const first = samples[0]?.at ?? 0;
  const last = samples.at(-1)?.at ?? -1;
  for (let mm = first; mm < last + pitch; mm += 1) {
    if (excluded.some((one) => holds(one, mm))) {
      if (mm <= last) told.set(mm, 'excluded');
      continue;
    }
    // The nearest place at or before it where anything was read, unless an exclusion lies in between.
    const at = Math.max(...samples.filter((one) => one.at <= mm).map((one) => one.at));
    const isCut = excluded.some(({ from }) => at < from && from <= mm) || excluded.some((one) => holds(one, at));
    const isGood = !isCut && mm - at < pitch && samples.some((one) => one.at === at && one.tenths !== null);
    if (mm > last && (isCut || mm - at >= pitch)) continue;
    told.set(mm, isGood ? 'good' : 'missing');
  }
  return told;
}

function stretches(told: ReadonlyMap<number, string>, word: string): PlainStretch[] {
  const found: PlainStretch[] = [];
  for (const [mm, said] of told) {
    if (said !== word || told.get(mm - 1) === word) continue;
    let to = mm;
    while (told.get(to) === word) to += 1;
    found.push({ from: mm, to });
  }
  return found;
}

export function detectPlainly(samples: readonly PlainSample[], rule: PlainRule, excluded: readonly PlainStretch[], pitch: number): PlainDetection {
  const told = spokenFor(samples, excluded, pitch);
  const missingBetween = (from: number, to: number): number => [...told].filter(([mm, said]) => from <= mm && mm < to && said === 'missing').length;
  const isBarred = (from: number, to: number): boolean => excluded.some((one) => from < one.to && one.from < to);
  const good = samples.filter((one) => one.tenths !== null && !excluded.some((stretch) => holds(stretch, one.at)));
  const isBeyond = (one: PlainSample): boolean => reaches(one, rule.release, rule.sense);
  // The end of the millimetres after `at` for which something good was read there.
  const endOfCell = (at: number): number => {
    let to = at;
    while (told.get(to) === 'good' && (to === at || !samples.some((one) => one.at === to))) to += 1;
    return to;
  };

  const linked = (one: PlainSample, next: PlainSample): boolean =>
    isBeyond(one) && isBeyond(next) && !isBarred(one.at, next.at) && missingBetween(one.at, next.at) <= rule.bridged;

  const runs: { from: number; to: number; begins: string; ends: string; own: PlainSample[] }[] = [];
  good.forEach((one, index) => {
    if (!isBeyond(one)) return;
    const before = good[index - 1];
    const current = runs.at(-1);
    if (before !== undefined && current !== undefined && linked(before, one)) current.own.push(one);
    else runs.push({ from: one.at, to: 0, begins: '', ends: '', own: [one] });
  });
  const first = samples[0]?.at ?? 0;
  for (const run of runs) {
    const last = run.own.at(-1)!;
    const next = good[good.indexOf(last) + 1];
    run.to = next !== undefined && next.at === last.at ? last.at + 1 : endOfCell(last.at);
    const previous = good[good.indexOf(run.own[0]!) - 1];
    const sidewards = (mm: number, isEnd: boolean): string => {
      if (!isEnd && run.from === first) return previous === undefined ? 'end-of-data' : 'signal';
      const said = told.get(mm);
      if (said === 'missing') return 'gap';
      if (said === 'excluded') return 'exclusion';
      return said === undefined ? 'end-of-data' : 'signal';
    };
    run.begins = previous?.at === run.from ? 'signal' : sidewards(run.from - 1, false);
    run.ends = next === undefined && told.get(run.to) === undefined ? 'end-of-data' : next?.at === last.at ? 'signal' : sidewards(run.to, true);
  }

  const groups = runs.filter(({ own }) => own.some((one) => reaches(one, rule.threshold, rule.sense))).map((run) => [run]);
  for (;;) {
    const at = groups.findIndex((group, index) => {
      const next = groups[index + 1]?.[0];
      const last = group.at(-1)!;
      return next !== undefined && next.from - last.to < rule.combining && !isBarred(last.to, next.from);
    });
    if (at < 0) break;
    groups.splice(at, 2, [...groups[at]!, ...groups[at + 1]!]);
  }

  const worse = rule.sense === 'above' ? Math.max : Math.min;
  const all = groups.map((group): PlainIndication => {
    const own = group.flatMap((run) => run.own);
    const peak = worse(...own.map(({ tenths }) => tenths!));
    const [from, to] = [group[0]!.from, group.at(-1)!.to];
    return {
      from, to, begins: group[0]!.begins, ends: group.at(-1)!.ends, peak, peakAt: own.find(({ tenths }) => tenths === peak)!.at,
      isBound: own.some(({ bound }) => bound === (rule.sense === 'above' ? 'at-least' : 'at-most')), samples: own.length, runs: group.length, missing: missingBetween(from, to),
    };
  });
  const kept = all.filter((one) => one.to - one.from >= rule.minimumLength || one.begins !== 'signal' || one.ends !== 'signal');
  return { indications: kept, gaps: stretches(told, 'missing'), tooShort: all.length - kept.length };
}
