import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import { Channel } from '../../channels/channel.entity.js';
import { InspectionRun } from '../../inspection-runs/inspection-run.entity.js';
import { judgedQualification } from '../../qualified/judged-qualification.js';
import type { JudgedRow } from '../../qualified/qualified.service.js';
import { QualificationProof } from '../../qualification-proofs/qualification-proof.entity.js';
import { QualificationVersion } from '../../qualifications/qualification.entity.js';
import { peopleJudge, peopleOf, peopleWords, runWords, type ReadByRun } from './people-valid.js';
import type { DoneByPerson, WorkOnPipe } from './string-work.js';
import type { WordOnPipe } from './word-on-pipe.js';

const qualification = (changes: Partial<QualificationVersion> = {}, proofs: readonly QualificationProof[] = []): JudgedRow => {
  const row = Object.assign(new QualificationVersion(), {
    id: 'q1', version: 1, personId: 'p1', number: 'Q-1', methods: ['UT'], level: null, scope: [], startsOn: '2026-01-01', expiresOn: '2026-03-02', confirmEveryMonths: null, lateConfirmation: 'ends',
    visionEveryMonths: null, authorisationNeeded: false, enteredAt: '2026-01-05T08:00:00.000000Z',
  }, changes);
  return { row, qualification: judgedQualification(row, proofs) };
};
const withdrawal = (onDay: string): QualificationProof =>
  Object.assign(new QualificationProof(), { id: 'w1', personId: 'p1', qualificationId: 'q1', proof: 'withdrawal', onDay, untilDay: null, reasonGiven: 'fell short' });
const known = (rows: readonly JudgedRow[], offsetMinutes = 0) => ({
  judge: peopleJudge(new Map(rows.length === 0 ? [] : [['p1', rows]])), momentOf: (instant: string) => ({ instant, offsetMinutes }),
});

const ON = IntervalSet.of({ fromMm: 0, toMm: 100 });
const part = (changes: Partial<DoneByPerson> = {}): DoneByPerson => ({ personId: 'p1', isNamed: true, did: 'UT by UT-1', work: { method: 'UT', level: null, variables: [] }, ...changes });
const work = (observedAt: string, ...parts: readonly DoneByPerson[]): WorkOnPipe => ({
  record: { kind: 'examination', id: 'e1', version: 1, label: 'UT' }, on: ON, observedAt, enteredAt: '2026-03-04T08:00:00.000000Z', parts: parts.length === 0 ? [part()] : parts, readings: [],
});
const shown = (words: readonly WordOnPipe[]): string[] => words.map(({ says, records }) => `${says} ${records.map(({ id }) => id).join()}`);
const LAST_DAY = '2026-03-02T23:30:00.000000Z';

