import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { compareSums, footageAtReading, LengthError, tieReport, type ShoeTie } from '#libs/length';
import { instantOf, microseconds } from '#libs/persistence';
import type { Coil } from '../coils/coil.entity.js';
import type { CounterReading } from '../line/counter-reading.entity.js';
import { CounterReadingsService } from '../line/counter-readings.service.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { linkList } from '../recall/link-list.js';
import { linkOf, READINGS } from '../recall/record-kinds.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import { answered } from '../trace/answered.js';
import { attempt } from '../trace/attempt.js';
import type { Ground } from '../trace/ground.js';
import { Grounds } from '../trace/grounds.service.js';
import { stringAnswer } from '../trace/string-answer.js';
import { DEPTH_CAUTIONS } from '../trace/trace.service.js';
import { linkTo } from '../trace/record-link.js';
import { compareCounters, type Master, type ReadFootage } from './counter-comparison.js';
import { explainSums } from './explain-sums.js';
import {
  comparisonAnswer, differenceAnswer, elongationAnswer, refLink, stripAnswer, sumAnswer, tieAnswer, type Labels,
} from './reconciliation-answers.js';
import type { ReconciliationQuestion } from './reconciliation-question.js';
import type { CounterComparisonAnswer, ReconciliationAnswer, SpliceCountAnswer } from './reconciliation.dto.js';
import { countSplices } from './splice-count.js';
import { formingElongation, stripUse } from './strip-use.js';
import { threeSums } from './three-sums.js';

const SUM_CAUTION = 'A sum that agrees does not prove its parts: two errors can cancel. A difference is shown, never spread.';

/** What a reconciliation is drawn up from. */
interface Drawn {
  readonly model: StringModel;
  readonly ground: Ground;
  /** Segments of every coil of the string, on all strings. */
  readonly coilSegments: readonly CoilSegmentVersion[];
  /** Readings of every counter, in order of time. */
  readonly readings: readonly CounterReading[];
}

/** Holds the independent lengths of a string's pipe against one another. */
@Injectable()
export class ReconciliationService {
  constructor(
    private readonly models: LengthModels,
    private readonly grounds: Grounds,
    private readonly segments: CoilSegmentsService,
    private readonly readings: CounterReadingsService,
  ) {}

  async reconciliation(stringId: string, question: ReconciliationQuestion): Promise<ReconciliationAnswer> {
    const { asKnownAt } = question;
    const model = await this.models.of(stringId, asKnownAt);
    const ground = await this.grounds.of(model, asKnownAt);
    const coilIds = coilsOf(ground).map(({ id }) => id);
    const [coilSegments, readings] = await Promise.all([
      this.segments.ofCoils(coilIds, asKnownAt),
      this.readings.ofString(stringId, asKnownAt),
    ]);
    return answered(() => answerOf({ model, ground, coilSegments, readings }, question));
  }
}

function answerOf(drawn: Drawn, { at, asKnownAt, explain }: ReconciliationQuestion): ReconciliationAnswer {
  const { model, ground, coilSegments, readings } = drawn;
  const { lengths } = model;
  const tie = lastTie(model, at);
  const atUs = tie?.atUs ?? timeWithoutTie(model, at);
  const madeMm = lengths.maxWeldFootage(atUs);
  const labels = labelsOf(drawn);
  const coils = coilsOf(ground);
  const elongation = formingElongation(ground.pipe.segments.map(({ segment }) => segment));
  const uses = coils.map((coil) => ({ coil, use: stripUse(coil, coilSegments, model.string.id, madeMm) }));
  const { sums, notSummed } = threeSums({ lengths, atUs, tie, strip: uses.map(({ use }) => use), elongation });
  const report = attempt(() => tieReport(lengths.outer, lengths.lengths));
  return {
    string: stringAnswer(model, ground),
    at: instantOf(atUs),
    tie: tie === null ? null : refLink(tie.record, labels),
    asKnownAt,
    sums: sums.map((sum) => sumAnswer(sum, labels)),
    notSummed: [...notSummed],
    differences: compareSums(sums).map(differenceAnswer),
    elongation: elongation?.ratio ?? null,
    strip: uses.map(({ coil, use }) => stripAnswer(use, coil)),
    segments: ground.pipe.segments.map(({ segment, coil }) => elongationAnswer(segment, coil.number)),
    ties: (report.found ?? []).map((line) => tieAnswer(line, labels)),
    noTieReport: report.why === null ? null : { code: report.why.code, detail: report.why.detail },
    counters: otherCounters(model, readings),
    readingsOutsidePeriods: linkList(readings.filter((row) => isOutside(model, row)).map((row) => linkOf(READINGS, row))),
    spliceCount: spliceCount(ground),
    gaps: gapsOf(ground, madeMm),
    cautions: [...DEPTH_CAUTIONS, SUM_CAUTION],
    explanation: explain ? explainSums(lengths, sums, atUs, elongation?.ratio ?? null) : null,
  };
}

