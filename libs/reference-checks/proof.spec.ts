import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { proofOf, type InspectionRun, type ReferenceCheck, type RepeatRule } from '#libs/reference-checks';
import { check, HOUR_US, run } from './reference-checks.factory.js';

const ASKED = IntervalSet.of(interval(0, 1000));

function told(runs: readonly InspectionRun[], checks: readonly ReferenceCheck[], repeats: RepeatRule = 'best') {
  const { confirmed, provisional, suspect, missing } = proofOf(runs, checks, repeats, ASKED);
  return [confirmed, provisional, suspect, missing].map((set) => set.toMultirange());
}

describe('the checks around an inspection', () => {
  test('confirm what lies between two that passed; what came later is provisional', () => {
    expect(told([run(0, 10, 0, 1000)], [check(0), check(4)])).toEqual(['{[0,400)}', '{[400,1000)}', '{}', '{}']);
    expect(told([run(0, 10, 0, 1000)], [check(0), check(4), check(10)])).toEqual(['{[0,1000)}', '{}', '{}', '{}']);
  });

  test('turn all back to the last good one suspect when one failed, and all after it until the next good one', () => {
    const checks = [check(0), check(4), check(6, 'failed'), check(8)];
    expect(told([run(0, 10, 0, 1000)], checks)).toEqual(['{[0,400)}', '{[800,1000)}', '{[400,800)}', '{}']);
    expect(told([run(0, 10, 0, 1000)], checks.slice(0, 3))).toEqual(['{[0,400)}', '{}', '{[400,1000)}', '{}']);
  });

  test('say which they are', () => {
    const { stretches } = proofOf([run(0, 10, 0, 1000)], [check(0), check(4), check(6, 'failed')], 'best', ASKED);
    expect(stretches.map(({ fromMm, toMm, state, counts }) => [fromMm, toMm, state, counts?.bracket.reason, counts?.bracket.before.map(({ id }) => id), counts?.bracket.after.map(({ id }) => id)])).toEqual([
      [0, 400, 'confirmed', 'passed-before-and-after', ['check 0'], ['check 4']],
      [400, 600, 'suspect', 'failed-after', ['check 4'], ['check 6']],
      [600, 1000, 'suspect', 'failed-before', ['check 6'], []],
    ]);
  });

  test('at the very instant at which a run begins or ends are before and after all of it', () => {
    expect(told([run(2, 4, 0, 1000)], [check(2), check(4)])).toEqual(['{[0,1000)}', '{}', '{}', '{}']);
    expect(told([run(2, 4, 0, 1000)], [check(2, 'failed'), check(4)])).toEqual(['{}', '{}', '{[0,1000)}', '{}']);
    const [first, second] = [run(0, 2, 0, 500), run(2, 4, 500, 1000)];
    expect(told([first, second], [check(0), check(2), check(4, 'failed')])).toEqual(['{[0,500)}', '{}', '{[500,1000)}', '{}']);
  });

  test('leave suspect what came before the first of them, and all where there is none', () => {
    expect(told([run(0, 10, 0, 1000)], [check(5)])).toEqual(['{}', '{[500,1000)}', '{[0,500)}', '{}']);
    const { stretches } = proofOf([run(0, 10, 0, 1000)], [], 'best', ASKED);
    expect(stretches.map(({ state, counts }) => [state, counts?.bracket.reason])).toEqual([['suspect', 'none-before']]);
  });

  test('count for nothing when void: neither do they close a bracket nor open one', () => {
    expect(told([run(0, 10, 0, 1000)], [check(0), check(4, 'void'), check(5, 'void')])).toEqual(['{}', '{[0,1000)}', '{}', '{}']);
    expect(told([run(0, 10, 0, 1000)], [check(0), check(4, 'failed'), check(5, 'void'), check(10)])).toEqual(['{}', '{}', '{[0,1000)}', '{}']);
  });

  test('of one instant with two results: the one that failed counts, whichever came in first', () => {
    const two = [check(4, 'passed', 'a'), check(4, 'failed', 'b')];
    for (const pair of [two, two.toReversed()]) expect(told([run(0, 8, 0, 1000)], [check(0), ...pair, check(8)])).toEqual(['{}', '{}', '{[0,1000)}', '{}']);
    const { stretches } = proofOf([run(0, 8, 0, 1000)], [check(0), ...two], 'best', ASKED);
    expect(stretches[0]?.counts?.bracket.after.map(({ id }) => id)).toEqual(['a', 'b']);
  });

  test('within a millimetre: it counts for the worse side', () => {
    expect(told([run(0, 3, 0, 1000)], [check(0), check(1), check(2), check(3, 'failed')])).toEqual(['{[0,666)}', '{}', '{[666,1000)}', '{}']);
    expect(told([run(0, 3, 1000, 0)], [check(0), check(1, 'failed'), check(2), check(3)])).toEqual(['{[0,333)}', '{}', '{[333,1000)}', '{}']);
  });

  test('are told apart to the microsecond however long a run took', () => {
    const [fromUs, lastedUs] = [1_600_000_000_000_000, 900_719_925_474_099];
    const long = run(0, 0, 0, 0, { pieces: [{ fromUs, toUs: fromUs + lastedUs, fromMm: 0, toMm: 1000 }] });
    // 333 mm were reached 0.967 of a microsecond after this instant.
    const justBeforeUs = fromUs + Number((BigInt(lastedUs) * 333n) / 1000n);
    const [opening, closing] = [{ ...check(0), atUs: fromUs }, { ...check(2, 'failed'), atUs: fromUs + lastedUs }];
    expect(told([long], [opening, { ...check(1), atUs: justBeforeUs + 1 }, closing])).toEqual(['{[0,333)}', '{}', '{[333,1000)}', '{}']);
    expect(told([long], [opening, { ...check(1), atUs: justBeforeUs }, closing])).toEqual(['{[0,332)}', '{}', '{[332,1000)}', '{}']);
  });

  test('around footage of which one instant is known: a check at it counts for the worse side', () => {
    const still = run(4, 4, 0, 1000);
    expect(told([still], [check(0), check(4), check(8)])).toEqual(['{[0,1000)}', '{}', '{}', '{}']);
    expect(told([still], [check(0), check(4)])).toEqual(['{}', '{[0,1000)}', '{}', '{}']);
    expect(told([still], [check(0), check(5)])).toEqual(['{[0,1000)}', '{}', '{}', '{}']);
  });
});

