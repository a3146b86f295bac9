import type { Charted, LagOne } from '#libs/charting';
import { IntervalSet } from '#libs/intervals';
import type { RowPoint } from '../characteristics/chart-row.js';
import { CHART_LIMITS, CONTROL_CHARTS, linkOf } from '../recall/record-kinds.js';
import type { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { metres } from '../destructive-coverage/test-coverage.js';
import { linkTo } from '../trace/record-link.js';
import type { BetterChart } from './better-chart.js';
import { ruleName } from './chart-design.js';
import type { ChartPart } from './chart-part.js';
import { outOfSpecification, placedSignals, type PlacedSignal } from './chart-signals.js';
import type { BarePart, ControlChartView } from './control-chart-views.service.js';
import type {
  BetterChartAnswer, ChartPanelAnswer, ChartPartAnswer, ChartPointAnswer, ChartSignalAnswer, ControlChartViewAnswer, LagOneAnswer, LeftOutAnswer, OutOfSpecificationAnswer,
} from './control-chart-view.dto.js';
import { betweenMm, leftOutOf } from './left-out-sums.js';
import { RecordPlaces } from './record-places.js';
import { minutesBetween, seenSince } from './since-when.js';
import type { AnsweredSignals } from './answered-signals.js';

export const CHART_CAUTIONS = [
  'A point within its limits says that the process is as it was, not that the pipe is good: a specification is no control limit, and a control limit no specification.',
  'A signal asks for the reaction of the plan; it is no nonconformance. Out of specification is, whatever the chart says.',
  'Readings that resemble their neighbours say less than as many independent ones: mind the correlation and the warnings.',
  'What was not read is on no chart: pipe without limits is not watched, and what was left out is neither watched nor held against the specification. Indications are counted on pipe that the channels of the chart looked at (without any, the required channels of an amplitude); where the string has none, and of repairs, on all pipe that was made: none is no proof there that somebody looked.',
  'These records are not a safety interlock: nothing here stops the line, and anyone on shift may.',
];

/** The chart as an answer; `reactions` are those on record to its signals. */
export function viewAnswer(view: ControlChartView, reactions: AnsweredSignals): ControlChartViewAnswer {
  const { model: { string }, chart, footage, knownAt, parts, withoutLimits, bare } = view;
  const places = new RecordPlaces();
  const answers = parts.map((part) => partAnswer(part, view, reactions, places));
  return {
    string: linkTo('casing-string', string, string.name), chart: linkOf(CONTROL_CHARTS, chart), title: chart.title, unit: chart.unit, footage: { ...footage }, knownAt,
    specification: chart.specification === null ? null : { ...chart.specification }, reaction: { ...chart.reaction, causes: [...chart.reaction.causes] },
    parts: answers, records: places.records, withoutLimits: withoutLimits.map((one) => ({ ...one })), outOfSpecificationWithoutLimits: bare.flatMap(specificationAnswers),
    leftOut: [...parts, ...bare].flatMap(leftOutAnswers), proposesNonconformance: proposedPipe([...parts, ...bare]),
    cautions: CHART_CAUTIONS,
  };
}

function partAnswer(part: ChartPart, view: ControlChartView, reactions: AnsweredSignals, places: RecordPlaces): ChartPartAnswer {
  const { limits, asked, plan, design, figures, row, charted, advice, better, isRemoved } = part;
  return {
    ...asked, limits: limits === null ? null : linkOf(CHART_LIMITS, limits), chart: design.chart, plan, figures, lagOne: advice.lagOne === null ? null : lagOneAnswer(advice.lagOne),
    warnings: advice.warnings.map((one) => ({ ...one })), better: better === null ? null : betterAnswer(better),
    points: row.points.map((point, index) => pointAnswer(point, isRemoved.has(index), places)), betweenMm: betweenMm(part), panels: panelAnswers(charted),
    signals: placedSignals(part).map((signal) => signalAnswer(signal, part, view, { reactions, places })), outOfSpecification: specificationAnswers(part),
  };
}

export const lagOneAnswer = ({ phi, pairs, interval, independentWithin }: LagOne): LagOneAnswer => ({ phi, pairs, from: interval.from, to: interval.to, independentWithin });

export const betterAnswer = ({ design, figures, charted, warnings }: BetterChart): BetterChartAnswer => ({
  chart: design.chart, figures, panels: panelAnswers(charted), signals: charted.signals.length, warnings: warnings.map((one) => ({ ...one })),
});

const panelAnswers = ({ panels }: Charted): ChartPanelAnswer[] => panels.map(({ shows, points }) => ({ shows, points: [...points] }));

const pointAnswer = ({ place, label, coil, values, of, beginsAnew, readings }: RowPoint, isRemoved: boolean, places: RecordPlaces): ChartPointAnswer => ({
  fromMm: place?.fromMm ?? null, toMm: place?.toMm ?? null, label, coil, values: values as number[], of, beginsAnew, isRemoved, by: places.ofAll(readings.map(({ records }) => records)) as number[],
});

/** What an answer to signals is put together with. */
interface Beside {
  readonly reactions: AnsweredSignals;
  /** Of the list of records of the whole answer. */
  readonly places: RecordPlaces;
}

export function signalAnswer(signal: PlacedSignal, { limits }: Pick<ChartPart, 'limits'>, { model, knownAt }: Pick<ControlChartView, 'model' | 'knownAt'>, { reactions, places }: Beside): ChartSignalAnswer {
  const { shows, rule, at, pattern, watch } = signal;
  const since = seenSince(at, model);
  return {
    panel: shows, rule: ruleName(rule), place: at.place === null ? null : { ...at.place }, label: at.label, pattern, watch, since, ageMinutes: since === null ? null : minutesBetween(since, knownAt),
    reactions: limits === null ? [] : reactions.to(limits.id, signal), by: places.ofAll(at.readings.map(({ records }) => records)) as number[],
  };
}

/** Pipe of readings out of specification. */
export const proposedPipe = (parts: readonly BarePart[]): MetresAnswer => metres(IntervalSet.from(parts.flatMap(outOfSpecification).flatMap(({ reading: { place } }) => place ?? [])));

const specificationAnswers = (part: BarePart): OutOfSpecificationAnswer[] => outOfSpecification(part).map(({ reading: { place, label, records }, value, side }) => ({
  place: place === null ? null : { ...place }, label, value, side, records: [...records],
}));

const leftOutAnswers = (part: BarePart): LeftOutAnswer[] => leftOutOf(part).map(({ place, because, records }) => ({ place: place === null ? null : { ...place }, because, records: [...records] }));
