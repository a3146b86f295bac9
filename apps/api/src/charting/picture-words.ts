import { CHART_FAMILIES } from '#libs/charting';
import { IntervalSet, type Interval } from '#libs/intervals';
import { formatInstant, formatInterval, type PictureNote } from '#libs/reports';
import type { RowPoint } from '../characteristics/chart-row.js';
import { hullOf } from '../characteristics/row-points.js';
import type { ControlChartPlan } from '../control-charts/control-chart-plan.js';
import { isAsked, type ChartPart } from './chart-part.js';
import type { AnsweredSignals } from './answered-signals.js';
import { signalAnswer } from './chart-answers.js';
import type { ChartSignalAnswer } from './control-chart-view.dto.js';
import { outOfSpecification, type PlacedSignal } from './chart-signals.js';
import type { ControlChartView } from './control-chart-views.service.js';
import { inMetres } from './in-metres.js';
import { betweenMm, betweenWords, leftOutOf, leftOutSums, leftOutWords } from './left-out-sums.js';
import { RecordPlaces } from './record-places.js';

export function titlesOf({ chart, model, knownAt }: ControlChartView, { plan }: ChartPart): string[] {
  return [`Control chart ${chart.code}: ${chart.title}`, `${model.string.name}, ${pointWords(plan)}, chart ${plan.chart.replaceAll('-', ' ')} · as known at ${formatInstant(knownAt)}`];
}

/** What a point is made of. */
function pointWords({ chart, subgroup, characteristic: { channelIds, windowMm } }: ControlChartPlan): string {
  if (subgroup !== null) return subgroup.size === 1 ? 'single readings' : `subgroups of ${subgroup.size} readings`;
  const length = `${inMetres(windowMm ?? 0)} m each`;
  switch (CHART_FAMILIES[chart]) {
    case 'gaps': return 'pipe from one to the next';
    case 'vectors': return `${channelIds.length} channels on ${length}`;
    default: return `counts on ${length}`;
  }
}

/** The signals of points in a row, and what became of them. */
export function signalText(signals: readonly PlacedSignal[], part: ChartPart, view: ControlChartView, reactions: AnsweredSignals): string {
  const answer = signalAnswer(signals[0] as PlacedSignal, part, view, { reactions, places: new RecordPlaces() });
  const place = hullOf(signals.map(({ at }) => at));
  const labels = signals.length === 1 ? answer.label : [signals[0]?.at.label, signals.at(-1)?.at.label].filter((label) => label !== '').join(' to ');
  const words = [
    `${answer.panel} at ${[labels, place === null ? '' : formatInterval(place)].filter((word) => word !== '').join(', ')}${signals.length === 1 ? '' : ` (${signals.length} points)`}`,
    answer.rule.replaceAll('-', ' '), ...watchOf(signals).map((watch) => `watch ${formatInterval(watch)}`), part.limits === null ? 'against trial limits' : reactionWords(answer),
  ];
  return words.join('; ');
}

/** The pipe to mark for the signals of points in a row; none where nothing has a place. */
export function watchOf(signals: readonly PlacedSignal[]): Interval[] {
  const hull = hullOf(signals.map(({ watch }) => ({ place: watch })));
  return hull === null ? [] : [hull];
}

function reactionWords({ reactions, since, ageMinutes }: ChartSignalAnswer): string {
  if (reactions.length > 0) return `answered: ${reactions.map(({ label }) => label).join(', ')}`;
  return since === null ? 'not answered' : `not answered for ${ageWords(ageMinutes ?? 0)} (seen ${formatInstant(since)})`;
}

/** `2 h 05 min`, and from two days on whole days. */
export function ageWords(minutes: number): string {
  if (minutes >= 2 * 1_440) return `${Math.floor(minutes / 1_440)} days`;
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`;
}

/** Which limits, what the points resemble each other, what is to be minded, and what the plan asks for. */
export function notesOf({ chart, withoutLimits, bare }: ControlChartView, parts: readonly ChartPart[]): PictureNote[] {
  const { repeat, causes, adjust, decidedBy } = chart.reaction;
  const unwatched = withoutLimits.map(formatInterval).join(', ');
  const outside = bare.flatMap(outOfSpecification).length;
  return [
    ...parts.flatMap(partNotes),
    ...(unwatched === '' ? [] : [{ isWarning: true, text: `No limits hold for footage ${unwatched}: nothing is watched there.` }]),
    ...(outside === 0 ? [] : [{ isWarning: true, text: `On that pipe ${outsideWords(outside)}` }]),
    { isWarning: false, text: [`At a signal: ${repeat}`, `Then look for: ${causes.join(', ')}`, adjust, `Decided by: ${decidedBy}`].map(asSentence).join(' ') },
  ];
}

/** @example asSentence('Read again') // 'Read again.' */
const asSentence = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`);

