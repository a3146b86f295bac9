import type { ChartDesign, PanelPoint, PanelShows } from '#libs/charting';
import type { Interval } from '#libs/intervals';
import type { ControlChartPicture, HeadMarkKind, PictureNote, PicturePanel, PicturePoint } from '#libs/reports';
import type { BoundaryKind, ChartGround } from '../characteristics/chart-ground.js';
import type { RowPoint } from '../characteristics/chart-row.js';
import { isOfReadings } from './chart-design.js';
import { isAsked, type ChartPart } from './chart-part.js';
import { placedSignals, type PlacedSignal } from './chart-signals.js';
import type { ControlChartView } from './control-chart-views.service.js';
import { pictureAxis, type OnAxis } from './picture-axis.js';
import { notesOf, signalText, titlesOf, watchOf } from './picture-words.js';
import type { AnsweredSignals } from './answered-signals.js';

/** Panels on which a reading can be held against its specification: those of single readings. */
const OF_READINGS: ReadonlySet<PanelShows> = new Set(['values', 'means', 'batch means']);
const ZONED: ReadonlySet<ChartDesign['rules'][number]> = new Set(['twoOfThreeBeyond2Sigma', 'fourOfFiveBeyond1Sigma', 'fifteenWithin1Sigma', 'eightBeyond1Sigma']);
const MARKED: Readonly<Record<BoundaryKind, HeadMarkKind | null>> = {
  // Coils have a lane of their own, and splices are drawn with their width.
  coil: null, splice: null, 're-join': 're-join', 'cut-out': 'cut-out', stop: 'stop', 'set-up change': 'set-up change', check: 'check', 'inspection run': 'inspection run',
};

/** A part with its signals, numbered through the picture: those of points in a row by the same rule, answered alike, are told as one. */
interface NumberedPart {
  readonly part: ChartPart;
  readonly runs: readonly SignalRun[];
}

export interface SignalRun {
  readonly number: number;
  readonly signals: readonly PlacedSignal[];
}

/** A chart as it is drawn: the parts that are charted as the last one is, side by side. Null where there is no part. */
export function pictureOf(view: ControlChartView, datum: string, reactions: AnsweredSignals): ControlChartPicture | null {
  const last = view.parts.at(-1);
  if (last === undefined) return null;
  const parts = numbered(view.parts.filter((part) => shapeOf(part) === shapeOf(last)), reactions);
  const { axis, place } = pictureAxis(view, parts.map(({ part }) => part), datum);
  const isPipe = axis.by === 'pipe';
  const { ground } = last.row;
  return {
    titles: titlesOf(view, last), axis,
    marks: isPipe ? marksOf(ground).flatMap(({ span, ...mark }) => place.footage(span).map((one) => ({ ...one, ...mark }))) : [],
    coils: isPipe ? apart(coilsOf(ground).flatMap(({ span, label }) => place.footage(span).map((one) => ({ ...one, label })))) : [],
    panels: last.charted.panels.map((_, nth) => panelOf(parts, nth, place)),
    watch: isPipe ? parts.flatMap(({ runs }) => runs.flatMap(({ signals }) => watchOf(signals))).flatMap((one) => place.footage(one)).filter(({ fromMm, toMm }) => fromMm < toMm) : [],
    signals: parts.flatMap(({ part, runs }) => runs.map(({ number, signals }) => ({ number, rule: (signals[0] as PlacedSignal).rule, text: signalText(signals, part, view, reactions) }))),
    notes: [...unlike(view.parts, last), ...notesOf(view, parts.map(({ part }) => part))],
  };
}

const shapeOf = ({ charted: { panels }, plan: { unit } }: ChartPart): string => [...panels.map(({ shows }) => shows), unit].join();

function numbered(parts: readonly ChartPart[], reactions: AnsweredSignals): NumberedPart[] {
  let number = 0;
  return parts.map((part) => {
    const runs: { number: number; signals: PlacedSignal[] }[] = [];
    const last = new Map<string, PlacedSignal[]>();
    for (const placed of placedSignals(part)) {
      const key = [placed.signal.panel, placed.rule, ...(part.limits === null ? [] : reactions.to(part.limits.id, placed).map(({ id }) => id))].join();
      const run = last.get(key);
      if (run?.at(-1)?.signal.point === placed.signal.point - 1) run.push(placed);
      else {
        const signals = [placed];
        runs.push({ number: (number += 1), signals });
        last.set(key, signals);
      }
    }
    return { part, runs };
  });
}