/** The last tie since the hang-off by the time asked for. */
function lastTie({ lengths }: StringModel, at: string | null): ShoeTie | null {
  const byUs = at === null ? Infinity : microseconds(at);
  const hangOffUs = lengths.lengths.hangOff?.atUs ?? Infinity;
  return lengths.lengths.shoeTies.findLast(({ atUs }) => atUs <= byUs && atUs >= hangOffUs) ?? null;
}

function timeWithoutTie({ readings }: StringModel, at: string | null): number {
  const time = at ?? readings.at(-1)?.observedAt;
  if (time === undefined) throw new LengthError('no-readings', 'this string has no counter reading: there is no pipe to reconcile');
  return microseconds(time);
}

/** The coils of a string, each once, in order of footage. */
function coilsOf({ pipe }: Ground): Coil[] {
  return [...new Map(pipe.segments.map(({ coil }) => [coil.id, coil])).values()];
}

function labelsOf({ model, ground }: Drawn): Labels {
  const names = new Map([
    ...coilsOf(ground).map(({ id, number }) => [id, number] as const),
    ...model.ties.map(({ id, shoeMdMm }) => [id, `shoe at ${shoeMdMm} mm`] as const),
    ...model.records.setups.map(({ id, observedAt }) => [id, `line set-up from ${observedAt}`] as const),
    ...(model.hangOff === null ? [] : [[model.hangOff.id, `hang-off at ${model.hangOff.mdMm} mm`] as const]),
  ]);
  return (id) => names.get(id) ?? id;
}

function isOutside({ line }: StringModel, { counter, observedAt }: CounterReading): boolean {
  return line.periodAt(counter, microseconds(observedAt)) === null;
}

function otherCounters(model: StringModel, readings: readonly CounterReading[]): CounterComparisonAnswer[] {
  const { masterCounter } = model.string;
  const others = [...new Set(readings.map(({ counter }) => counter))].filter((counter) => counter !== masterCounter);
  const master = masterOf(model);
  return others.map((counter) => {
    const own = readings.filter((row) => row.counter === counter);
    return comparisonAnswer(counter, compareCounters(master, own.flatMap((row) => readFootage(model, row))));
  });
}

function masterOf({ lengths }: StringModel): Master {
  const { weldFootage, scaleRelativeU } = lengths.lengths;
  const [first, last] = [weldFootage.at(0)?.atUs ?? Infinity, weldFootage.at(-1)?.atUs ?? -Infinity];
  return { scaleRelativeU, at: (atUs) => (atUs < first || atUs > last ? null : lengths.weldFootageAt(atUs)) };
}

function readFootage({ line }: StringModel, { counter, observedAt, reading }: CounterReading): ReadFootage[] {
  const atUs = microseconds(observedAt);
  const period = line.periodAt(counter, atUs);
  if (period === null) return [];
  return [{ atUs, footageMm: footageAtReading(period, Number(reading)), scaleRelativeU: period.scaleRelativeU }];
}

function spliceCount(ground: Ground): SpliceCountAnswer {
  const { segments, splices } = ground.pipe;
  const coils = new Map(coilsOf(ground).map((coil) => [coil.id, linkTo('coil', coil, coil.number)]));
  const { withoutSplice, withoutJointIds, ...counted } = countSplices(segments.map(({ segment }) => segment), splices);
  return {
    ...counted,
    withoutSplice: withoutSplice.flatMap(({ footageMm, leavingCoilId, enteringCoilId }) => {
      const [leaving, entering] = [coils.get(leavingCoilId), coils.get(enteringCoilId)];
      return leaving === undefined || entering === undefined ? [] : [{ footageMm, leaving, entering }];
    }),
    withoutJoint: splices.filter(({ id }) => withoutJointIds.includes(id)).map((splice) => linkTo('splice', splice, splice.number)),
  };
}

function gapsOf({ pipe }: Ground, madeMm: number): { fromMm: number; toMm: number }[] {
  const toMm = Math.ceil(madeMm);
  if (toMm <= 0) return [];
  const covered = IntervalSet.from([...pipe.segments.map(({ segment }) => segment.span), ...pipe.cuts.map(({ cutOut }) => cutOut.span)]);
  return covered.complementWithin({ fromMm: 0, toMm }).intervals.map((gap) => ({ fromMm: gap.fromMm, toMm: gap.toMm }));
}