describe('who did a piece of work', () => {
  test('was qualified through the last local day, and not an hour later where that is another day', () => {
    expect(shown(peopleWords([work(LAST_DAY)], known([qualification()])))).toEqual(['confirmed e1,q1']);
    expect(shown(peopleWords([work(LAST_DAY)], known([qualification()], 60)))).toEqual(['suspect e1,q1']);
    expect(shown(peopleWords([work(LAST_DAY)], known([qualification({ expiresOn: '2026-03-01' })])))).toEqual(['suspect e1,q1']);
  });

  test('is in doubt without a qualification on record, and says so', () => {
    const [word] = peopleWords([work(LAST_DAY)], known([]));
    expect(word).toMatchObject({ says: 'suspect', because: 'UT by UT-1: the person has no qualification on record', records: [{ id: 'e1' }] });
  });

  test('is in doubt once the qualification was withdrawn from that day on', () => {
    expect(shown(peopleWords([work(LAST_DAY)], known([qualification({}, [withdrawal('2026-03-02')])])))).toEqual(['suspect e1,q1']);
    expect(shown(peopleWords([work(LAST_DAY)], known([qualification({}, [withdrawal('2026-03-03')])])))).toEqual(['confirmed e1,q1']);
  });

  test('is in doubt where the record names nobody, however well who did the whole was qualified', () => {
    expect(shown(peopleWords([work(LAST_DAY, part({ isNamed: false }))], known([qualification()])))).toEqual(['suspect e1,q1']);
  });

  test('is told of each part, and nothing of one without a method', () => {
    const words = peopleWords([work(LAST_DAY, part({ work: null }), part(), part({ work: { method: 'RT', level: null, variables: [] } }))], known([qualification()]));
    expect(shown(words)).toEqual(['confirmed e1,q1', 'suspect e1,q1']);
    expect(peopleOf([work(LAST_DAY, part({ work: null, personId: 'nobody' }), part())], [])).toEqual(['p1']);
  });

  test('is shown only once the qualification is on record too', () => {
    expect(peopleWords([work(LAST_DAY)], known([qualification()]))[0]?.enteredAt).toEqual(['2026-03-04T08:00:00.000000Z', '2026-01-05T08:00:00.000000Z']);
  });

  test('is judged once for all records of one day that ask for the same', () => {
    const judge = peopleJudge(new Map([['p1', [qualification()]]]));
    const moment = (instant: string) => ({ instant, offsetMinutes: 0 });
    const asked = { method: 'UT', level: null, variables: [{ name: 'technique', value: 'UT-1', unit: null }] };
    expect(judge('p1', asked, moment('2026-03-02T00:00:00.000000Z'))).toBe(judge('p1', { ...asked }, moment(LAST_DAY)));
    expect(judge('p1', asked, moment('2026-03-03T00:00:00.000000Z'))).not.toBe(judge('p1', asked, moment(LAST_DAY)));
    expect(judge('p1', asked, moment(LAST_DAY)).isCovered).toBe(true);
    expect(judge('p1', { ...asked, method: 'RT' }, moment(LAST_DAY)).isCovered).toBe(false);
  });
});

describe('who operated a run', () => {
  const run = Object.assign(new InspectionRun(), { id: 'run', version: 1, observedAt: '2026-03-02T08:00:00.000000Z', enteredAt: '2026-03-02T08:01:00.000000Z', doneBy: 'p1' });
  const channel = (method: Channel['method']): Channel => Object.assign(new Channel(), { id: 'ut', version: 1, name: 'UT-1', method, technique: null });
  const read = (from: string, to: string, method: Channel['method'] = 'UT', pipe = ON): ReadByRun => ({
    channel: channel(method), run, track: { pieces: [{ fromUs: microseconds(from), toUs: microseconds(to), fromMm: 0, toMm: 100 }], read: pipe },
  });
  const said = (one: ReadByRun): string[] => shown(runWords([one], known([qualification()])));

  test('has to be qualified from the day of the first sample to that of the last', () => {
    expect(said(read('2026-03-02T08:00:00.000000Z', '2026-03-02T23:59:59.000000Z'))).toEqual(['confirmed run,ut,q1']);
    expect(said(read('2026-03-02T08:00:00.000000Z', '2026-03-03T00:00:00.000000Z'))).toEqual(['suspect run,ut,q1']);
    expect(said(read('2025-12-31T23:00:00.000000Z', '2026-01-01T01:00:00.000000Z'))).toEqual(['suspect run,ut,q1']);
  });

  test('is asked of the pipe that was read, and not by a channel without a method', () => {
    const pipe = IntervalSet.of({ fromMm: 20, toMm: 40 });
    expect(runWords([read('2026-03-02T08:00:00.000000Z', '2026-03-02T09:00:00.000000Z', 'UT', pipe)], known([qualification()]))[0]?.on).toBe(pipe);
    expect(said(read('2026-03-02T08:00:00.000000Z', '2026-03-02T09:00:00.000000Z', null))).toEqual([]);
    expect(said(read('2026-03-02T08:00:00.000000Z', '2026-03-02T09:00:00.000000Z', 'UT', IntervalSet.empty))).toEqual([]);
  });
});
