import { roundMm } from '#libs/length';
import type { LineKnowledge } from '../line/line-knowledge.js';
import { footageAtUs, type WeldLog } from '../signals/weld-log.js';

/** How far the pipe has gone, mm of footage; both from the lead end on. */
export interface PipeSoFar {
  /** Made: past the weld point. */
  readonly madeMm: number;
  /** Past the station; null when no line set-up says where it is. Without any reading, 0. */
  readonly passedMm: number | null;
}

/**
 * The greatest footage that was ever at the weld point and at a station (null: the weld point), by the readings of the counter; pipe
 * that passed has passed, whichever way the line went afterwards. At every reading, and at every instant from which on a footage at
 * the weld point means other material at the station, just before it and from it on. Rounded to whole mm; 0 before any.
 */
export function pipeSoFar(line: LineKnowledge, counter: string, log: WeldLog, station: string | null): PipeSoFar {
  // Not as arguments of one call: a log has more readings than a call may have arguments.
  const madeMm = log.footagesMm.reduce((greatest, mm) => Math.max(greatest, roundMm(mm)), 0);
  if (station === null || log.timesUs.length === 0) return { madeMm, passedMm: madeMm };
  let passedMm: number | null = null;
  for (const [atUs, placedUs] of instantsOf(line, counter, log)) {
    const probe = line.probeAt(station, placedUs);
    if (probe !== null) passedMm = Math.max(passedMm ?? 0, Math.min(roundMm(probe.materialMm(footageAtUs(log, atUs))), madeMm));
  }
  return { madeMm, passedMm };
}

/** Instants of which the footage at the weld point is known, each with the one whose set-up and cut-outs say what it means. */
function* instantsOf(line: LineKnowledge, counter: string, { timesUs }: WeldLog): Generator<readonly [number, number]> {
  for (const atUs of timesUs) yield [atUs, atUs];
  const [first, last] = [timesUs[0] ?? Infinity, timesUs.at(-1) ?? -Infinity];
  for (const atUs of line.changesUs(counter)) {
    if (atUs < first || atUs > last) continue;
    yield [atUs, atUs - 1];
    yield [atUs, atUs];
  }
}
