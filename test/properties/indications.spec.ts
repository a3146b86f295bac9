import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import {
  AT_LEAST, AT_MOST, type ChannelPart, combineChannels, detectIndications, differenceOf, type Indication, IndicationDetector, type IndicationRule, matchEvaluated, MEASURED, type SampleBlock,
  type SignalBase,
} from '#libs/indications';
import { interval, type Interval, IntervalSet } from '#libs/intervals';
import { seedFromEnvironment } from '../setup/seed.js';
import { detectPlainly, type PlainDetection, type PlainRule, type PlainSample, type PlainStretch } from './indications.reference.js';

const RUNS = 1_000;
const BOUNDS = { measured: MEASURED, 'at-least': AT_LEAST, 'at-most': AT_MOST };

interface Case {
  readonly samples: readonly PlainSample[];
  readonly rule: PlainRule;
  readonly excluded: readonly PlainStretch[];
  readonly pitch: number;
  readonly isSingle: boolean;
}

/** Few levels and short steps, so that levels, lengths and distances are met exactly and often. */
const samples: fc.Arbitrary<PlainSample[]> = fc
  .array(
    fc.record({
      step: fc.constantFrom(1, 1, 1, 2, 2, 0, 3, 7),
      tenths: fc.option(fc.constantFrom(0, 0, 0, 1, 3, 5, 7, 7, 9), { freq: 8 }),
      bound: fc.constantFrom<PlainSample['bound']>('measured', 'measured', 'measured', 'measured', 'measured', 'measured', 'measured', 'measured', 'at-least', 'at-most'),
    }),
    { maxLength: 40, size: 'max' },
  )
  .map((steps) => {
    let at = -5;
    return steps.map(({ step, ...rest }) => ({ at: (at += step), ...rest }));
  });

const length = fc.nat({ max: 8 });

const rules: fc.Arbitrary<PlainRule> = fc
  .record({ sense: fc.constantFrom('above' as const, 'below' as const), levels: fc.tuple(fc.nat({ max: 9 }), fc.nat({ max: 9 })), minimumLength: length, combining: length, bridged: length })
  .map(({ levels, ...rest }) => {
    const [least, most] = [Math.min(...levels), Math.max(...levels)];
    return { ...rest, ...(rest.sense === 'above' ? { threshold: most, release: least } : { threshold: least, release: most }) };
  });

const stretches: fc.Arbitrary<PlainStretch[]> = fc
  .array(fc.tuple(fc.integer({ min: -8, max: 60 }), fc.integer({ min: 1, max: 6 })), { maxLength: 3 })
  .map((list) => setOf(list.map(([from, long]) => ({ from, to: from + long }))).intervals.map(({ fromMm, toMm }) => ({ from: fromMm, to: toMm })));

const cases: fc.Arbitrary<Case> = fc.record({ samples, rule: rules, excluded: stretches, pitch: fc.integer({ min: 1, max: 4 }), isSingle: fc.boolean() });

function setOf(list: readonly PlainStretch[]): IntervalSet {
  return IntervalSet.from(list.map(({ from, to }) => interval(from, to)));
}

function blockOf(list: readonly PlainSample[], isSingle: boolean): SampleBlock {
  const values = list.map(({ tenths }) => (tenths === null ? Number.NaN : tenths / 10));
  return {
    positionsMm: Int32Array.from(list.map(({ at }) => at)), values: isSingle ? Float32Array.from(values) : Float64Array.from(values),
    bounds: list.every(({ bound }) => bound === 'measured') ? null : Uint8Array.from(list.map(({ bound }) => BOUNDS[bound])),
  };
}

const ruleOf = ({ sense, threshold, release, minimumLength, combining, bridged }: PlainRule): IndicationRule => ({
  sense, threshold: threshold / 10, release: release / 10, minimumLengthMm: minimumLength, combiningMm: combining, bridgedGapMm: bridged,
});
const baseOf = ({ pitch, excluded }: Pick<Case, 'pitch' | 'excluded'>): SignalBase => ({ pitchMm: pitch, excluded: setOf(excluded) });

