/** The rules of the watch over channels as directly as they can be said: sample by sample, knowing no cells, summaries or blocks of storage. */

export interface PlainReading {
  readonly at: number;
  readonly value: number;
  readonly status: 'read' | 'missing' | 'saturatedHigh' | 'saturatedLow' | 'suspectStuck' | 'implausible';
}

export interface PlainRun {
  readonly samples: number;
  readonly from: number;
  readonly to: number;
}

/** Maximal runs of neighbours that belong together. */
function runs(readings: readonly PlainReading[], isOne: (reading: PlainReading) => boolean, isSame: (a: PlainReading, b: PlainReading) => boolean): PlainRun[] {
  const found: PlainRun[] = [];
  for (let from = 0; from < readings.length; from += 1) {
    if (!isOne(readings[from]!)) continue;
    if (from > 0 && isOne(readings[from - 1]!) && isSame(readings[from - 1]!, readings[from]!)) continue;
    let to = from;
    while (to + 1 < readings.length && isOne(readings[to + 1]!) && isSame(readings[to]!, readings[to + 1]!)) to += 1;
    found.push({ samples: to - from + 1, from: readings[from]!.at, to: readings[to]!.at });
  }
  return found;
}

export const plainMissing = (readings: readonly PlainReading[]): PlainRun[] => runs(readings, ({ status }) => status === 'missing', () => true);

export const plainIdentical = (readings: readonly PlainReading[], least: number): PlainRun[] =>
  runs(readings, ({ status }) => status === 'read' || status === 'suspectStuck', (a, b) => a.value === b.value).filter(({ samples }) => samples >= least);

export interface PlainWindow {
  readonly from: number;
  readonly to: number;
  readonly noise: number | null;
  readonly implausible: number;
  readonly saturated: number;
}

/** Groups of readings as they were stored together, gathered by the multiple of the window in which each begins. A reading speaks for a millimetre. */
export function plainWindows(groups: readonly (readonly PlainReading[])[], windowMm: number): PlainWindow[] {
  const windows: PlainReading[][][] = [];
  let last: number | null = null;
  for (const group of groups) {
    const no = Math.floor(Math.min(...group.map(({ at }) => at)) / windowMm);
    if (no === last) windows.at(-1)!.push([...group]);
    else windows.push([[...group]]);
    last = no;
  }
  return windows.map((own) => {
    const all = own.flat();
    const share = (...statuses: string[]): number => all.filter(({ status }) => statuses.includes(status)).length / all.length;
    return {
      from: Math.min(...all.map(({ at }) => at)), to: Math.max(...all.map(({ at }) => at)) + 1, noise: middle(own.map(plainNoise)),
      implausible: share('implausible'), saturated: share('saturatedHigh', 'saturatedLow'),
    };
  });
}

function plainNoise(group: readonly PlainReading[]): number | null {
  const values = group.filter(({ status, value }) => status === 'read' && Number.isFinite(value)).map(({ value }) => value);
  if (values.length < 16) return null;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}

function middle(noises: readonly (number | null)[]): number | null {
  const known = noises.filter((one) => one !== null).sort((a, b) => a - b);
  return known.length === 0 ? null : known[Math.ceil(known.length / 2) - 1]!;
}

/** Millimetres that a rule on windows names, of the hulls of windows that follow each other. */
export function plainNamed(windows: readonly PlainWindow[], isNamed: (window: PlainWindow) => boolean): { readonly from: number; readonly to: number }[] {
  const found: { from: number; to: number }[] = [];
  windows.forEach((window, index) => {
    if (!isNamed(window)) return;
    const before = index > 0 && isNamed(windows[index - 1]!) ? found.at(-1) : undefined;
    if (before === undefined) found.push({ from: window.from, to: window.to });
    else {
      before.from = Math.min(before.from, window.from);
      before.to = Math.max(before.to, window.to);
    }
  });
  return found;
}
