import { expect } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import type { Answer, TestApi } from '../setup/api.js';
import { StringBench, type Fields } from '../setup/string-bench.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

export const atHour = (clock: string): string => `2026-03-02T${clock}:00Z`;

/**
 * A string whose figures can be worked by hand, lengths in mm. Line 18000 from the weld point to the hang-off, hang-off footage 2000 at depth
 * 0. A shoe tie when the counter said 60000: shoe at 19800, so n = 60000 − 18000 − 19800 = 22200, and λ = 19800 / (22200 − 2000) above it;
 * below it λ = 1 as the string states. The counter ends at 100000: D = 19800 + (82000 − D − 22200), so D = 39800 and n = 42200.
 * Outer wall: footage 2000 to 42200. Inner wall: md = 39800 − (n − 42200) = 82000 − n, from 42200 to 82000.
 */
export const SHOE_MD_MM = 39_800;
export const TIE_FOOTAGE_MM = 22_200;
export const LAMBDA_ABOVE_TIE = 19_800 / 20_200;

export interface PressureString {
  readonly bench: StringBench;
  readonly stringId: string;
  readonly coilIds: { readonly a: string; readonly b: string };
  readonly wall: string;
  readonly transcriptionIds: { readonly a: string; readonly b: string };
  readonly testIds: { readonly head: string; readonly tail: string };
  readonly tieId: string;
  readonly inspectionIds: { readonly wall: string; readonly diameter: string };
}

/** The least walls that the channel reads, by footage; 5.00 elsewhere. At 14,500 it reads 2.00 where its pipe is marked as not valid. */
export const PITS: Readonly<Record<number, number>> = { 10_500: 4.6, 14_500: 2, 35_000: 4.8, 50_200: 4.7 };

/** Line, hang-off and end of a string, whichever it is. */
export async function hung(bench: StringBench, stringId: string): Promise<void> {
  await bench.made('counter-periods', { stringId, observedAt: atHour('06:00'), startReading: '0', startFootageMm: 0, scaleMmPerCount: '1.0000', scaleRelativeU: '0', wheel: 'W-2' });
  await bench.made('line-setups', {
    stringId, observedAt: atHour('05:30'), viewing: 'down-the-hole', stations: [{ name: 'hang-off', role: 'hang-off', pathMinMm: 18_000, pathMaxMm: 18_000, uMm: '10' }],
  });
  await bench.made('hang-offs', { stringId, observedAt: atHour('07:00'), from: { footageMm: 2_000 }, mdMm: 0, mdUMm: '5' });
}

export async function ended(bench: StringBench, stringId: string, reading: string): Promise<void> {
  await bench.made('counter-readings', { stringId, observedAt: atHour('18:00'), reading });
}

export const send = (bench: StringBench) => (path: string, content: Fields): Promise<Answer> => bench.who.send('POST', `/api/${path}`, { body: { id: uuidv7(), ...content } });

/** A channel of wall thickness with one run, and its samples of some pipe, every 10 mm. */
export async function inspected(bench: StringBench, stringId: string, stretches: readonly (readonly [fromMm: number, toMm: number])[], valueAt: (mm: number) => number, changes: Fields = {}, everyMm = 10): Promise<{ wall: string; runId: string }> {
  const wall = await bench.made('channels', channel(stringId, 'wall-1', { sampling: { per: 'length', everyMm: '10' }, ...changes }));
  const runId = await bench.made('inspection-runs', inspectionRun(stringId, [wall]));
  const uploadId = await openUpload(send(bench), upload(runId, [{ column: 'wall', channelId: wall }]));
  for (const [index, [from, to]] of stretches.entries()) {
    const counter = range(from, to, everyMm);
    const minute = String(index + 1).padStart(2, '0');
    const part = { counter, values: { wall: counter.map(valueAt) }, firstAt: `2026-03-02T06:${minute}:00Z`, lastAt: `2026-03-02T06:${minute}:59Z` };
    expect(await sendPart((method, path, options) => bench.who.send(method, path, options), uploadId, index + 1, part)).toMatchObject({ status: 200 });
  }
  return { wall, runId };
}

/** A paper that says these yield strengths of a coil. */
export async function certified(bench: StringBench, coilNumber: string, certificateId: string, values: readonly Fields[]): Promise<string> {
  return bench.made('certificate-transcriptions', { certificateId, keying: 1, lines: [{ coilNumber, heatNumber: 'H40711', values }] });
}

