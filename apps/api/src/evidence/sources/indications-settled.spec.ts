import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { Channel } from '../../channels/channel.entity.js';
import { Detection } from '../../detections/detection.entity.js';
import { IndicationEvaluation } from '../../indication-evaluations/indication-evaluation.entity.js';
import { openOfIndication } from '../../indication-evaluations/standing-evaluation.js';
import { IndicationRuleVersion } from '../../indication-rules/indication-rule.entity.js';
import { Indication } from '../../indications/indication.entity.js';
import { SignalMark } from '../../signal-marks/signal-mark.entity.js';
import { lookedWords, openIndicationWords, type LookedDetection } from './indications-settled.js';
import type { WordOnPipe } from './word-on-pipe.js';

const at = (hour: number): string => `2026-03-02T${String(hour).padStart(2, '0')}:00:00.000000Z`;
const shown = (words: readonly WordOnPipe[]): string[] =>
  words.map(({ says, on, records }) => `${says} ${on.intervals.map(({ fromMm, toMm }) => `${fromMm}-${toMm}`).join()} ${records.map(({ id }) => id).join()}`);

describe('an indication that is open', () => {
  const indication = Object.assign(new Indication(), { id: 'i1', version: 1, span: { fromMm: 100, toMm: 140 }, imperfection: null, method: 'ET', peak: '71', peakUnit: '%', peakIsBound: false, enteredAt: at(9) });
  const evaluated = (id: string, hour: number, verdict: IndicationEvaluation['verdict'], changes: Partial<IndicationEvaluation> = {}): IndicationEvaluation => Object.assign(
    new IndicationEvaluation(), { id, version: 1, verdict, relevant: true, observedAt: at(hour), enteredAt: at(hour), repairId: null, cutOutId: null }, changes,
  );
  const said = (...evaluations: readonly IndicationEvaluation[]): string[] => {
    const because = openOfIndication(evaluations);
    return shown(openIndicationWords(because === null ? [] : [{ row: indication, because, evaluations }]));
  };

  test('is doubt while nobody evaluated it, or while it is held or to be inspected again', () => {
    expect(said()).toEqual(['suspect 100-140 i1']);
    expect(openIndicationWords([{ row: indication, because: 'nobody evaluated it', evaluations: [] }])[0]?.because).toContain('found, and settled by nobody');
    expect(said(evaluated('e1', 10, 'hold'))).toEqual(['suspect 100-140 i1,e1']);
    expect(said(evaluated('e1', 10, 're-inspect'))).toEqual(['suspect 100-140 i1,e1']);
  });

  test('is bad pipe while it is to be repaired or cut out and that was not done; done, it says nothing', () => {
    expect(said(evaluated('e1', 10, 'repair'))).toEqual(['failed 100-140 i1,e1']);
    expect(said(evaluated('e1', 10, 'cut-out'))).toEqual(['failed 100-140 i1,e1']);
    expect(said(evaluated('e1', 10, 'repair', { repairId: 'r1' }))).toEqual([]);
    expect(said(evaluated('e1', 10, 'cut-out', { cutOutId: 'c1' }))).toEqual([]);
  });

  test('goes by the last evaluation, and of two at one instant by the one that rejects', () => {
    expect(said(evaluated('e1', 10, 'repair'), evaluated('e2', 11, 'accept'))).toEqual([]);
    expect(said(evaluated('e1', 10, 'accept'), evaluated('e2', 11, 'hold'))).toEqual(['suspect 100-140 i1,e1,e2']);
    expect(said(evaluated('e1', 11, 'accept'), evaluated('e2', 11, 'repair'))).toEqual(['failed 100-140 i1,e1,e2']);
  });
});

describe('pipe that detections looked at', () => {
  const channel = (id: string, changes: Partial<Channel> = {}): Channel => Object.assign(new Channel(), { id, name: id, required: true, measures: 'eddy-current-amplitude' }, changes);
  const rule = Object.assign(new IndicationRuleVersion(), { id: 'rule', version: 1, name: 'IR', revision: '1' });
  const detection = (id: string, hour: number, ...runs: readonly [string, number, number][]): LookedDetection => ({
    detection: Object.assign(new Detection(), { id, version: 1, observedAt: at(hour), enteredAt: at(hour), fromMm: null, toMm: null, foundCount: 0, openedCount: 0 }), rule,
    runs: runs.map(([channelId, fromMm, toMm]) => ({ channelId, runId: `run ${channelId}`, pipe: IntervalSet.of({ fromMm, toMm }) })),
  });
  const mark = (channelId: string, fromMm: number, toMm: number, effect: SignalMark['effect'] = 'not-valid'): SignalMark =>
    Object.assign(new SignalMark(), { runId: `run ${channelId}`, channelIds: [channelId], effect, span: { fromMm, toMm } });
  const both = [channel('ET'), channel('UT', { measures: 'ultrasonic-amplitude' })];

  test('is confirmed where each required channel was looked at, be it by two detections', () => {
    expect(shown(lookedWords([detection('d1', 10, ['ET', 0, 500], ['UT', 100, 400])], both, []))).toEqual(['confirmed 100-400 d1,rule']);
    expect(shown(lookedWords([detection('d1', 10, ['ET', 0, 500]), detection('d2', 11, ['UT', 100, 400])], both, []))).toEqual(['confirmed 100-400 d1,rule,d2']);
  });

  test('is not confirmed where one of them was never looked at', () => {
    expect(lookedWords([detection('d1', 10, ['ET', 0, 500])], both, [])).toEqual([]);
    expect(lookedWords([], both, [])).toEqual([]);
  });

  test('goes by required channels of an amplitude alone; without any, by whatever was looked at', () => {
    const wall = channel('WT', { measures: 'wall-thickness' });
    expect(shown(lookedWords([detection('d1', 10, ['ET', 0, 500])], [channel('ET'), wall, channel('UT', { required: false })], []))).toEqual(['confirmed 0-500 d1,rule']);
    expect(shown(lookedWords([detection('d1', 10, ['WT', 0, 500])], [wall], []))).toEqual(['confirmed 0-500 d1,rule']);
  });

  test('is not what a mark says by now was not valid, of that channel and run', () => {
    const looked = [detection('d1', 10, ['ET', 0, 500])];
    expect(shown(lookedWords(looked, [channel('ET')], [mark('ET', 200, 210), mark('UT', 300, 310), mark('ET', 400, 410, 'excluded')]))).toEqual(['confirmed 0-200,210-500 d1,rule']);
  });

  test('was looked at when the first detection did', () => {
    const words = lookedWords([detection('d2', 14, ['ET', 0, 500]), detection('d1', 10, ['ET', 0, 300])], [channel('ET')], []);
    expect(shown(words)).toEqual(['confirmed 0-300 d1,rule', 'confirmed 300-500 d2,rule']);
    expect(words.map(({ enteredAt }) => enteredAt)).toEqual([[at(10)], [at(14)]]);
  });
});
