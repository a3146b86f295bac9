/**
 * How the line really ran, which the records only know through the counter. Footage here is the pipe's true footage in
 * mm; the main counter's wheel W-2 is worn and turns out 1.006 mm of pipe for each count that is taken for 1.000 mm.
 */
export interface Run {
  readonly startedAt: string;
  readonly fromMm: number;
  /** Below `fromMm` where the line backed up. */
  readonly toMm: number;
  readonly mmPerMinute: number;
}

export const RUNS: readonly Run[] = [
  { startedAt: '2026-03-02T08:00:00Z', fromMm: 0, toMm: 104_000, mmPerMinute: 1000 },
  { startedAt: '2026-03-02T13:00:00Z', fromMm: 104_000, toMm: 196_000, mmPerMinute: 1000 },
  { startedAt: '2026-03-03T08:10:00Z', fromMm: 196_000, toMm: 300_000, mmPerMinute: 1100 },
  // Stopped for the first cut-out, at the cutting bench.
  { startedAt: '2026-03-03T13:20:00Z', fromMm: 300_000, toMm: 386_100, mmPerMinute: 1100 },
  { startedAt: '2026-03-04T08:00:00Z', fromMm: 386_100, toMm: 498_000, mmPerMinute: 1200 },
  { startedAt: '2026-03-05T08:05:00Z', fromMm: 498_000, toMm: 610_642, mmPerMinute: 1200 },
  // The power dip of the night before set the counter to zero.
  { startedAt: '2026-03-06T08:00:00Z', fromMm: 610_642, toMm: 716_000, mmPerMinute: 1200 },
  // Stopped for the second cut-out.
  { startedAt: '2026-03-07T08:15:00Z', fromMm: 716_000, toMm: 774_750, mmPerMinute: 1200 },
  // The strip jammed at 842 m; the line backed up 3.2 m and went on.
  { startedAt: '2026-03-09T08:00:00Z', fromMm: 774_750, toMm: 842_000, mmPerMinute: 1300 },
  { startedAt: '2026-03-09T08:58:00Z', fromMm: 842_000, toMm: 838_800, mmPerMinute: 1100 },
  { startedAt: '2026-03-09T09:20:00Z', fromMm: 838_800, toMm: 900_000, mmPerMinute: 1300 },
  { startedAt: '2026-03-10T08:00:00Z', fromMm: 900_000, toMm: 1_020_000, mmPerMinute: 1300 },
  { startedAt: '2026-03-11T08:00:00Z', fromMm: 1_020_000, toMm: 1_130_000, mmPerMinute: 1300 },
  { startedAt: '2026-03-12T14:18:09Z', fromMm: 1_130_000, toMm: 1_231_847, mmPerMinute: 1000 },
];

/** What one count of wheel W-2 really is. */
export const TRUE_MM_PER_COUNT = 1.006;

/** Where the counter was set to zero. */
export const RESET = { at: '2026-03-06T05:12:00Z', weldMm: 610_642 } as const;

/** Pipe taken out, with the time from which it was missing. */
export const CUTS = [
  { at: '2026-03-03T16:20:00Z', fromMm: 368_500, toMm: 369_300 },
  { at: '2026-03-07T12:10:00Z', fromMm: 757_200, toMm: 757_950 },
] as const;

/** When a run ended, to the second. */
export function endOf({ startedAt, fromMm, toMm, mmPerMinute }: Run): string {
  return atSecond(Date.parse(startedAt) + (Math.abs(toMm - fromMm) / mmPerMinute) * 60_000);
}

/** When this footage came to the weld point first. Throws RangeError for footage never made. */
export function timeOf(weldMm: number): string {
  const run = RUNS.find(({ fromMm, toMm }) => fromMm <= weldMm && weldMm <= toMm);
  if (run === undefined) throw new RangeError(`no run made footage ${weldMm} mm`);
  return endOf({ ...run, toMm: weldMm });
}

/** What the main counter showed then; at the reset, what it showed before it. */
export function readingOf(weldMm: number): string {
  const sinceMm = weldMm > RESET.weldMm ? weldMm - RESET.weldMm : weldMm;
  return String(Math.round(sinceMm / TRUE_MM_PER_COUNT));
}

const atSecond = (ms: number): string => new Date(Math.round(ms / 1000) * 1000).toISOString();