/** What is charted in another way cannot stand beside it, and is told. */
const unlike = (parts: readonly ChartPart[], last: ChartPart): PictureNote[] => parts.filter((part) => shapeOf(part) !== shapeOf(last)).map(({ limits, design, asked }) => ({
  isWarning: true, text: `Footage ${asked.fromMm / 1000} to ${asked.toMm / 1000} m is charted in another way (limits ${limits?.number ?? ''}, ${design.chart}), and is not on this picture: ask for it by those limits.`,
}));

function panelOf(parts: readonly NumberedPart[], nth: number, place: OnAxis): PicturePanel {
  const { part: first } = parts[0] as NumberedPart;
  const shows = first.charted.panels[nth]?.shows ?? 'values';
  const { specification } = first.plan;
  const ofReadings = isOfReadings(first.plan) && OF_READINGS.has(shows);
  const points = parts.flatMap(({ part, runs }) => {
    const at = new Map<number, number[]>();
    for (const { number, signals } of runs) for (const { signal } of signals) if (signal.panel === nth) at.set(signal.point, [...(at.get(signal.point) ?? []), number]);
    return (part.charted.panels[nth]?.points ?? []).flatMap((point, index) => pointOf(part, point, at.get(index) ?? [], place));
  });
  return {
    shows, unit: unitOf(shows, first.plan.unit), points: points.sort((a, b) => a.fromMm - b.fromMm), hasZones: nth === 0 && first.design.rules.some((rule) => ZONED.has(rule)),
    specification: !ofReadings || specification === null ? null : { lower: specification.lower, upper: specification.upper },
  };
}

const unitOf = (shows: PanelShows, unit: string): string => (shows === 'T²' ? '1' : unit);

function pointOf(part: ChartPart, { from, to, value, centre, lower, upper, standardError }: PanelPoint, signals: number[], place: OnAxis): PicturePoint[] {
  const [first, last] = [part.row.points[from] as RowPoint, part.row.points[to] as RowPoint];
  if (!isAsked(part, last)) return [];
  const on = place.points(first, last);
  if (on === null) return [];
  return [{
    ...on, value, centre, lower, upper, standardError, signals, leftOut: isWithout(part, from, to) ? 'removed' : null,
    beginsAnew: first.beginsAnew,
  }];
}

/** Of a batch, and of a range between two points, one that was removed takes all of it out of the limits. */
function isWithout({ isRemoved }: ChartPart, from: number, to: number): boolean {
  for (let index = from; index <= to; index += 1) if (isRemoved.has(index)) return true;
  return false;
}

/** Each place of a kind once: what ends there and what begins anew are two records. */
function marksOf({ splices, boundaries }: ChartGround): { kind: HeadMarkKind; label: string; span: Interval }[] {
  const marks = boundaries.flatMap(({ kind, atMm }) => (MARKED[kind] === null ? [] : [{ kind: MARKED[kind], label: '', span: { fromMm: atMm, toMm: atMm + 1 } }]));
  const first = new Map(marks.map((mark) => [`${mark.kind} ${mark.span.fromMm}`, mark]));
  return [...splices.map(({ span, number }) => ({ kind: 'splice' as const, label: number, span })), ...first.values()];
}

const coilsOf = ({ segments, coilNumbers }: ChartGround): { span: Interval; label: string }[] => segments.map(({ span, coilId }) => ({ span, label: coilNumbers.get(coilId) ?? '?' }));

/** In order, and none over the next: where records overlap the later one ends first. */
const apart = <T extends Interval>(spans: readonly T[]): T[] => {
  const sorted = spans.toSorted((a, b) => a.fromMm - b.fromMm);
  return sorted.map((one, index) => ({ ...one, toMm: Math.min(one.toMm, sorted[index + 1]?.fromMm ?? one.toMm) })).filter(({ fromMm, toMm }) => fromMm < toMm);
};
