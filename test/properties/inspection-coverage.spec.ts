import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { interval, IntervalSet } from '#libs/intervals';
import { netLengthMap, type CutOut } from '#libs/length';
import { instantOf } from '#libs/persistence';
import type { Channel } from '../../apps/api/src/channels/channel.entity.js';
import { coveredPipe, validGoes } from '../../apps/api/src/inspection-coverage/channel-coverage.js';
import { coveredJoint } from '../../apps/api/src/inspection-coverage/joint-coverage.js';
import { pipeSoFar } from '../../apps/api/src/inspection-coverage/passed-pipe.js';
import { LineKnowledge } from '../../apps/api/src/line/line-knowledge.js';
import { aCutOut } from '../fixtures/string-lengths.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { plainJoint, plainMade, plainPassed, type PlainHistory } from './inspection-coverage.reference.js';

const RUNS = 300;
const [ID, RUN] = ['channel', 'run'];

interface Drawn {
  readonly history: PlainHistory;
  readonly goes: readonly { readonly fromUs: number; readonly read: readonly (readonly [number, number])[] }[];
  readonly marks: readonly { readonly from: number; readonly to: number; readonly effect: 'not-valid' | 'excluded'; readonly own: boolean }[];
  readonly looks: readonly { readonly atUs: number; readonly from: number; readonly to: number; readonly method: 'UT' | 'ET'; readonly standsIn: boolean; readonly outcome: 'accepted' | 'held' | 'rejected' }[];
  readonly splices: readonly { readonly from: number; readonly to: number; readonly madeUs: number }[];
  readonly marginMm: number;
}

const span = (most: number) => fc.tuple(fc.nat({ max: most }), fc.integer({ min: 1, max: 40 })).map(([from, length]) => [from, from + length] as const);

/** Some three hundred millimetres of pipe, made by strokes forth and back, cut up to three times, with short looks at it. */
const drawn: fc.Arbitrary<Drawn> = fc.record({
  strokes: fc.array(fc.integer({ min: -40, max: 120 }), { minLength: 2, maxLength: 7 }), stationMm: fc.nat({ max: 60 }),
  cuts: fc.array(fc.record({ part: fc.nat({ max: 99 }), length: fc.integer({ min: 1, max: 20 }), step: fc.nat({ max: 6 }) }), { maxLength: 3 }),
  goes: fc.array(fc.record({ fromUs: fc.nat({ max: 700 }), read: fc.array(span(300), { minLength: 1, maxLength: 6 }) }), { maxLength: 4 }),
  marks: fc.array(fc.record({ at: span(300), effect: fc.constantFrom('not-valid' as const, 'excluded' as const), own: fc.boolean() }), { maxLength: 3 }),
  looks: fc.array(fc.record({
    atUs: fc.nat({ max: 700 }), at: fc.tuple(fc.nat({ max: 250 }), fc.integer({ min: 1, max: 200 })).map(([from, length]) => [from, from + length] as const), method: fc.constantFrom('UT' as const, 'ET' as const), standsIn: fc.boolean(), outcome: fc.constantFrom('accepted' as const, 'accepted' as const, 'held' as const, 'rejected' as const),
  }), { maxLength: 6 }),
  splices: fc.array(fc.record({ at: span(300), madeUs: fc.nat({ max: 300 }) }), { maxLength: 4 }), marginMm: fc.constantFrom(0, 5, 30),
}).map(({ strokes, stationMm, cuts, goes, marks, looks, splices, marginMm }) => {
  let weld = 0;
  const steps = [{ atUs: 0, weld }, ...strokes.map((stroke, index) => ({ atUs: (index + 1) * 100, weld: (weld = Math.max(0, weld + stroke)) }))];
  const taken: { from: number; to: number; atUs: number }[] = [];
  for (const { part, length, step } of cuts) {
    const { atUs } = steps[step % steps.length]!;
    const made = Math.max(...steps.filter((one) => one.atUs <= atUs).map((one) => one.weld));
    const from = Math.floor((made * part) / 100);
    const cut = { from, to: Math.min(from + length, made), atUs };
    if (cut.from < cut.to && taken.every((one) => one.to < cut.from || cut.to < one.from)) taken.push(cut);
  }
  return {
    history: { steps, cuts: taken, stationMm }, goes, marks: marks.map(({ at, ...rest }) => ({ from: at[0], to: at[1], ...rest })),
    looks: looks.map(({ at, ...rest }) => ({ from: at[0], to: at[1], ...rest })), splices: splices.map(({ at, madeUs }) => ({ from: at[0], to: at[1], madeUs })), marginMm,
  };
});

const range = (from: number, to: number): number[] => Array.from({ length: to - from }, (_, index) => from + index);
const cells = (set: IntervalSet): number[] => set.intervals.flatMap(({ fromMm, toMm }) => range(fromMm, toMm));

