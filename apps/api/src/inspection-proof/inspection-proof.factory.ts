import { interval, IntervalSet } from '#libs/intervals';
import { instantOf, microseconds } from '#libs/persistence';
import { Channel } from '../channels/channel.entity.js';
import { InspectionRun } from '../inspection-runs/inspection-run.entity.js';
import { LineSetup } from '../line/line-setup.entity.js';
import { ReferenceCheck } from '../reference-checks/reference-check.entity.js';
import { SignalMark } from '../signal-marks/signal-mark.entity.js';
import type { Track } from './channel-proof.js';

/** Minutes after eight in the morning of the demo's first day. */
export const at = (minute: number): string => instantOf(atUs(minute));
export const atUs = (minute: number): number => microseconds('2026-03-02T08:00:00.000000Z') + minute * 60_000_000;

export const channel = (changes: Partial<Channel> = {}): Channel => Object.assign(new Channel(), {
  id: 'channel', name: 'ET-1', unit: '%', threshold: { sense: 'above', level: '60' }, repeats: 'best', checkEveryMinutes: 240, checkGraceMinutes: 0, checkRuleSource: null, station: null,
}, changes);

export const run = (id: string, fromMinute: number, toMinute: number | null, changes: Partial<InspectionRun> = {}): InspectionRun => Object.assign(new InspectionRun(), {
  id, observedAt: at(fromMinute), endedAt: toMinute === null ? null : at(toMinute), channelIds: ['channel'], settings: [], standardId: 'standard', doneBy: 'operator', version: 1,
}, changes);

/** A run's samples, one millimetre of pipe a sample, read without a break. */
export const track = (runId: string, fromMinute: number, toMinute: number, fromMm: number, toMm: number, read?: IntervalSet): Track => ({
  runId, pieces: [{ fromUs: atUs(fromMinute), toUs: atUs(toMinute), fromMm, toMm }], read: read ?? IntervalSet.of(interval(Math.min(fromMm, toMm), Math.max(fromMm, toMm))),
});

/** A check of each channel named; `amplitude` is held against 60. */
export const check = (minute: number, amplitude: string, changes: Partial<ReferenceCheck> & { readonly channels?: readonly string[] } = {}): ReferenceCheck => {
  const { channels = ['channel'], ...columns } = changes;
  return Object.assign(new ReferenceCheck(), {
    id: `check ${minute}`, observedAt: at(minute), stringId: 'string', standardId: 'standard', doneBy: 'operator', occasion: 'interval', mode: 'dynamic', voidReason: null, action: null,
    span: { fromMm: 0, toMm: 1 }, version: 1, results: channels.map((channelId) => ({ channelId, reflector: 'N10', size: null, amplitude, threshold: '60', sense: 'above' })),
  }, columns);
};

export const mark = (fromMm: number, toMm: number, changes: Partial<SignalMark> = {}): SignalMark => Object.assign(new SignalMark(), {
  runId: 'run', channelIds: ['channel'], effect: 'not-valid', span: { fromMm, toMm },
}, changes);

export const setup = (minute: number): LineSetup => Object.assign(new LineSetup(), { id: `setup ${minute}`, observedAt: at(minute), version: 1 });