const plainOf = ({ fromMm, toMm, begins, ends, peak, samples: count, runs, missingMm }: Indication): PlainDetection['indications'][number] => ({
  from: fromMm, to: toMm, begins, ends, peak: Math.round(peak.value * 10), peakAt: peak.atMm, isBound: peak.isBound, samples: count, runs, missing: missingMm,
});
const stretchOf = ({ fromMm, toMm }: Interval): PlainStretch => ({ from: fromMm, to: toMm });

function detected({ samples: list, rule, excluded, pitch, isSingle }: Case, cuts: readonly number[] = []): PlainDetection {
  const bounds = [0, ...cuts, list.length];
  const blocks = bounds.slice(1).map((to, index) => blockOf(list.slice(bounds[index], to), isSingle));
  const { indications, gaps, counts } = detectIndications(blocks, ruleOf(rule), baseOf({ pitch, excluded }));
  return { indications: indications.map(plainOf), gaps: gaps.map(stretchOf), tooShort: counts.tooShort };
}

describe('indications of a channel', () => {
  test('are those found sample by sample', () => {
    const met = new Map<string, number>();
    fc.assert(fc.property(cases, (one) => {
      const expected = detectPlainly(one.samples, one.rule, one.excluded, one.pitch);
      expect(detected(one)).toEqual(expected);
      for (const { begins, ends, runs, missing, isBound } of expected.indications) {
        const words = [`begins ${begins}`, `ends ${ends}`, ...(runs > 1 ? ['combined'] : []), ...(missing > 0 ? ['bridged'] : []), ...(isBound ? ['bound'] : [])];
        for (const word of words) met.set(word, (met.get(word) ?? 0) + 1);
      }
      met.set('short', (met.get('short') ?? 0) + expected.tooShort);
      met.set('gap', (met.get('gap') ?? 0) + expected.gaps.length);
    }), { ...seedFromEnvironment(), numRuns: RUNS });
    const edges = ['signal', 'gap', 'exclusion', 'end-of-data'];
    const words = [...edges.map((edge) => `begins ${edge}`), ...edges.map((edge) => `ends ${edge}`), 'combined', 'bridged', 'bound', 'short', 'gap'];
    expect(words.filter((word) => (met.get(word) ?? 0) < 50)).toEqual([]);
  });

  test('are the same wherever the signal is cut into blocks', () => {
    fc.assert(fc.property(cases, fc.array(fc.nat({ max: 40 }), { maxLength: 4 }), (one, places) => {
      const whole = detected(one);
      for (let cut = 0; cut <= one.samples.length; cut += 1) expect(detected(one, [cut])).toEqual(whole);
      expect(detected(one, places.map((place) => Math.min(place, one.samples.length)).sort((a, b) => a - b))).toEqual(whole);
      expect(detected(one, one.samples.map((_sample, index) => index))).toEqual(whole);
    }), { ...seedFromEnvironment(), numRuns: RUNS });
  });

  test('told of the rest, sample for sample, are those of a signal that ends there, and telling them changes nothing', () => {
    fc.assert(fc.property(cases, (one) => {
      const detector = new IndicationDetector(ruleOf(one.rule), baseOf(one));
      const settled: Indication[] = [];
      one.samples.forEach((sample, index) => {
        settled.push(...detector.add(blockOf([sample], one.isSingle)).indications);
        const ended = detected({ ...one, samples: one.samples.slice(0, index + 1) });
        expect([...settled, ...detector.rest().indications].map(plainOf)).toEqual(ended.indications);
        expect(detector.counts().tooShort).toBe(ended.tooShort);
      });
    }), { ...seedFromEnvironment(), numRuns: 300 });
  });

  test('count every sample once, in its exclusion or outside, and let none at the threshold go untold', () => {
    let [excludedAtThreshold, outside] = [0, 0];
    fc.assert(fc.property(cases, (one) => {
      const { samples: list, rule, excluded } = one;
      const { indications, counts } = detectIndications([blockOf(list, one.isSingle)], ruleOf({ ...rule, minimumLength: 0 }), baseOf(one));
      const isIn = (stretch: PlainStretch, { at }: PlainSample): boolean => stretch.from <= at && at < stretch.to;
      const isAtThreshold = ({ tenths, bound }: PlainSample): boolean =>
        tenths !== null && (rule.sense === 'above' ? tenths >= rule.threshold || bound === 'at-least' : tenths <= rule.threshold || bound === 'at-most');
      expect(counts.samples).toBe(list.length);
      expect(counts.missingSamples).toBe(list.filter(({ tenths }) => tenths === null).length);
      expect(counts.saturatedSamples).toBe(list.filter(({ bound }) => bound !== 'measured').length);
      expect(counts.excluded).toEqual(excluded.map((stretch) => ({ stretch, own: list.filter((sample) => isIn(stretch, sample)) })).filter(({ own }) => own.length > 0).map(({ stretch, own }) => ({
        fromMm: stretch.from, toMm: stretch.to, samples: own.length, missingSamples: own.filter(({ tenths }) => tenths === null).length, samplesAtThreshold: own.filter(isAtThreshold).length,
      })));
      const covered = IntervalSet.from(indications);
      expect(covered.overlaps(setOf(excluded))).toBe(false);
      for (const sample of list.filter(isAtThreshold)) {
        if (excluded.some((stretch) => isIn(stretch, sample))) excludedAtThreshold += 1;
        else {
          expect(covered.contains(sample.at)).toBe(true);
          outside += 1;
        }
      }
    }), { ...seedFromEnvironment(), numRuns: RUNS });
    expect(Math.min(excludedAtThreshold, outside)).toBeGreaterThan(300);
  });

  test('reach as far when the pipe is read from its other end', () => {
    fc.assert(fc.property(cases, (one) => {
      // One sample a millimetre: then the other end is the mirror of this one, but for which of equal peaks is the first.
      const list = one.samples.map((sample, index) => ({ ...sample, at: index }));
      const mirrored = list.map((sample) => ({ ...sample, at: list.length - 1 - sample.at })).reverse();
      const excluded = one.excluded.map(({ from, to }) => ({ from: list.length - to, to: list.length - from })).reverse();
      const there = detected({ ...one, samples: list, pitch: 1 }).indications;
      const back = detected({ ...one, samples: mirrored, excluded, pitch: 1 }).indications;
      expect(back.map(({ from, to, begins, ends, peakAt: _peakAt, ...rest }) => ({ from: list.length - to, to: list.length - from, begins: ends, ends: begins, ...rest })).reverse())
        .toEqual(there.map(({ peakAt: _peakAt, ...rest }) => rest));
    }), { ...seedFromEnvironment(), numRuns: RUNS });
  });
});

