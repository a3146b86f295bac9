import { Injectable } from '@nestjs/common';
import { capabilityStudy, isCorrelated, withoutPoints, type CapabilityStudy, type StudiedIndex } from '#libs/charting';
import type { RowPoint } from '../characteristics/chart-row.js';
import { Refused } from '../http/problem.js';
import { CONTROL_CHARTS, linkOf } from '../recall/record-kinds.js';
import { linkTo } from '../trace/record-link.js';
import type { CapabilityAnswer, CapabilityFiguresAnswer, ExtremeReadingAnswer, IndexAnswer } from './capability.dto.js';
import { lagOneAnswer, proposedPipe } from './chart-answers.js';
import { isOfReadings, specified } from './chart-design.js';
import { isAsked } from './chart-part.js';
import type { ChartQuestion } from './chart-question.js';
import { placedSignals } from './chart-signals.js';
import { ControlChartViews, type ControlChartView } from './control-chart-views.service.js';
import { betweenMm, betweenWords, leftOutOf, leftOutSums, leftOutWords } from './left-out-sums.js';
import { countOutside, extremeOf, readingsOfPipe, type ExtremeReading } from './readings-of-pipe.js';

const CAUTIONS = [
  'An index is an estimate: mind its interval, and the number of independent readings behind it.',
  'Capability is of the readings on the chart: what was not read, and what was left out, is not in it.',
  'Points that were removed, and pipe without limits, are in no index. Least, greatest and what lies outside are of their readings too: one thin metre leaks whatever an index says.',
  'Least and greatest, and the pipe outside, say more of a pipe that nobody can pull up than any index does.',
  'An index is no evidence of any metre, and takes the place of none.',
];

/** Says how the spread of the readings of a chart compares with its specification. */
@Injectable()
export class Capabilities {
  constructor(private readonly views: ControlChartViews) {}

  /** Refuses as `ControlChartViews.of`, and with 422 without a specification, limits, or readings that a study can be made of. */
  async of(chartId: string, question: ChartQuestion): Promise<CapabilityAnswer> {
    const view = await this.views.of(chartId, question);
    const { chart, model: { string }, footage, knownAt, parts, bare } = view;
    const { specification } = chart;
    const limits = specified(specification);
    if (specification === null || limits === null || !isOfReadings(chart)) throw new Refused(422, 'nothing-specified', 'This chart has no specification to hold readings against.');
    const points = parts.flatMap((part) => withoutPoints(part.row.points, part.isRemoved).filter((point) => isAsked(part, point)));
    const study = studyOf(points, limits, view);
    const readings = readingsOfPipe([...parts, ...bare]);
    return {
      string: linkTo('casing-string', string, string.name), chart: linkOf(CONTROL_CHARTS, chart), unit: chart.unit, footage: { ...footage }, knownAt, specification: { ...specification },
      figures: { ...figuresOf(study), outside: countOutside(readings, limits) }, least: extremeAnswer(extremeOf(readings, -1)), greatest: extremeAnswer(extremeOf(readings, 1)),
      outside: proposedPipe([...parts, ...bare]),
      ...controlOf(view, study), warnings: [...parts.flatMap(({ advice }) => advice.warnings), ...study.warnings].map((one) => ({ ...one })), cautions: CAUTIONS,
    };
  }
}

function studyOf(points: readonly RowPoint[], limits: Parameters<typeof capabilityStudy>[1], { withoutLimits }: Pick<ControlChartView, 'withoutLimits'>): CapabilityStudy {
  try {
    return capabilityStudy(points, limits);
  } catch (error) {
    if (error instanceof RangeError) throw new Refused(422, 'no-study', `No study can be made of these readings: ${error.message}.${withoutLimits.length === 0 ? '' : ' Readings of pipe without limits are not in it: ask with limits=trial.'}`);
    throw error;
  }
}