function partNotes(part: ChartPart): PictureNote[] {
  const { advice: { lagOne, warnings }, better, asked } = part;
  const outside = outOfSpecification(part).length;
  const points = part.row.points.filter((point) => isAsked(part, point));
  const shown = points.length;
  const said = (text: string): PictureNote => ({ text, isWarning: false });
  return [
    said(`Footage ${formatInterval(asked)}, ${shown} points: ${limitWords(part)}`),
    ...leftOutNotes(part, points), ...betweenNotes(part),
    said(lagOne === null ? 'Too few neighbours to tell how far points resemble each other.'
      : `Lag-1 correlation ${lagOne.phi.toFixed(2)} (95 %: ${lagOne.interval.from.toFixed(2)} to ${lagOne.interval.to.toFixed(2)})${ofPoints(part, shown)}; independent points stay within ${lagOne.independentWithin.toFixed(2)}.`),
    ...warnings.map(({ text }) => ({ text, isWarning: true })),
    ...(better === null ? [] : [{ isWarning: true, text: [`Better for these points: ${better.design.chart.replaceAll('-', ' ')}.`, ...better.warnings.map((one) => one.text)].join(' ') }]),
    ...(outside === 0 ? [] : [{ isWarning: true, text: `Of these ${outsideWords(outside)}` }]),
  ];
}

const outsideWords = (readings: number): string => `${readings === 1 ? 'a reading is' : `${readings} readings are`} out of specification: a nonconformance is proposed, whatever the chart says.`;

/** A chart without points, or of the lesser part of its pipe, does not show that all is well. */
function leftOutNotes(part: ChartPart, shown: readonly RowPoint[]): PictureNote[] {
  const sums = leftOutSums(leftOutOf(part));
  const words = leftOutWords(sums);
  if (words === '') return shown.length === 0 ? [{ isWarning: true, text: 'Nothing was read on this pipe: it is not watched.' }] : [];
  const [without, shownMm] = [sums.reduce((total, { lengthMm }) => total + lengthMm, 0), IntervalSet.from(shown.flatMap(({ place }) => place ?? [])).totalLengthMm];
  return [{ isWarning: shown.length === 0 || without > shownMm, text: shown.length === 0 ? `None of this pipe is watched. Left out: ${words}.` : `Left out, and not watched: ${words}.` }];
}

function betweenNotes(part: ChartPart): PictureNote[] {
  const text = betweenWords(betweenMm(part));
  return text === '' ? [] : [{ isWarning: false, text }];
}

/** Patterns, and the correlation, are of the row from the last boundary on, or from where its limits apply: of more than is drawn. */
function ofPoints({ row: { points } }: ChartPart, shown: number): string {
  const fromMm = points[0]?.place?.fromMm ?? null;
  return points.length === shown ? '' : ` of ${points.length} points${fromMm === null ? '' : ` from footage ${inMetres(fromMm)} m on`}`;
}

function limitWords({ limits }: ChartPart): string {
  if (limits === null) return 'trial limits from these points, approved by nobody.';
  const { number, points, fromMm, toMm, appliesFromMm, signerName, enteredAt, state, warnings } = limits;
  const span = fromMm === null || toMm === null ? '' : ` of footage ${formatInterval({ fromMm, toMm })}`;
  const inSpiteOf = warnings.length === 0 ? '' : `, in spite of ${warnings.length} ${warnings.length === 1 ? 'warning' : 'warnings'}`;
  return `limits ${number} from ${points} points${span}, in force from ${inMetres(appliesFromMm)} m, signed by ${signerName} on ${formatInstant(enteredAt)}${inSpiteOf}${state === 'void' ? '; withdrawn since' : ''}.`;
}
