import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { Examination } from '../../examinations/examination.entity.js';
import { Inspection } from '../../inspections/inspection.entity.js';
import { examinationLook, inspectionLook } from '../../reinspections/looks.js';
import { SeamEvent } from '../../seam-events/seam-event.entity.js';
import { WeldProcedureVersion } from '../../weld-procedures/weld-procedure.entity.js';
import { seamWords, stopWords, weldedSince } from './seam-parameters.js';
import type { WordOnPipe } from './word-on-pipe.js';

const at = (hour: number): string => `2026-03-02T${String(hour).padStart(2, '0')}:00:00.000000Z`;
const event = (kind: SeamEvent['event'], hour: number, atMm: number, changes: Partial<SeamEvent> = {}): SeamEvent => Object.assign(new SeamEvent(), {
  id: `${kind} ${hour}`, version: 1, event: kind, span: { fromMm: atMm, toMm: atMm + 1 }, observedAt: at(hour), enteredAt: at(hour), weldProcedureId: 'procedure',
  readings: [{ variable: 'power', printed: '182', unit: 'kW', instrumentId: 'meter' }], cause: kind === 'stop' ? 'strip caught' : null,
}, changes);
const procedure = (changes: Partial<WeldProcedureVersion> = {}): WeldProcedureVersion => Object.assign(new WeldProcedureVersion(), {
  id: 'procedure', version: 1, number: 'WPS-5', revision: 2, purpose: 'seam', process: '74', effectiveFrom: '2026-03-02', state: 'active',
  ranges: [{ variable: 'power', min: '170', max: '182', unit: 'kW' }], lists: [], test: { number: 'T', standard: 'S', testedOn: '2026-01-01', examiner: 'E' },
}, changes);

const pieces = (on: IntervalSet): string => on.intervals.map(({ fromMm, toMm }) => `${fromMm}-${toMm}`).join();
const shown = (words: readonly WordOnPipe[]): string[] => words.map(({ says, on }) => `${says} ${pieces(on)}`);
const welded = (...events: readonly SeamEvent[]): string[] => weldedSince(events, 1000).map((one) => `${one.event.event} ${pieces(one.on)}`);

describe('pipe welded since an event', () => {
  test('ends at the next event, and there is none after a stop until the line is said to run', () => {
    expect(welded(event('start', 8, 0), event('set-up-change', 9, 300), event('stop', 10, 500), event('restart', 11, 520))).toEqual(['start 0-300', 'set-up-change 300-500', 'stop ', 'restart 520-1000']);
  });

  test('is none since a change of set-up while the line stood: nobody recorded that it ran', () => {
    expect(welded(event('start', 8, 0), event('stop', 9, 400), event('set-up-change', 10, 400), event('restart', 11, 600))).toEqual(['start 0-400', 'stop ', 'set-up-change ', 'restart 600-1000']);
  });

  test('is none before the first event, and none of two at one place', () => {
    expect(welded(event('set-up-change', 8, 100), event('restart', 9, 100))).toEqual(['set-up-change ', 'restart 100-1000']);
    expect(weldedSince([], 1000)).toEqual([]);
  });
});