export async function pressureString(api: TestApi): Promise<PressureString> {
  const bench = await StringBench.on(api);
  const stringId = await bench.string({ lengthRatio: '1.0', lengthRatioU: '0.01', diameterRatio: '1.16', diameterRatioU: '0.01', outsideDiameterMm: '127.0', wallThicknessMm: '5.00' });
  await hung(bench, stringId);
  const certificate = async (number: string): Promise<string> => bench.made('certificates', { number, issuer: 'Tarnwick Steelworks', documentType: '3.1', issuedOn: '2026-01-22' });
  const [paperA, paperB] = [await certificate('TS-A'), await certificate('TS-B')];
  const coilIds = { a: await bench.coil({ number: 'LM-A', certificateId: paperA }), b: await bench.coil({ number: 'LM-B', certificateId: paperB }) };
  const segment = (coilId: string, fromMm: number, toMm: number): Promise<string> => bench.made('coil-segments', {
    stringId, coilId, from: { footageMm: fromMm }, to: { footageMm: toMm }, stripFromMm: 0, stripToMm: toMm - fromMm, runs: 'head-first',
  });
  await segment(coilIds.a, 0, 30_000);
  await segment(coilIds.b, 30_000, 100_000);
  await bench.made('splices', {
    stringId, number: 'S-1', leavingCoilId: coilIds.a, enteringCoilId: coilIds.b, from: { footageMm: 29_950 }, to: { footageMm: 30_050 }, angleDeg: '90', hand: 'square', confirmed: true, verdict: 'accepted',
  });
  const transcriptionIds = {
    a: await certified(bench, 'LM-A', paperA, [{ characteristic: 'ReH', printed: '486', unit: 'MPa' }, { characteristic: 'Rt0.5', printed: '480', unit: 'MPa' }, { characteristic: 'Rm', printed: '560', unit: 'MPa' }]),
    b: await certified(bench, 'LM-B', paperB, [{ characteristic: 'ReH', printed: '450', unit: 'N/mm2' }]),
  };
  const planId = await bench.made('sampling-plans', {
    number: 'SP-1', revision: 1, title: 'Tensile tests', effectiveFrom: '2025-06-01', tests: [{ test: 'tensile', rules: [{ rule: 'coil-ends' }], retestAllowed: false, source: 'STS-12 rev 3, clause 7.2' }],
  });
  await bench.made('sampling-plan-assignments', { stringId, samplingPlanId: planId, fromDay: '2026-03-01' });
  const tensile = async (number: string, coilEnd: string, readings: Fields[]): Promise<string> => {
    const testSampleId = await bench.made('test-samples', { stringId, number, orientation: 'longitudinal', coilId: coilIds.b, coilEnd });
    return bench.made('destructive-tests', { stringId, testSampleId, kind: 'tensile', method: 'ISO 6892-1', laboratory: 'Site laboratory', readings, outcome: 'pass', observedAt: atHour('10:00') });
  };
  const testIds = {
    head: await tensile('B1', 'head', [{ name: 'Rp0.2, longitudinal', printed: '440', unit: 'MPa' }, { name: 'Rm', printed: '540', unit: 'MPa' }]),
    tail: await tensile('B2', 'tail', [{ name: 'Rp0.2, longitudinal', printed: '470', unit: 'MPa' }]),
  };
  const { wall, runId } = await inspected(bench, stringId, [[0, 70_000], [75_000, 100_000]], (mm) => PITS[mm] ?? 5);
  await bench.made('signal-marks', { stringId, runId, channelIds: [wall], effect: 'not-valid', cause: 'review', note: null, from: { footageMm: 14_000 }, to: { footageMm: 15_000 } });
  const byHand = (characteristic: string, value: string, fromMm: number, toMm: number): Promise<string> => bench.made('inspections', {
    stringId, kind: 'dimensional', characteristic, value, unit: 'mm', verdict: 'accepted', from: { footageMm: fromMm }, to: { footageMm: toMm },
  });
  const inspectionIds = { wall: await byHand('wall thickness', '4.55', 72_000, 72_010), diameter: await byHand('outside diameter', '127.4', 45_000, 45_010) };
  const tieId = await bench.made('shoe-ties', { stringId, observedAt: atHour('12:00'), place: { footageMm: 60_000 }, shoeMdMm: 19_800, shoeUMm: '50', method: 'Wireline tag' });
  await ended(bench, stringId, '100000');
  return { bench, stringId, coilIds, wall, transcriptionIds, testIds, tieId, inspectionIds };
}
