import { IntervalSet, type Interval } from '#libs/intervals';
import {
  demandSensibleLayout, endAt, runAt, runsOf, spotOf, type PipeLayout, type Run, type RunEnd, type SamplePlace, type Spot,
} from './sampled-run.js';
import {
  demandSensiblePlans, INFERENCE_CAUTION, inWords, type RuleInWords, type SamplingPlan, type SamplingRule, type SamplingRuleName,
} from './sampling-plan.js';
import { sharesByNearest, stretchAfter } from './shares.js';

/** A destructive sample whose test is not void. */
export interface Sample {
  readonly sample: string;
  readonly test: string;
  readonly place: SamplePlace;
  /** µs. */
  readonly takenAtUs: number;
  /** When the first failed result was made of those that it stands with, µs; null while none failed. */
  readonly failedAtUs: number | null;
}

export interface RepresentedBySample {
  readonly sample: string;
  readonly represents: IntervalSet;
  /** The rules by which it stands for something. */
  readonly rules: readonly RuleInWords[];
}

/** An end of pipe at which the plan demands a sample and none was taken. */
export interface UnsampledEnd {
  readonly atMm: number;
  readonly pipeLies: 'before' | 'after';
  readonly rule: SamplingRuleName;
  readonly words: string;
}

export interface TestRepresentation {
  readonly test: string;
  readonly bySample: readonly RepresentedBySample[];
  /** Metres that at least one sample stands for, each once however many do. */
  readonly represented: IntervalSet;
  /** Metres of the coils' pipe that no sample of this test stands for. */
  readonly missing: IntervalSet;
  readonly unsampledEnds: readonly UnsampledEnd[];
  readonly caution: string;
}

/** `unplanned` are the samples of tests that no plan is for: they stand for nothing. */
export interface Representation {
  readonly tests: readonly TestRepresentation[];
  readonly unplanned: readonly string[];
}

/**
 * What metres of pipe each sample stands for, and which ones none does, test by test; positions are footage in whole mm. The
 * rules and their sources are in `inWords`. The middle between two samples is rounded down to a whole mm; samples of one place
 * stand for the same. Our own choices: no sample stands for pipe of another coil; one that lies away from coil ends and stops
 * counts under their rules only beside one that does not, so that a further sample never takes metres away. What a failure
 * speaks of is laid out as of then: samples taken after it, and stops that only they name, narrow it nowhere, so that a later
 * pass takes none of its metres; they overlap, and the worse state is that of the metre. Pipe that was cut out is not known
 * here: take it off the answer.
 * Throws RangeError when names come twice, coils overlap, a place is at no coil's pipe, or a plan is not sensible.
 */
export function representedIntervals(layout: PipeLayout, plans: readonly SamplingPlan[], samples: readonly Sample[]): Representation {
  demandSensibleLayout(layout);
  demandSensiblePlans(plans);
  const names = samples.map(({ sample }) => sample);
  if (new Set(names).size !== names.length) throw new RangeError('a sample comes twice');
  const planned = new Set(plans.map(({ test }) => test));
  return {
    tests: plans.map((plan) => representationOf(layout, plan, samples.filter(({ test }) => test === plan.test))),
    unplanned: samples.filter(({ test }) => !planned.has(test)).map(({ sample }) => sample),
  };
}

interface Placed {
  readonly sample: Sample;
  readonly spot: Spot;
  readonly run: Run;
}

function representationOf(layout: PipeLayout, plan: SamplingPlan, samples: readonly Sample[]): TestRepresentation {
  const runs = runsOf(layout, cutsAtStops(plan));
  const placed = samples.map((one) => placedIn(layout, runs, one));
  const inRun = new Map(runs.map((run) => [run, placed.filter((one) => one.run === run)]));
  const bySample = placed.map((one) => representedBy(asOfFailure(one, placed, layout, plan), plan));
  const represented = IntervalSet.from(bySample.flatMap(({ represents }) => represents.intervals));
  return {
    test: plan.test,
    bySample,
    represented,
    missing: IntervalSet.from(layout.coils.map(({ pipe }) => pipe)).subtract(represented),
    unsampledEnds: runs.flatMap((run) => unsampledEnds(run, inRun.get(run) ?? [], plan)),
    caution: INFERENCE_CAUTION,
  };
}

