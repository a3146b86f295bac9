import type { ChartSignal, SignalRule } from '#libs/charting';
import type { Interval } from '#libs/intervals';
import type { SpecificationLimits } from '#libs/spc';
import type { CharacteristicReading } from '../characteristics/characteristic-source.js';
import type { RowPoint } from '../characteristics/chart-row.js';
import { isOfReadings, specified } from './chart-design.js';
import { isAsked, type ChartPart } from './chart-part.js';
import { eachOfPattern, signallingPoint } from './signal-points.js';

/** A signal of a part, with its place. */
export interface PlacedSignal {
  readonly signal: ChartSignal;
  readonly shows: ChartPart['charted']['panels'][number]['shows'];
  readonly rule: SignalRule;
  /** The point of the row at which it signals. */
  readonly at: RowPoint;
  /** All pipe of the pattern; null of what has no place. */
  readonly pattern: Interval | null;
  /** Pipe to mark: from the end of the last point before the pattern that is in none on its panel, up to the end of it. Null as above. */
  readonly watch: Interval | null;
}

/** The signals of a part at points that are asked about. */
export function placedSignals(part: ChartPart): PlacedSignal[] {
  const { charted, row: { points } } = part;
  const goodEnds = charted.panels.map((_, panel) => goodEndsOf(part, panel));
  return charted.signals.flatMap((signal): PlacedSignal[] => {
    const at = points[signallingPoint(charted, signal)] as RowPoint;
    if (!isAsked(part, at)) return [];
    const { first, hull } = reachOf(part, signal);
    const goodEnd = goodEnds[signal.panel]?.[first] ?? NaN;
    const watch = hull === null ? null : { fromMm: Number.isNaN(goodEnd) ? points[0]?.place?.fromMm ?? hull.fromMm : goodEnd, toMm: hull.toMm };
    return [{ signal, shows: charted.panels[signal.panel]?.shows ?? 'values', rule: signal.rule, at, pattern: hull, watch }];
  });
}

/** The first point of a pattern, and all pipe from its first to its last place; null without any. */
function reachOf({ charted, row: { points } }: ChartPart, signal: ChartSignal): { readonly first: number; readonly hull: Interval | null } {
  let [first, fromMm, toMm] = [Infinity, Infinity, -Infinity];
  eachOfPattern(charted, signal, (index) => {
    first = Math.min(first, index);
    const place = points[index]?.place ?? null;
    if (place === null) return;
    fromMm = Math.min(fromMm, place.fromMm);
    toMm = Math.max(toMm, place.toMm);
  });
  return { first: first === Infinity ? 0 : first, hull: fromMm < toMm ? { fromMm, toMm } : null };
}

/** Before each point of the row, the end of the last one that is in no pattern of a panel and has a place, mm; NaN without one. */
function goodEndsOf({ charted, row: { points } }: ChartPart, panel: number): Float64Array {
  const isBad = new Uint8Array(points.length);
  for (const signal of charted.signals) if (signal.panel === panel) eachOfPattern(charted, signal, (index) => { isBad[index] = 1; });
  let goodEnd = NaN;
  return Float64Array.from(points, ({ place }, index) => {
    const before = goodEnd;
    if (isBad[index] === 0 && place !== null) goodEnd = place.toMm;
    return before;
  });
}

/** A reading that is not as specified. */
export interface OutOfSpecification {
  readonly reading: CharacteristicReading;
  readonly value: number;
  readonly side: 'below' | 'above';
}

/** The readings of some pipe beyond the specification: they alone propose a nonconformance, whatever the chart says. */
export function outOfSpecification(part: Pick<ChartPart, 'plan' | 'row' | 'asked'>): OutOfSpecification[] {
  const limits = specified(part.plan.specification);
  if (limits === null || !isOfReadings(part.plan)) return [];
  return part.row.points.filter((point) => isAsked(part, point)).flatMap(({ readings }) => readings.flatMap((reading) => beyond(reading, limits)));
}

function beyond(reading: CharacteristicReading, { lower, upper }: SpecificationLimits): OutOfSpecification[] {
  return reading.values.flatMap((value): OutOfSpecification[] => {
    if (lower !== null && value < lower) return [{ reading, value, side: 'below' }];
    return upper !== null && value > upper ? [{ reading, value, side: 'above' }] : [];
  });
}