function known({ history: { steps, cuts, stationMm }, goes, marks, marginMm }: Drawn) {
  const cutOuts: CutOut[] = cuts.map(({ from, to, atUs }) => aCutOut(from, to, atUs));
  const setups = [{ id: 'setup', validFrom: instantOf(-1), stations: [{ name: 'head', role: null, path: { minMm: stationMm, maxMm: stationMm, uMm: 0 } }] }];
  const line = new LineKnowledge({ masterCounter: 'master', periods: [], setups, cutOuts });
  const log = { timesUs: steps.map(({ atUs }) => atUs), footagesMm: steps.map(({ weld }) => weld) };
  const tracks = goes.map(({ fromUs, read }) => ({ runId: RUN, pieces: [{ fromUs, toUs: fromUs + 1, fromMm: 0, toMm: 1 }], read: IntervalSet.from(read.map(([from, to]) => interval(from, to))) }));
  const marked = marks.map(({ from, to, effect, own }) => ({ runId: RUN, channelIds: [own ? ID : 'another'], effect, span: interval(from, to) }));
  const channel = { id: ID, method: 'UT', spliceMarginMm: marginMm } as Channel;
  return {
    coverage: { channel, soFar: pipeSoFar(line, 'master', log, 'head'), goes: validGoes(ID, tracks, marked) }, net: netLengthMap(cutOuts), cutOut: IntervalSet.from(cutOuts),
  };
}

/** What each go read, less what marks of the channel say is not valid. */
const plainGoes = ({ goes, marks }: Drawn) => goes.map(({ fromUs, read }) => ({
  fromUs, read: read.flatMap(([from, to]) => range(from, to)).filter((mm) => !marks.some(({ from, to, effect, own }) => own && effect === 'not-valid' && from <= mm && mm < to)),
}));

describe('coverage of the pipe', () => {
  test('by a channel is what a line of millimetres gives: required, valid, gaps, and not yet due', () => {
    const reached = { gaps: 0, notYet: 0, cut: 0 };
    fc.assert(fc.property(drawn, (one) => {
      const { coverage, cutOut } = known(one);
      const { history } = one;
      const [made, passed] = [plainMade(history), plainPassed(history)];
      expect(coverage.soFar).toEqual({ madeMm: made, passedMm: passed });
      const standing = range(0, made).filter((mm) => !history.cuts.some(({ from, to }) => from <= mm && mm < to));
      const goes = plainGoes(one);
      const isRead = (mm: number): boolean => goes.some(({ read }) => read.includes(mm));
      const covered = coveredPipe(coverage, cutOut);
      expect(cells(covered.required)).toEqual(standing.filter((mm) => mm < passed));
      expect(cells(covered.valid)).toEqual(standing.filter((mm) => mm < passed && isRead(mm)));
      expect(cells(covered.gaps)).toEqual(standing.filter((mm) => mm < passed && !isRead(mm)));
      expect(cells(covered.notYet)).toEqual(standing.filter((mm) => mm >= passed));
      reached.gaps += covered.gaps.intervals.length;
      reached.notYet += covered.notYet.isEmpty ? 0 : 1;
      reached.cut += history.cuts.length;
    }), { numRuns: RUNS, ...seedFromEnvironment() });
    expect(Object.entries(reached).filter(([, count]) => count < 50)).toEqual([]);
  });

  test('at splices and re-joins is what a line of millimetres gives', () => {
    const reached = new Map<string, number>();
    fc.assert(fc.property(drawn, (one) => {
      const { coverage, net, cutOut } = known(one);
      const examinations = one.looks.map(({ atUs, from, to, method, standsIn, outcome }) => ({
        method, standsInFor: standsIn ? ['UT' as const] : [], outcome, observedAt: instantOf(atUs), span: interval(from, to),
      }));
      const looks = one.looks.map(({ atUs, from, to, method, standsIn, outcome }) => ({ atUs, from, to, fits: method === 'UT' || standsIn, accepted: outcome === 'accepted' }));
      const joints = [
        ...one.splices.map((splice) => ({ kind: 'splice' as const, ...splice })),
        ...one.history.cuts.map(({ from, to, atUs }) => ({ kind: 're-join' as const, from, to, madeUs: atUs })),
      ];
      for (const joint of joints) {
        const { kind, from, to, madeUs } = joint;
        const found = coveredJoint({ kind, madeUs, span: interval(from, to) }, coverage, { net, cutOut, examinations });
        const { zone, missing, state } = plainJoint(one.history, joint, one.marginMm, plainGoes(one), looks);
        expect([found.state, cells(found.zone), cells(found.missing)]).toEqual([state, zone, missing]);
        reached.set(`${kind} ${state}`, (reached.get(`${kind} ${state}`) ?? 0) + 1);
      }
    }), { numRuns: RUNS * 3, ...seedFromEnvironment() });
    const states = ['covered', 'covered-by-hand', 'missing', 'not-yet', 'cut-out'];
    const rare = ['splice', 're-join'].flatMap((kind) => states.map((state) => `${kind} ${state}`)).filter((one) => (reached.get(one) ?? 0) < (one === 'splice cut-out' ? 1 : 8));
    expect(rare).toEqual([]);
  });
});
