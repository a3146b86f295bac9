import { beforeEach, expect } from '@jest/globals';
import type { Answer } from '../setup/api.js';
import { lineFactory, type Fields } from './line.factory.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

/** Values that a channel shows from a footage up to, and without, another; all else is quiet. */
export interface Planted {
  readonly fromMm: number;
  readonly toMm: number;
  readonly value: number;
}

/** What the channels send where they read nothing. */
export const DROPOUT = -999;
const QUIET = 12.5;
const LENGTH_MM = 10_000;

/** One sample a millimetre: the last that is planted at a place counts. */
export const valuesOf = (fromMm: number, toMm: number, planted: readonly Planted[]): number[] =>
  range(fromMm, toMm).map((atMm) => planted.findLast((one) => one.fromMm <= atMm && atMm < one.toMm)?.value ?? QUIET);

/** A line with two eddy-current channels at the weld point, its counter of millimetres, and 30 m from weld point to hang-off. */
export function inspectedLine() {
  const line = lineFactory();
  const { post, made, stringId, setup, period, engineer } = line;
  let channelIds: readonly [string, string];
  let runId: string;

  beforeEach(async () => {
    await made('line-setups', setup({ stations: [{ name: 'hang-off', role: 'hang-off', pathMinMm: 30_000, pathMaxMm: 30_000, uMm: '0' }] }));
    await made('counter-periods', period({ scaleRelativeU: '0' }));
    const eddy = (name: string): Promise<string> => made('channels', channel(stringId(), name, {
      measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', threshold: { sense: 'above', level: '50' }, saturatesAt: { high: '100', low: null }, plausible: null,
    }));
    channelIds = [await eddy('ET-1'), await eddy('ET-2')];
    runId = await made('inspection-runs', inspectionRun(stringId(), channelIds));
  });

  /** Sends 10 m, or so much, of both channels, from a footage on, as read in some seconds from a time on. */
  async function sent(first: readonly Planted[], second: readonly Planted[], fromMm = 0, clock = '06:10', lengthMm = LENGTH_MM): Promise<void> {
    const columns = channelIds.map((channelId, index) => ({ column: `et${index + 1}`, channelId }));
    const uploadId = await openUpload(post, upload(runId, columns));
    const toMm = fromMm + lengthMm;
    const answer = await sendPart(engineer().send, uploadId, 1, {
      counter: range(fromMm, toMm), values: { et1: valuesOf(fromMm, toMm, first), et2: valuesOf(fromMm, toMm, second) },
      firstAt: `2026-03-02T${clock}:00Z`, lastAt: `2026-03-02T${clock}:40Z`,
    });
    expect(answer).toMatchObject({ status: 200 });
  }

  /** Sends 10 m of both channels again, read from their end back to their start. */
  async function sentBack(first: readonly Planted[], second: readonly Planted[], clock: string): Promise<void> {
    const uploadId = await openUpload(post, upload(runId, channelIds.map((channelId, index) => ({ column: `et${index + 1}`, channelId }))));
    const answer = await sendPart(engineer().send, uploadId, 1, {
      counter: range(0, LENGTH_MM).reverse(), values: { et1: valuesOf(0, LENGTH_MM, first).reverse(), et2: valuesOf(0, LENGTH_MM, second).reverse() },
      firstAt: `2026-03-02T${clock}:00Z`, lastAt: `2026-03-02T${clock}:40Z`, direction: 'backward',
    });
    expect(answer).toMatchObject({ status: 200 });
  }

  const rule = (changes: Fields = {}): Fields => ({
    stringId: stringId(), observedAt: '2026-03-02T06:05:00Z', name: 'Seam', revision: '1', minimumLengthMm: 0, combiningMm: 0, bridgedGapMm: 0, jointMm: null,
    channels: channelIds.map((channelId) => ({ channelId, sense: 'above', threshold: '50', release: '30' })), excludes: [], spliceMarginMm: null, repeats: 'all', ...changes,
  });

  const levels = (threshold: string, release: string): Fields[] => channelIds.map((channelId) => ({ channelId, sense: 'above', threshold, release }));

  const detection = (ruleId: string, changes: Fields = {}): Fields => ({ stringId: stringId(), observedAt: '2026-03-02T06:12:00Z', ruleId, ...changes });

  const seenAt = (footageMm: number, changes: Fields = {}): Fields => ({
    stringId: stringId(), observedAt: '2026-03-02T06:12:00Z', from: { footageMm }, to: { footageMm: footageMm + 100 }, channelIds: [], method: 'VT', ...changes,
  });

  const evaluation = (indicationId: string, changes: Fields = {}): Fields => ({
    stringId: stringId(), observedAt: '2026-03-02T06:14:00Z', indicationId, relevant: true, verdict: 'hold', level: '2', ...changes,
  });

  /** What a detection found, from where to where, with its first channel. */
  async function found(detectionId: string): Promise<{ items: Fields[]; spans: unknown[][] }> {
    const { items } = await line.get('detections', `${detectionId}/found`) as { items: Fields[] };
    return { items, spans: items.map(({ fromMm, toMm, parts }) => [channelIds.indexOf((parts as { channelId: string }[])[0]!.channelId) + 1, fromMm, toMm]) };
  }

  /** The indications of the string, by footage. */
  async function indications(): Promise<Fields[]> {
    const { body } = await engineer().send<{ items: Fields[] }>('GET', `/api/indications?stringId=${stringId()}&limit=500`);
    return [...body.items].sort((one, other) => Number(one['footageFromMm']) - Number(other['footageFromMm']));
  }

  const ask = (question: string): Promise<Answer> => engineer().send('GET', `/api/casing-strings/${stringId()}/${question}`);

  return { ...line, channels: () => channelIds, runId: () => runId, sent, sentBack, rule, levels, detection, seenAt, evaluation, found, indications, ask };
}
