import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { TraceAnswer } from '../../apps/api/src/trace/trace.dto.js';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';
import { buildString } from '../setup/string-builder.js';

/** The worked examples of the length model, entered and asked through the API, to the millimetre. */
interface Example {
  readonly name: string;
  readonly lambda: number;
  readonly lineMm: number;
  readonly hangOffFootageMm: number;
  readonly hangOffMdMm: number;
  readonly weldFootageMm: number;
  readonly shoeMdMm: number;
  readonly coils: readonly [string, number, number][];
  readonly cutOuts: readonly [number, number, number][];
  readonly outer: readonly [string, number, number][];
  readonly inner: readonly [string, number, number][];
}

const { source, examples } = JSON.parse(
  readFileSync(new URL('../fixtures/length-examples.json', import.meta.url), 'utf8'),
) as { source: string; examples: Example[] };

const START_MS = Date.parse('2026-03-01T06:00:00Z');
/** One metre of pipe a minute: the time at which a footage was at the weld point. */
const timeOf = (footageMm: number): string => new Date(START_MS + footageMm * 60).toISOString();

describe(`worked examples of the length model (${source})`, () => {
  let api: TestApi;
  let engineer: SignedIn;
  beforeAll(async () => {
    api = await startTestApi();
    engineer = await api.signIn('materials-engineer');
  });
  afterAll(() => api.close());

  test.each(examples)('$name', async (example) => {
    const { stringId } = await buildString(engineer, {
      lineMm: example.lineMm,
      ratio: example.lambda,
      hangOff: {
        at: timeOf(example.hangOffFootageMm + example.lineMm),
        footageMm: example.hangOffFootageMm,
        mdMm: example.hangOffMdMm,
      },
      periods: [{ startedAt: timeOf(0), startReading: '0', scaleMmPerCount: '1', startFootageMm: 0 }],
      readings: [0, example.weldFootageMm].map((mm) => ({ at: timeOf(mm), reading: String(mm) })),
      coils: example.coils.map(([name, fromMm, toMm]) => ({
        name, fromMm, toMm, stripFromMm: 0, stripToMm: toMm - fromMm, headFirst: true,
      })),
      cutOuts: example.cutOuts.map(([fromMm, toMm, weldMm]) => ({ fromMm, toMm, at: timeOf(weldMm) })),
      ties: [],
    });
    const shoeM = (example.shoeMdMm / 1000).toFixed(3);
    const query = `by=md&fromM=${example.hangOffMdMm / 1000}&toM=${shoeM}&shoeMdM=${shoeM}`;
    const { status, body } = await engineer.send<TraceAnswer>('GET', `/api/casing-strings/${stringId}/trace?${query}`);
    expect({ status, detail: (body as { detail?: string }).detail }).toEqual({ status: 200 });
    const [outer, inner] = body.walls;
    expect(joined(outer)).toEqual(rounded(example.outer));
    expect(joined(inner)).toEqual(rounded(example.inner));
    expect([outer?.beyond, inner?.beyond]).toEqual([[], []]);
  });
});

/** Printed to a tenth of a millimetre; a depth is answered in whole ones. */
const rounded = (printed: Example['outer']): [string, number, number][] =>
  printed.map(([coil, from, to]) => [coil, Math.round(from), Math.round(to)]);

/** Coils from the top down, the pieces on both sides of a re-join as one. */
function joined(wall: TraceAnswer['walls'][number] | undefined): [string, number, number][] {
  const runs: [string, number, number][] = [];
  for (const { coil, mdFromMm, mdToMm } of wall?.segments ?? []) {
    const name = coil.label.split('-')[0] ?? '';
    const last = runs.at(-1);
    if (last !== undefined && last[0] === name && last[2] === mdFromMm) last[2] = mdToMm;
    else runs.push([name, mdFromMm, mdToMm]);
  }
  return runs;
}
