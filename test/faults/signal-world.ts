import { v7 as uuidv7 } from 'uuid';
import { channel, inspectionRun } from '../e2e/signals.factory.js';
import type { Fields } from '../e2e/line.factory.js';
import { Wire } from '../setup/wire.js';

/** A string with a counter, channels on it, and a run that reads them all. */
export interface SignalWorld {
  readonly stringId: string;
  readonly runId: string;
  readonly channelIds: readonly string[];
  readonly periodId: string;
}

const OBSERVED_AT = '2026-03-02T05:00:00Z';

/** Enters a world over the wire; each channel is whole but for these changes. Throws when one of it is not taken. */
export async function makeSignalWorld(wire: Wire, channels: readonly Fields[]): Promise<SignalWorld> {
  const made = async (path: string, content: Fields): Promise<string> => {
    const id = uuidv7();
    const { status, body } = await wire.post(path, { id, ...content });
    if (status !== 201) throw new Error(`no ${path}: ${JSON.stringify(body)}`);
    return id;
  };
  const wellId = await made('wells', { name: `Lindmoor ${uuidv7()}`, datum: 'Guide frame', observedAt: OBSERVED_AT });
  const stringId = await made('casing-strings', {
    wellId, name: 'Main string', footageLimitMm: 40_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', observedAt: OBSERVED_AT,
  });
  const periodId = await made('counter-periods', {
    stringId, observedAt: '2026-03-02T06:00:00Z', startReading: '0', startFootageMm: 0, scaleMmPerCount: '1.0000', scaleRelativeU: '0.0005', wheel: 'W-2',
  });
  const channelIds: string[] = [];
  for (const [index, changes] of channels.entries()) channelIds.push(await made('channels', channel(stringId, `ch-${index}`, changes)));
  const runId = await made('inspection-runs', inspectionRun(stringId, channelIds));
  return { stringId, runId, channelIds, periodId };
}

/** The columns of an upload of all channels of a world. */
export const columnsOf = ({ channelIds }: SignalWorld): { column: string; channelId: string }[] =>
  channelIds.map((channelId, index) => ({ column: `ch${index}`, channelId }));