function figuresOf({ readings, mean, standardDeviation, lagOne, independentReadings, overall, within, aboutTarget, normality, byPercentiles }: CapabilityStudy): Omit<CapabilityFiguresAnswer, 'outside'> {
  return {
    readings, mean, standardDeviation, lagOne: lagOne === null ? null : lagOneAnswer(lagOne), independentReadings,
    pp: overall.pp, ppInterval: overall.ppInterval === null ? null : { ...overall.ppInterval }, ppk: indexAnswer({ value: overall.ppk, interval: overall.ppkInterval }),
    cp: optionalIndex(within?.cp ?? null), cpk: optionalIndex(within?.cpk ?? null), cpm: optionalIndex(aboutTarget?.cpm ?? null),
    normality: normality === null ? null : { statistic: normality.statistic, p: normality.p, caution: normality.caution },
    byPercentiles: byPercentiles === null ? null : { method: byPercentiles.method, ...byPercentiles.percentiles, pp: byPercentiles.pp, ppk: byPercentiles.ppk },
  };
}

const indexAnswer = ({ value, interval }: StudiedIndex): IndexAnswer => ({ value, from: interval?.from ?? null, to: interval?.to ?? null });
const optionalIndex = (index: StudiedIndex | null): IndexAnswer | null => (index === null ? null : indexAnswer(index));

const extremeAnswer = ({ value, reading: { place, label, records } }: ExtremeReading): ExtremeReadingAnswer => ({ value, place: place === null ? null : { ...place }, label, records: [...records] });

/** A capability without these sentences beside it says nothing. */
function controlOf(view: ControlChartView, study: CapabilityStudy): Pick<CapabilityAnswer, 'isInControl' | 'control'> {
  const { isInControl, control } = judged(view);
  const without = leftOutWords(leftOutSums(view.parts.flatMap(leftOutOf)));
  const between = betweenWords(view.parts.reduce((sum, part) => sum + betweenMm(part), 0));
  const few = isInControl ? fewWords(study) : '';
  return { isInControl, control: [control, ...(few === '' ? [] : [few]), ...(without === '' ? [] : [`Not in this study: ${without}.`]), ...(between === '' ? [] : [between])].join(' ') };
}

/** Fewer independent readings hardly show a process that wanders. Common practice, no published source. */
const INDEPENDENT_AT_LEAST = 20;

const fewWords = ({ readings, lagOne, independentReadings }: CapabilityStudy): string => (isCorrelated(lagOne) && independentReadings < INDEPENDENT_AT_LEAST
  ? `Its ${readings} readings say as much as ${independentReadings.toFixed(1)} independent ones: that none signals says little.` : '');

function judged({ parts, withoutLimits }: ControlChartView): Pick<CapabilityAnswer, 'isInControl' | 'control'> {
  const count = parts.reduce((sum, part) => sum + placedSignals(part).length, 0);
  const points = parts.reduce((sum, part) => sum + part.row.points.filter((point) => isAsked(part, point)).length, 0);
  const signals = `${count} ${count === 1 ? 'signal' : 'signals'}`;
  const removed = parts.reduce((sum, { isRemoved }) => sum + isRemoved.size, 0);
  const removedWords = removed === 0 ? '' : `, of which ${removed} removed`;
  if (parts.some(({ limits }) => limits === null)) return { isInControl: false, control: `Held against trial limits that nobody approved: ${signals} at ${points} points${removedWords}. Nothing says that the process is in control.` };
  if (parts.some(({ advice }) => advice.warnings.some(({ code }) => code === 'not-in-force'))) {
    return { isInControl: false, control: `Held against limits that are not in force on all of this pipe: ${signals} at ${points} points. Nothing says that the process is in control.` };
  }
  if (withoutLimits.length > 0) return { isInControl: false, control: `No limits hold for some of this pipe: its readings are in no index of this study. ${signals} at the ${points} others.` };
  if (count > 0) return { isInControl: false, control: `The process was not in control: ${signals} at ${points} points. The figures say what was, and nothing of what comes.` };
  return { isInControl: true, control: `Limits hold for all of this pipe, and none of its ${points} points signals.` };
}