const PIPE_MM = 40;
const found: fc.Arbitrary<Indication> = fc.tuple(fc.nat({ max: PIPE_MM - 6 }), fc.integer({ min: 1, max: 6 })).map(([fromMm, long]) => ({
  fromMm, toMm: fromMm + long, begins: 'signal', ends: 'signal', peak: { value: long, atMm: fromMm, isBound: false }, samples: long, runs: 1, missingMm: 0,
}));
const apart = (one: Interval, other: Interval): number => {
  // Counted millimetre by millimetre: those of the one that the other has too are negative, else the free ones in between.
  const has = ({ fromMm, toMm }: Interval, mm: number): boolean => fromMm <= mm && mm < toMm;
  const all = Array.from({ length: PIPE_MM }, (_, mm) => mm);
  if (all.some((mm) => has(one, mm) && has(other, mm))) return -1;
  const [left, right] = one.fromMm < other.fromMm ? [one, other] : [other, one];
  return all.filter((mm) => mm >= left.toMm && mm < right.fromMm).length;
};
/** Groups by joining, over and over, any two that have near members. */
function joinedPlainly<T>(members: readonly T[], isNear: (one: T, other: T) => boolean): T[][] {
  const groups = members.map((one) => [one]);
  for (;;) {
    const pair = groups.flatMap((one, a) => groups.map((other, b) => ({ a, b, isNear: a < b && one.some((x) => other.some((y) => isNear(x, y)))}))).find((candidate) => candidate.isNear);
    if (pair === undefined) return groups;
    groups[pair.a]!.push(...groups.splice(pair.b, 1)[0]!);
  }
}

