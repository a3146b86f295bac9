import type { ChartSignal, SignalRule } from '#libs/charting';
import type { Interval } from '#libs/intervals';
import type { SpecificationLimits } from '#libs/spc';
import type { CharacteristicReading } from '../characteristics/characteristic-source.js';
import type { RowPoint } from '../characteristics/chart-row.js';
import { hullOf } from '../characteristics/row-points.js';
import { isOfReadings, specified } from './chart-design.js';
import { isAsked, type ChartPart } from './chart-part.js';
import { patternOf, signallingPoint } from './signal-points.js';

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
  const bad = charted.panels.map((_, panel) => new Set(charted.signals.filter((signal) => signal.panel === panel).flatMap((signal) => patternOf(charted, signal))));
  return charted.signals.flatMap((signal): PlacedSignal[] => {
    const at = points[signallingPoint(charted, signal)] as RowPoint;
    if (!isAsked(part, at)) return [];
    const pattern = patternOf(charted, signal);
    const hull = hullOf(pattern.flatMap((index) => points[index] ?? []));
    const first = pattern[0] ?? 0;
    const watch = hull === null ? null : { fromMm: goodUpTo(points, bad[signal.panel] as Set<number>, first) ?? points[0]?.place?.fromMm ?? hull.fromMm, toMm: hull.toMm };
    return [{ signal, shows: charted.panels[signal.panel]?.shows ?? 'values', rule: signal.rule, at, pattern: hull, watch }];
  });
}

/** Where the last point before a pattern ends that is in no pattern; null without one. */
function goodUpTo(points: readonly RowPoint[], bad: ReadonlySet<number>, before: number): number | null {
  for (let index = before - 1; index >= 0; index -= 1) {
    const place = points[index]?.place ?? null;
    if (!bad.has(index) && place !== null) return place.toMm;
  }
  return null;
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