describe('the seam weld held against its procedure', () => {
  const words = (seam: SeamEvent, by = procedure(), instant = seam.observedAt): WordOnPipe[] =>
    seamWords({ event: seam, on: IntervalSet.of({ fromMm: 0, toMm: 300 }) }, by, { instant, offsetMinutes: 0 });
  const power = (printed: string): Partial<SeamEvent> => ({ readings: [{ variable: 'power', printed, unit: 'kW', instrumentId: 'meter' }] });

  test('is confirmed at its very limits, and failed beyond', () => {
    expect(shown(words(event('start', 8, 0)))).toEqual(['confirmed 0-300']);
    expect(shown(words(event('start', 8, 0, power('182.1'))))).toEqual(['failed 0-300']);
    expect(words(event('start', 8, 0, power('182.1')))[0]?.because).toContain('readings[0].printed is 182.1 kW; asked for: power: 170 to 182 kW');
  });

  test('is suspect where what is asked for was not reported', () => {
    expect(shown(words(event('restart', 8, 0, { readings: [] })))).toEqual(['suspect 0-300']);
  });

  test('is suspect by a procedure of another purpose, not in force yet, withdrawn, or never tested', () => {
    expect(shown(words(event('start', 8, 0), procedure({ purpose: 'splice' })))).toEqual(['suspect 0-300']);
    expect(shown(words(event('start', 8, 0), procedure({ effectiveFrom: '2026-03-03' })))).toEqual(['suspect 0-300']);
    expect(shown(words(event('start', 8, 0), procedure({ state: 'void' })))).toEqual(['suspect 0-300']);
    expect(shown(words(event('start', 8, 0), procedure({ test: null })))).toEqual(['suspect 0-300']);
  });

  test('goes by the local day of the site', () => {
    const late = event('start', 8, 0, { observedAt: '2026-03-01T23:30:00.000000Z' });
    const on = IntervalSet.of({ fromMm: 0, toMm: 300 });
    expect(shown(seamWords({ event: late, on }, procedure(), { instant: late.observedAt, offsetMinutes: 60 }))).toEqual(['confirmed 0-300']);
    expect(shown(seamWords({ event: late, on }, procedure(), { instant: late.observedAt, offsetMinutes: 0 }))).toEqual(['suspect 0-300']);
  });

  test('is never confirmed by a procedure without a range', () => {
    expect(shown(words(event('start', 8, 0), procedure({ ranges: [], lists: [{ choice: 'material', allowed: ['A'] }] })))).toEqual(['suspect 0-300']);
  });

  test('says both what is outside and what is open, and names its records', () => {
    const [failed, suspect] = words(event('start', 8, 0, power('200')), procedure({ purpose: 'repair' }));
    expect([failed?.says, suspect?.says]).toEqual(['failed', 'suspect']);
    expect(failed?.records.map(({ kind, id }) => `${kind} ${id}`)).toEqual(['seam-event start 8', 'weld-procedure procedure']);
    expect(failed?.enteredAt).toEqual([at(8)]);
  });
});

describe('pipe that stood at the weld point when the line stopped', () => {
  const stop = { event: event('stop', 10, 500), on: IntervalSet.of({ fromMm: 490, toMm: 511 }) };
  const examined = (hour: number, fromMm: number, toMm: number, outcome: Examination['outcome'] = 'accepted'): Examination => Object.assign(new Examination(), {
    id: `examination ${hour}`, version: 1, method: 'UT', technique: 'UT-1', reflector: null, reflectorSizeMm: null, outcome, standsInFor: [], standInReason: null, rejoinId: null,
    span: { fromMm, toMm }, observedAt: at(hour), doneBy: 'examiner',
  });
  const inspected = (kind: Inspection['kind'], hour: number): Inspection => Object.assign(new Inspection(), {
    id: `inspection ${hour}`, version: 1, kind, characteristic: 'seam', verdict: 'accepted', span: { fromMm: 400, toMm: 600 }, observedAt: at(hour), doneBy: 'inspector',
  });
  const said = (...rows: readonly Examination[]): string[] => shown(stopWords([stop], rows.map((row) => examinationLook(row, new Map()))));

  test('is in doubt, and says why the line stopped', () => {
    expect(said()).toEqual(['suspect 490-511']);
    expect(stopWords([stop], [])[0]?.because).toBe(`the seam weld stopped here at ${at(10)}: strip caught; no look that was accepted since covers it`);
  });

  test('is in doubt no more once one look made later accepts all of it', () => {
    expect(said(examined(11, 490, 511))).toEqual([]);
    expect(said(examined(11, 491, 511))).toEqual(['suspect 490-511']);
    expect(said(examined(11, 490, 500), examined(12, 500, 511))).toEqual(['suspect 490-511']);
  });

  test('is not cleared by a look before, or at the very instant of the stop', () => {
    expect(said(examined(9, 400, 600))).toEqual(['suspect 490-511']);
    expect(said(examined(10, 400, 600))).toEqual(['suspect 490-511']);
  });

  test('is cleared by eye, not by a measured dimension', () => {
    expect(shown(stopWords([stop], [inspectionLook(inspected('visual', 11))]))).toEqual([]);
    expect(shown(stopWords([stop], [inspectionLook(inspected('dimensional', 11))]))).toEqual(['suspect 490-511']);
  });

  test('stays in doubt where one look turns it down, whatever another says', () => {
    expect(said(examined(11, 400, 600), examined(12, 505, 506, 'rejected'))).toEqual(['suspect 490-511']);
    expect(said(examined(11, 505, 506, 'rejected'), examined(12, 400, 600))).toEqual(['suspect 490-511']);
    expect(said(examined(11, 600, 700, 'rejected'), examined(12, 400, 600))).toEqual([]);
  });

  test('says nothing once all of it was cut out', () => {
    expect(stopWords([{ ...stop, on: IntervalSet.empty }], [])).toEqual([]);
  });
});