describe('indications beside others', () => {
  test('of several channels are joined as by comparing each with each, and every part stays', () => {
    const parts: fc.Arbitrary<ChannelPart[]> = fc.array(fc.record({ channel: fc.constantFrom('UT-1', 'UT-2', 'ET'), indication: found }), { maxLength: 10 });
    fc.assert(fc.property(parts.chain((list) => fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length }))), fc.nat({ max: 4 }), ([list, shuffled], combiningMm) => {
      const joint = combineChannels(list, combiningMm);
      const expected = joinedPlainly(list, (one, other) => apart(one.indication, other.indication) < combiningMm);
      const members = (groups: readonly (readonly ChannelPart[])[]): Set<string> =>
        new Set(groups.map((group) => group.map((part) => `${list.indexOf(part)}`).sort().join(' ')));
      expect(members(joint.map((one) => one.parts))).toEqual(members(expected));
      for (const { fromMm, toMm, parts: own } of joint) {
        expect(fromMm).toBe(Math.min(...own.map(({ indication }) => indication.fromMm)));
        expect(toMm).toBe(Math.max(...own.map(({ indication }) => indication.toMm)));
      }
      const again = combineChannels(shuffled, combiningMm);
      expect(again).toEqual(joint);
    }), { ...seedFromEnvironment(), numRuns: RUNS });
  });

  test('of another rule differ place by place, and none is told twice or left out', () => {
    const met = new Set<string>();
    fc.assert(fc.property(fc.array(found, { maxLength: 5 }), fc.array(found, { maxLength: 5 }), (before, after) => {
      const differences = differenceOf(before, after);
      expect(new Set(differences.flatMap((one) => one.before))).toEqual(new Set(before));
      expect(differences.flatMap((one) => one.before)).toHaveLength(before.length);
      expect(differences.flatMap((one) => one.after)).toHaveLength(after.length);
      const groups = joinedPlainly([...before, ...after], (one, other) => apart(one, other) < 0);
      expect(differences).toHaveLength(groups.length);
      const has = (list: readonly Interval[], mm: number): boolean => list.some(({ fromMm, toMm }) => fromMm <= mm && mm < toMm);
      const pipe = Array.from({ length: PIPE_MM }, (_, mm) => mm);
      for (const { change, before: then, after: now } of differences) {
        const gained = pipe.some((mm) => has(now, mm) && !has(then, mm));
        const lost = pipe.some((mm) => has(then, mm) && !has(now, mm));
        const word = then.length === 0 ? 'appeared' : now.length === 0 ? 'vanished' : gained && lost ? 'shifted' : gained ? 'grown' : lost ? 'shrunk' : 'same';
        expect(change).toBe(word);
        met.add(word);
      }
    }), { ...seedFromEnvironment(), numRuns: RUNS });
    expect(met.size).toBe(6);
  });

  test('that were evaluated are all told, whatever is found now, and what is found beside them too', () => {
    fc.assert(fc.property(fc.array(found, { maxLength: 5 }), fc.array(found, { maxLength: 5 }), fc.nat({ max: 4 }), (evaluated, now, withinMm) => {
      const matching = matchEvaluated(evaluated, now, withinMm);
      expect(matching.evaluated.map((one) => one.evaluated)).toEqual(evaluated);
      expect(matching.found.map((one) => one.found)).toEqual(now);
      for (const one of matching.evaluated) expect(one.found).toEqual(now.filter((other) => apart(one.evaluated, other) < withinMm));
      for (const one of matching.found) {
        expect(one.evaluated).toEqual(evaluated.filter((other) => apart(one.found, other) < withinMm));
        const open = Array.from({ length: PIPE_MM }, (_, mm) => mm).filter((mm) =>
          one.found.fromMm <= mm && mm < one.found.toMm && !evaluated.some(({ fromMm, toMm }) => fromMm <= mm && mm < toMm));
        expect(Array.from({ length: PIPE_MM }, (_, mm) => mm).filter((mm) => one.notEvaluated.contains(mm))).toEqual(open);
      }
    }), { ...seedFromEnvironment(), numRuns: RUNS });
  });
});
