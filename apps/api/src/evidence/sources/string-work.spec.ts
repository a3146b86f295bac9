import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { Examination } from '../../examinations/examination.entity.js';
import { IndicationEvaluation } from '../../indication-evaluations/indication-evaluation.entity.js';
import { Indication } from '../../indications/indication.entity.js';
import { Inspection } from '../../inspections/inspection.entity.js';
import { Rejoin } from '../../rejoins/rejoin.entity.js';
import { SeamEvent } from '../../seam-events/seam-event.entity.js';
import { SpliceVersion } from '../../splices/splice.entity.js';
import { WeldProcedureVersion } from '../../weld-procedures/weld-procedure.entity.js';
import { Weld } from '../../welds/weld.entity.js';
import { inspected, workOnPipe, type WorkOnPipe, type WorkRows } from './string-work.js';

const at = (hour: number): string => `2026-03-02T${String(hour).padStart(2, '0')}:00:00.000000Z`;
const common = (id: string, hour = 8): object => ({ id, version: 1, observedAt: at(hour), enteredAt: at(hour), doneBy: `by ${id}`, state: 'active' });

const ground = {
  pipe: IntervalSet.of({ fromMm: 0, toMm: 1000 }), splices: [Object.assign(new SpliceVersion(), { id: 'splice', span: { fromMm: 400, toMm: 420 } })],
  rejoins: [Object.assign(new Rejoin(), { id: 'rejoin', cutOutId: 'cut' })], model: { records: { cutOuts: [{ id: 'cut', span: { fromMm: 700, toMm: 720 } }] } },
};
const NONE: WorkRows = { examinations: [], welds: [], steps: [], events: [], repairs: [], evaluations: [], indications: new Map(), procedures: new Map() };
const PROCEDURES = new Map([['procedure', Object.assign(new WeldProcedureVersion(), { id: 'procedure', process: '74' })]]);

const text = ({ record, on, parts, readings }: WorkOnPipe): string =>
  `${record.kind} ${on.intervals.map(({ fromMm, toMm }) => `${fromMm}-${toMm}`).join()} ${parts.map(({ work }) => work?.method ?? '-').join()} ${readings.map(({ instrumentId }) => instrumentId ?? '-').join()}`;
const shown = (rows: Partial<WorkRows>): string[] => workOnPipe({ ...NONE, procedures: PROCEDURES, ...rows }, ground).map(text);

const weld = (changes: Partial<Weld>): Weld => Object.assign(new Weld(), common('weld'), { spliceId: null, rejoinId: null, weldProcedureId: 'procedure', chosen: [], readings: [{ variable: 'power', printed: '1', unit: 'kW', instrumentId: 'meter' }] }, changes);
const event = (kind: SeamEvent['event'], hour: number, atMm: number): SeamEvent =>
  Object.assign(new SeamEvent(), common(kind, hour), { event: kind, span: { fromMm: atMm, toMm: atMm + 1 }, weldProcedureId: 'procedure', readings: [] });

describe('work on the pipe of a string', () => {
  test('that welded is of the whole splice, or of both ends of a joint; of a splice that was withdrawn it is nowhere', () => {
    expect(shown({ welds: [weld({ spliceId: 'splice' })] })).toEqual(['weld 400-420 74 meter']);
    expect(shown({ welds: [weld({ rejoinId: 'rejoin' })] })).toEqual(['weld 699-721 74 meter']);
    expect(shown({ welds: [weld({ spliceId: 'withdrawn' })] })).toEqual([]);
  });

  test('at the seam is of the pipe welded since, and of a stop only where it was', () => {
    expect(shown({ events: [event('start', 8, 0), event('stop', 9, 500), event('restart', 10, 500)] })).toEqual(['seam-event 0-500 74 ', 'seam-event 500-501 74 ', 'seam-event 500-1000 74 ']);
  });

  test('that examined at a joint is of all of it', () => {
    const row = Object.assign(new Examination(), common('e'), {
      method: 'UT', technique: 'UT-1', reflector: null, reflectorSizeMm: null, outcome: 'accepted', standsInFor: [], standInReason: null, rejoinId: 'rejoin', instrumentId: 'set', span: { fromMm: 690, toMm: 700 },
    });
    expect(shown({ examinations: [row] })).toEqual(['examination 690-721 UT set']);
  });

  test('by eye has its method, and what was measured its instrument', () => {
    const row = (changes: Partial<Inspection>): Inspection => Object.assign(new Inspection(), common('i'), { characteristic: 'seam', surface: null, instrumentId: null, kind: 'visual', span: { fromMm: 10, toMm: 20 } }, changes);
    expect([row({}), row({ kind: 'dimensional' })].map(inspected).map(text)).toEqual(['inspection 10-20 VT ', 'inspection 10-20 - -']);
  });

  test('that evaluated an indication lies where that does; with what was measured of it read by an instrument or none', () => {
    const indications = (state: 'active' | 'void') => new Map([['i', Object.assign(new Indication(), { id: 'i', span: { fromMm: 30, toMm: 40 }, method: 'ET', state })]]);
    const row = (changes: Partial<IndicationEvaluation>): IndicationEvaluation => Object.assign(
      new IndicationEvaluation(), common('v'), { indicationId: 'i', method: null, technique: null, level: '2', verdict: 'accept', instrumentId: null, measuredDepthMm: null, measuredLengthMm: null, remainingWallMm: null }, changes,
    );
    expect(shown({ evaluations: [row({}), row({ measuredDepthMm: '0.3' })], indications: indications('active') })).toEqual(['indication-evaluation 30-40 ET ', 'indication-evaluation 30-40 ET -']);
    expect(shown({ evaluations: [row({})], indications: indications('void') })).toEqual([]);
  });
});
