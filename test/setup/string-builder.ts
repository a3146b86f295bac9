import { expect } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import type { SignedIn } from './api.js';

/** A string as a person would enter it. Lengths in mm, times ISO, readings and scales decimal text. */
export interface BuiltInputs {
  readonly lineMm: number;
  readonly ratio: number;
  readonly hangOff: { readonly at: string; readonly footageMm: number; readonly mdMm: number };
  readonly periods: readonly {
    readonly startedAt: string;
    readonly startReading: string;
    readonly scaleMmPerCount: string;
    readonly startFootageMm?: number;
    readonly previousEndReading?: string;
  }[];
  readonly readings: readonly { readonly at: string; readonly reading: string }[];
  readonly coils: readonly {
    readonly name: string;
    readonly fromMm: number;
    readonly toMm: number;
    readonly stripFromMm: number;
    readonly stripToMm: number;
    readonly headFirst: boolean;
  }[];
  readonly cutOuts: readonly { readonly at: string; readonly fromMm: number; readonly toMm: number }[];
  readonly ties: readonly { readonly at: string; readonly shoeMdMm: number; readonly reading: string }[];
}

export interface BuiltString {
  readonly stringId: string;
  readonly wellId: string;
  readonly periodIds: readonly string[];
  readonly coilIds: ReadonlyMap<string, string>;
}

/** Long before anything is made. */
const BEFORE_ALL = '2026-01-01T00:00:00Z';

/** Sends one new record and gives its id; anything but 201 fails the test with the problem. Implausible values are confirmed. */
export async function entered(by: SignedIn, path: string, body: object): Promise<string> {
  const id = uuidv7();
  let answer = await by.send('POST', `/api/${path}`, { body: { id, ...body } });
  if (answer.status === 422 && String(answer.body['type']).endsWith(':implausible')) {
    const errors = answer.body['errors'] as { confirm: string }[];
    answer = await by.send('POST', `/api/${path}`, { body: { id, ...body, confirm: errors.map(({ confirm }) => confirm) } });
  }
  if (answer.status !== 201) expect(answer.body).toEqual(`a record of ${path}`);
  return id;
}

/** Enters a whole string through the API: well, string, set-up, counters, hang-off, cut-outs, ties, coils, segments. */
export async function buildString(by: SignedIn, inputs: BuiltInputs): Promise<BuiltString> {
  const tag = uuidv7().slice(-12);
  const at = { observedAt: BEFORE_ALL };
  const wellId = await entered(by, 'wells', { ...at, name: `Well ${tag}`, datum: 'Guide frame' });
  const stringId = await entered(by, 'casing-strings', {
    ...at, wellId, name: 'String', footageLimitMm: 1_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00',
    lengthRatio: String(inputs.ratio), lengthRatioU: '0',
  });
  await entered(by, 'line-setups', {
    ...at, stringId, viewing: 'down-the-hole',
    stations: [{ name: 'hang-off', role: 'hang-off', pathMinMm: inputs.lineMm, pathMaxMm: inputs.lineMm, uMm: '0' }],
  });
  const periodIds: string[] = [];
  for (const { startedAt, ...period } of inputs.periods) {
    periodIds.push(await entered(by, 'counter-periods', { observedAt: startedAt, stringId, scaleRelativeU: '0', ...period }));
  }
  for (const { at: observedAt, reading } of inputs.readings) {
    await entered(by, 'counter-readings', { observedAt, stringId, reading });
  }
  const { at: hungAt, footageMm, mdMm } = inputs.hangOff;
  await entered(by, 'hang-offs', { observedAt: hungAt, stringId, from: { footageMm }, mdMm, mdUMm: '0' });
  for (const { at: observedAt, fromMm, toMm } of inputs.cutOuts) {
    const ends = { from: { footageMm: fromMm }, to: { footageMm: toMm } };
    await entered(by, 'cut-outs', { observedAt, stringId, ...ends, cause: 'Tried cut' });
  }
  for (const { at: observedAt, shoeMdMm, reading } of inputs.ties) {
    const place = { counterReading: reading };
    await entered(by, 'shoe-ties', { observedAt, stringId, place, shoeMdMm, shoeUMm: '0', method: 'Wireline tag' });
  }
  return { stringId, wellId, periodIds, coilIds: await buildCoils(by, stringId, tag, inputs) };
}

async function buildCoils(by: SignedIn, stringId: string, tag: string, inputs: BuiltInputs): Promise<Map<string, string>> {
  const at = { observedAt: BEFORE_ALL };
  const heatId = await entered(by, 'heats', { ...at, number: `H-${tag}`, grade: 'Strip 420' });
  const coilIds = new Map<string, string>();
  for (const coil of inputs.coils) {
    const coilId = await entered(by, 'coils', {
      ...at, number: `${coil.name}-${tag}`, heatId, widthMm: '383.0', thicknessMm: '5.00', massKg: '15000',
    });
    coilIds.set(coil.name, coilId);
    await permitted(by, coilId);
    await entered(by, 'coil-segments', {
      ...at, stringId, coilId, from: { footageMm: coil.fromMm }, to: { footageMm: coil.toMm },
      stripFromMm: coil.stripFromMm, stripToMm: coil.stripToMm, runs: coil.headFirst ? 'head-first' : 'tail-first',
    });
  }
  return coilIds;
}

/** Permits the use of a coil that nobody accepted, for tests that are about something else. */
export async function permitted(by: SignedIn, coilId: string): Promise<void> {
  await entered(by, 'deviation-permits', {
    observedAt: BEFORE_ALL, coilId, departure: 'Strip of a trial: no papers are kept of it.', limit: 'Trials only', validUntil: '2099-12-31T00:00:00Z',
  });
}