function placedIn(layout: PipeLayout, runs: readonly Run[], sample: Sample): Placed {
  const spot = spotOf(sample.place, layout);
  const run = Number.isSafeInteger(spot.atMm) ? runAt(runs, spot) : null;
  if (run === null) throw new RangeError(`sample ${sample.sample} is at no coil's pipe: ${spot.pipeLies} ${spot.atMm} mm`);
  return { sample, spot, run };
}

/** A sample in the run that it stands in; `besides` are those in that run, `positionsMm` those that narrow what it stands for. */
interface Laid {
  readonly placed: Placed;
  readonly besides: readonly Placed[];
  readonly positionsMm: readonly number[];
}

/** As of its failure where there is one: whether it counts at all is for all samples to say, what it stands for only for those taken by then. */
function asOfFailure(one: Placed, all: readonly Placed[], layout: PipeLayout, plan: SamplingPlan): Laid {
  const { failedAtUs } = one.sample;
  const isBy = (atUs: number): boolean => failedAtUs === null || atUs <= failedAtUs;
  const stops = layout.stops.filter(({ namedAtUs }) => namedAtUs === undefined || isBy(namedAtUs));
  const runs = stops.length === layout.stops.length ? [] : runsOf({ ...layout, stops }, cutsAtStops(plan));
  const run = runAt(runs, one.spot) ?? one.run;
  const besides = all.filter(({ spot }) => runAt([run], spot) !== null);
  return { placed: { ...one, run }, besides, positionsMm: besides.filter(({ sample }) => isBy(sample.takenAtUs)).map(({ spot }) => spot.atMm) };
}

function representedBy({ placed: { sample: { sample }, spot, run }, besides, positionsMm }: Laid, plan: SamplingPlan): RepresentedBySample {
  const pieceBy = (rule: SamplingRule): Interval | null => {
    if (rule.rule === 'every-length') return stretchAfter(run.pipe, positionsMm, spot.atMm, rule.everyMm);
    const isCounted = besides.some((one) => isAtEndOf(rule.rule, endAt(one.run, one.spot)));
    return isCounted ? sharesByNearest(run.pipe, positionsMm, spot.atMm) : null;
  };
  const standing = plan.rules.flatMap((rule) => {
    const piece = pieceBy(rule);
    return piece === null ? [] : [{ piece, rule }];
  });
  return {
    sample,
    represents: IntervalSet.from(standing.map(({ piece }) => piece)),
    rules: standing.map(({ rule }) => inWords(rule)),
  };
}

function unsampledEnds(run: Run, inRun: readonly Placed[], { rules }: SamplingPlan): UnsampledEnd[] {
  const ends = [
    { end: run.from, spot: { atMm: run.pipe.fromMm, pipeLies: 'after' } as const },
    { end: run.to, spot: { atMm: run.pipe.toMm, pipeLies: 'before' } as const },
  ];
  const bare = ends.filter(({ spot }) => !inRun.some((one) => one.spot.atMm === spot.atMm && one.spot.pipeLies === spot.pipeLies));
  return bare.flatMap(({ end, spot }) => rules.filter(({ rule }) => isAtEndOf(rule, end)).map(({ rule }) => {
    const coilEnd = spot.pipeLies === 'after' ? 'first' : 'last';
    const where = rule === 'stop-sides' ? `${spot.pipeLies} stop ${end.stops.join(', ')}` : `at the ${coilEnd} end`;
    return { ...spot, rule, words: `no sample ${where} of coil ${run.coil}, at ${spot.atMm} mm` };
  }));
}

const cutsAtStops = ({ rules }: SamplingPlan): boolean => rules.some(({ rule }) => rule === 'stop-sides');

/** Whether the rule names this end as a place for samples. */
function isAtEndOf(rule: SamplingRuleName, end: RunEnd | null): boolean {
  if (end === null || rule === 'every-length') return false;
  return rule === 'coil-ends' ? end.isCoilEnd : end.stops.length > 0;
}
