import { v7 as uuidv7 } from 'uuid';
import { TEST_PASSWORD, type Answer, type SignedIn } from '../setup/api.js';
import { at, type Fields } from './line.factory.js';

export const reaction: Fields = { repeat: 'Read it again with the same gauge.', causes: ['gauge', 'strip edge'], adjust: 'Adjust after two signals.', decidedBy: 'Shift lead' };

/** A chart of single bead heights, but for what a test changes. */
export const controlChart = (stringId: string, changes: Fields = {}): Fields => ({
  stringId, observedAt: at('05:30'), code: 'BH-1', title: 'Bead height after trimming',
  characteristic: { of: 'inspected', name: 'bead height', channelIds: [], statistic: null, reflector: null, counters: [], windowMm: null }, unit: 'mm', subgroup: { size: 1, withinMm: 0, everyMm: 0 },
  leaveOut: { aroundSplicesMm: 0, aroundStopsMm: 0 }, chart: 'individuals', rules: ['one-beyond-3-sigma'], lambda: null, width: null, k: null, h: null, batchSize: null, alpha: null,
  specification: { lower: null, upper: '1.50', target: null, source: 'Pipe specification PS-4 rev 1, 6.2' }, reaction, note: null, ...changes,
});

export const beadHeight = (stringId: string, atMm: number, value: string, changes: Fields = {}): Fields => ({
  stringId, observedAt: at('10:00'), from: { footageMm: atMm }, to: { footageMm: atMm + 10 }, kind: 'dimensional', characteristic: 'bead height', value, unit: 'mm', verdict: 'accepted', ...changes,
});

export interface Removed {
  readonly fromMm: number;
  readonly toMm: number;
  readonly because: string;
}

/** Looks at the trial limits of some footage and signs them, but for what a test changes. */
export async function signLimits(signer: SignedIn, chartId: string, [fromMm, toMm]: readonly [number, number], changes: Fields = {}, removed: readonly Removed[] = []): Promise<Answer> {
  const without = removed.map((one) => `${one.fromMm / 1000}-${one.toMm / 1000}`).join();
  const trial = await signer.send('GET', `/api/control-charts/${chartId}/trial-limits?fromM=${fromMm / 1000}&toM=${toMm / 1000}${without === '' ? '' : `&removeM=${without}`}`);
  const warnings = (trial.body['warnings'] ?? []) as readonly unknown[];
  return signer.send('POST', '/api/chart-limits', {
    body: {
      id: uuidv7(), chartId, fromMm, toMm, appliesFromMm: toMm, removed: removed.map((one) => ({ ...one, label: null })), studySha256: trial.body['studySha256'],
      warningsAcceptedBecause: warnings.length === 0 ? null : 'Limits to begin with.', grounds: 'Looked at point by point.', secret: TEST_PASSWORD, ...changes,
    },
  });
}
