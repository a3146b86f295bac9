import type { BuiltInputs } from '../setup/string-builder.js';

/** An exactly known string: nothing was cut out, the walls are as long as each other, and nothing is uncertain. Lengths in mm. */
export const LINE_MM = 18_000;
export const HUNG_AT_MM = 2_840;
export const HANG_OFF_MD_MM = 2_500;
export const MADE_MM = 140_840;

export const KNOWN_STRING: BuiltInputs = {
  lineMm: LINE_MM, ratio: 1, hangOff: { at: '2026-01-01T01:00:00Z', footageMm: HUNG_AT_MM, mdMm: HANG_OFF_MD_MM },
  periods: [{ startedAt: '2026-01-01T00:00:00Z', startReading: '0', scaleMmPerCount: '1', startFootageMm: 0 }],
  readings: [{ at: '2026-01-01T01:00:00Z', reading: String(HUNG_AT_MM + LINE_MM) }, { at: '2026-03-10T00:00:00Z', reading: String(MADE_MM) }],
  coils: [], cutOuts: [], ties: [],
};

type Pair = readonly [fromMm: number, toMm: number];

export interface WalkedMetres {
  readonly footage: readonly Pair[];
  readonly outer: readonly Pair[];
  readonly inner: readonly Pair[];
}

/**
 * Where some footage stands in the end: the pipe is pushed down the well millimetre by millimetre. Of each two that pass the
 * hang-off one is turned out at the fold, so that the fold comes to lie one deeper.
 */
export function walkedMetres(spans: readonly { readonly fromMm: number; readonly toMm: number }[]): WalkedMetres {
  const isMeant = new Uint8Array(MADE_MM);
  for (const { fromMm, toMm } of spans) isMeant.fill(1, fromMm, toMm);
  const passed = MADE_MM - LINE_MM - HUNG_AT_MM;
  const depthMm = passed / 2;
  const [outer, inner] = [new Uint8Array(HANG_OFF_MD_MM + depthMm), new Uint8Array(HANG_OFF_MD_MM + depthMm)];
  for (let nth = 0; nth < passed; nth += 1) {
    // The first half hangs outside from the top down, the rest inside from the fold up.
    if (nth < depthMm) outer[HANG_OFF_MD_MM + nth] = isMeant[HUNG_AT_MM + nth]!;
    else inner[HANG_OFF_MD_MM + passed - 1 - nth] = isMeant[HUNG_AT_MM + nth]!;
  }
  return { footage: runsOf(isMeant), outer: runsOf(outer), inner: runsOf(inner) };
}

function runsOf(cells: Uint8Array): Pair[] {
  const runs: Pair[] = [];
  let from: number | null = null;
  for (let mm = 0; mm <= cells.length; mm += 1) {
    const isIn = cells[mm] === 1;
    if (isIn && from === null) from = mm;
    if (!isIn && from !== null) {
      runs.push([from, mm]);
      from = null;
    }
  }
  return runs;
}
