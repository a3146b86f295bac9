import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { TraceAnswer, WallAnswer } from '../../apps/api/src/trace/trace.dto.js';
import {
  simulateRandomString, type MomentTruth, type SimulatedString, type StringInputs, type WallRun,
} from '../properties/line-simulation.reference.js';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';
import { buildString, type BuiltInputs, type BuiltString } from '../setup/string-builder.js';

/**
 * Random strings, made cell by cell by a simulation that knows none of the formulas, entered through the API and asked
 * back at three moments: cut-outs, counter resets and reversals, ties, length ratios, and a scale corrected afterwards.
 */
const STRINGS = 50;
const FIRST_SEED = Number.parseInt(process.env['TEST_SEED'] ?? '20260301', 10);
/** A boundary is rounded once by us and not at all by the simulation, which lets tie depths be whole millimetres. */
const TOLERANCE_MM = 2;

describe('the API against a simulated line', () => {
  let api: TestApi;
  let engineer: SignedIn;
  beforeAll(async () => {
    api = await startTestApi();
    engineer = await api.signIn('materials-engineer');
  });
  afterAll(() => api.close());

  const seeds = Array.from({ length: STRINGS }, (_, index) => FIRST_SEED + index);
  test.each(seeds)('seed %d', async (seed) => {
    const simulated = simulateRandomString(seed, optionsOf(seed));
    const built = await buildString(engineer, inputsOf(simulated.inputs));
    await correctScales(engineer, built, simulated.inputs);
    for (const truth of [...simulated.intermediate, simulated.end]) {
      const answer = await traceAt(engineer, built.stringId, simulated, truth);
      expect(Math.abs(answer.shoe.mdMm - truth.shoeMdMm)).toBeLessThanOrEqual(TOLERANCE_MM);
      expectRuns(answer.walls[0], truth.outer);
      expectRuns(answer.walls[1], truth.inner);
    }
  });

  test('the comparison notices a cut-out that was not entered', async () => {
    const simulated = simulateRandomString(FIRST_SEED, { cutOuts: 2, ratio: 1, ties: 0 });
    const complete = inputsOf(simulated.inputs);
    const { stringId } = await buildString(engineer, { ...complete, cutOuts: complete.cutOuts.slice(0, -1) });
    const answer = await traceAt(engineer, stringId, simulated, simulated.end);
    expect(Math.abs(answer.shoe.mdMm - simulated.end.shoeMdMm)).toBeGreaterThan(TOLERANCE_MM);
  });
});

/** Every kind of trouble comes up, whatever the first seed is. */
const optionsOf = (seed: number): Parameters<typeof simulateRandomString>[1] => ({
  mistakenScale: seed % 3 === 0,
  resets: seed % 3,
  cutOuts: seed % 4,
});

function inputsOf(inputs: StringInputs): BuiltInputs {
  const readingAt = (at: string): string => inputs.readings.find((reading) => reading.at === at)?.reading ?? '';
  return {
    lineMm: inputs.lineMm,
    ratio: inputs.defaultRatio,
    hangOff: inputs.hangOff,
    periods: inputs.counterPeriods.map((period) => ({
      startedAt: period.startedAt,
      startReading: period.startReading,
      scaleMmPerCount: period.mistakenScale?.scaleMmPerCount ?? period.scaleMmPerCount,
      ...(period.startFootageMm === undefined ? {} : { startFootageMm: period.startFootageMm }),
      ...(period.previousEndReading === undefined ? {} : { previousEndReading: period.previousEndReading }),
    })),
    readings: inputs.readings,
    coils: inputs.coils,
    cutOuts: inputs.cutOuts,
    ties: inputs.shoeTies.map((tie) => ({ ...tie, reading: readingAt(tie.at) })),
  };
}

async function correctScales(by: SignedIn, { periodIds }: BuiltString, { counterPeriods }: StringInputs): Promise<void> {
  for (const [index, { mistakenScale, scaleMmPerCount }] of counterPeriods.entries()) {
    if (mistakenScale === undefined) continue;
    const path = `/api/counter-periods/${periodIds[index] ?? ''}`;
    const { body: open } = await by.send('GET', path);
    const headers = { 'if-match': `"${String(open['version'])}"` };
    const change = { reason: 'Wheel measured again', scaleMmPerCount, confirm: [] as string[] };
    let answer = await by.send('PATCH', path, { headers, body: change });
    if (answer.status === 422) {
      change.confirm = (answer.body['errors'] as { confirm: string }[]).map(({ confirm }) => confirm);
      answer = await by.send('PATCH', path, { headers, body: change });
    }
    expect(answer.status).toBe(200);
  }
}

async function traceAt(by: SignedIn, stringId: string, { inputs }: SimulatedString, truth: MomentTruth): Promise<TraceAnswer> {
  const toM = ((Math.ceil(truth.shoeMdMm) + 1000) / 1000).toFixed(3);
  const query = new URLSearchParams({ fromM: (inputs.hangOff.mdMm / 1000).toFixed(3), toM, at: truth.at });
  const { status, body } = await by.send<TraceAnswer>('GET', `/api/casing-strings/${stringId}/trace?${query.toString()}`);
  expect({ status, detail: (body as { detail?: string }).detail }).toEqual({ status: 200 });
  return body;
}

function expectRuns(wall: WallAnswer | undefined, truth: readonly WallRun[]): void {
  const runs = runsOf(wall).filter(isVisible);
  const expected = truth.filter(isVisible);
  expect(runs.map(({ coil }) => coil)).toEqual(expected.map(({ coil }) => coil));
  for (const [index, { fromMdMm, toMdMm }] of expected.entries()) {
    expect(Math.abs((runs[index]?.fromMdMm ?? NaN) - fromMdMm)).toBeLessThanOrEqual(TOLERANCE_MM);
    expect(Math.abs((runs[index]?.toMdMm ?? NaN) - toMdMm)).toBeLessThanOrEqual(TOLERANCE_MM);
  }
}

/** A run shorter than the tolerance may be there for the one and not for the other. */
const isVisible = ({ fromMdMm, toMdMm }: WallRun): boolean => toMdMm - fromMdMm > TOLERANCE_MM;

function runsOf(wall: WallAnswer | undefined): WallRun[] {
  const runs: WallRun[] = [];
  for (const { coil, mdFromMm, mdToMm, presence } of wall?.segments ?? []) {
    if (presence === 'possible') continue;
    const name = coil.label.replace(/-[0-9a-f]{12}$/, '');
    const last = runs.at(-1);
    if (last?.coil === name && last.toMdMm === mdFromMm) last.toMdMm = mdToMm;
    else runs.push({ coil: name, fromMdMm: mdFromMm, toMdMm: mdToMm });
  }
  return runs;
}