describe('pipe', () => {
  test('that was not inspected, or not validly, is missing', () => {
    const partly = run(0, 4, 0, 800, { valid: IntervalSet.of(interval(0, 300), interval(400, 900)) });
    const proof = proofOf([partly], [check(0), check(4)], 'best', ASKED);
    expect([proof.confirmed.toMultirange(), proof.missing.toMultirange()]).toEqual(['{[0,300),[400,800)}', '{[300,400),[800,1000)}']);
    expect(proof.stretches.filter(({ counts }) => counts === null).map(({ fromMm, toMm, others }) => [fromMm, toMm, others])).toEqual([[300, 400, []], [800, 1000, []]]);
  });

  test('over which the line stood is not thereby inspected', () => {
    expect(told([run(0, 4, 500, 500)], [check(0), check(4)])).toEqual(['{}', '{}', '{}', '{[0,1000)}']);
  });

  const good = run(0, 4, 0, 1000);
  const doubtful = run(5, 6, 0, 600);
  const checks = [check(0), check(4), check(6, 'failed')];

  test('inspected again: the best look counts, or the latest, and the other is kept', () => {
    expect(told([good, doubtful], checks, 'best')).toEqual(['{[0,1000)}', '{}', '{}', '{}']);
    expect(told([good, doubtful], checks, 'latest')).toEqual(['{[600,1000)}', '{}', '{[0,600)}', '{}']);
    const { stretches } = proofOf([doubtful, good], checks, 'latest', ASKED);
    expect(stretches.map(({ counts, others }) => [counts?.run.id, others.map(({ run: { id } }) => id)])).toEqual([['run 5', ['run 0']], ['run 0', []]]);
  });

  test('inspected again as well as before: the latest look counts', () => {
    const { stretches } = proofOf([run(5, 6, 0, 600), good], [check(0), check(4), check(6)], 'best', ASKED);
    expect(stretches.map(({ state, counts }) => [state, counts?.run.id])).toEqual([['confirmed', 'run 5'], ['confirmed', 'run 0']]);
  });

  test('read again on a reversal has a look for each way, though the run is one', () => {
    const pieces = [{ fromMm: 0, toMm: 500 }, { fromMm: 500, toMm: 300 }, { fromMm: 300, toMm: 1000 }]
      .map((piece, hour) => ({ ...piece, fromUs: hour * HOUR_US, toUs: (hour + 1) * HOUR_US }));
    const { stretches } = proofOf([run(0, 0, 0, 0, { pieces: pieces.toReversed() })], [check(0), check(3)], 'best', ASKED);
    expect(stretches.map(({ fromMm, toMm, counts, others }) => [fromMm, toMm, (counts?.fromUs ?? 0) / HOUR_US, others.map(({ fromUs }) => fromUs / HOUR_US)]))
      .toEqual([[0, 300, 0, []], [300, 500, 2, [0, 1]], [500, 1000, 2, []]]);
  });

  test('read in pieces one after the other is one look, and read again the same way two', () => {
    const inPieces = (secondFromMm: number) => run(0, 0, 0, 0, { pieces: [
      { fromUs: 0, toUs: HOUR_US, fromMm: 0, toMm: 500 }, { fromUs: HOUR_US, toUs: 2 * HOUR_US, fromMm: secondFromMm, toMm: 1000 },
    ] });
    const lookedAt = (secondFromMm: number) => proofOf([inPieces(secondFromMm)], [check(0), check(2)], 'best', ASKED).stretches.map(({ fromMm, toMm, others }) => [fromMm, toMm, others.length]);
    expect(lookedAt(500)).toEqual([[0, 1000, 0]]);
    expect(lookedAt(499)).toEqual([[0, 499, 0], [499, 500, 1], [500, 1000, 0]]);
  });

  test('is asked for in part: nothing else is answered', () => {
    const proof = proofOf([good], [check(0), check(4)], 'best', IntervalSet.of(interval(900, 1100)));
    expect([proof.confirmed.toMultirange(), proof.missing.toMultirange()]).toEqual(['{[900,1000)}', '{[1000,1100)}']);
  });
});

describe('records that cannot be', () => {
  test('are refused by name', () => {
    const piece = { fromUs: 5, toUs: 4, fromMm: 0, toMm: 1 };
    expect(() => told([run(0, 0, 0, 0, { pieces: [piece] })], [])).toThrow(new RangeError('run run 0: a piece ends before it begins: 5 to 4 µs'));
    expect(() => told([run(0, 0, 0, 0, { pieces: [{ ...piece, toUs: 6, toMm: 0.5 }] })], [])).toThrow(new RangeError('run run 0: toMm is not a whole number: 0.5'));
    expect(() => told([], [{ ...check(0), atUs: Number.NaN }])).toThrow(new RangeError('check check 0: atUs is not a whole number: NaN'));
  });
});
