import type { Interval } from '#libs/intervals';
import { Boundaries, subgroupsOf, type SubgroupPlan } from '#libs/subgroups';
import type { ControlChartPlan } from '../control-charts/control-chart-plan.js';
import type { CharacteristicReading, CharacteristicReadings, CharacteristicSource, LeftOutReading } from './characteristic-source.js';
import type { ChartGround } from './chart-ground.js';
import type { RowPoint } from './chart-row.js';

/** Each reading by itself. */
export const SINGLE: SubgroupPlan = { size: 1, withinMm: 0, everyMm: 0 };

interface Gathered {
  readonly points: readonly RowPoint[];
  readonly leftOut: readonly LeftOutReading[];
}

/** The readings as points, in their order, and all that is left out. */
export function pointsOf(
  { readings, leftOut }: CharacteristicReadings, { gathering }: Pick<CharacteristicSource, 'gathering'>, ground: Pick<ChartGround, 'boundaries' | 'exclusions'>, { subgroup }: Pick<ControlChartPlan, 'subgroup'>,
): Gathered {
  if (gathering === 'by place') return byPlace(readings, leftOut, ground, subgroup ?? SINGLE);
  const size = gathering === 'points' ? 1 : subgroup?.size ?? 1;
  const between = new Boundaries(ground.boundaries);
  const groups = Array.from({ length: Math.floor(readings.length / size) }, (_, index) => readings.slice(index * size, (index + 1) * size));
  return { points: groups.map((group, index) => pointOf(group, isBroken(groups[index - 1]?.[0], group[0], between))), leftOut };
}

function byPlace(readings: readonly CharacteristicReading[], leftOut: readonly LeftOutReading[], { boundaries, exclusions }: Pick<ChartGround, 'boundaries' | 'exclusions'>, plan: SubgroupPlan): Gathered {
  const placed = readings.filter((reading): reading is PlacedReading => reading.place !== null);
  const found = subgroupsOf(placed.map(({ place }) => place), boundaries, exclusions, plan);
  return {
    points: found.subgroups.map((one) => pointOf(one.readings.map((index) => placed[index] as PlacedReading), one.beginsAnew)),
    leftOut: [...leftOut, ...found.leftOut.map(({ reading, because }) => {
      const { place, records } = placed[reading] as PlacedReading;
      return { place, because, records };
    })],
  };
}

type PlacedReading = CharacteristicReading & { readonly place: Interval };

function isBroken(before: CharacteristicReading | undefined, next: CharacteristicReading | undefined, between: Boundaries): boolean {
  if (before?.place == null || next?.place == null) return false;
  return between.upTo(before.place.fromMm) !== between.upTo(next.place.fromMm);
}

function pointOf(readings: readonly CharacteristicReading[], beginsAnew: boolean): RowPoint {
  const [first] = readings;
  // Of most rows every point is one reading: what follows costs four times as much.
  if (first !== undefined && readings.length === 1) return { values: first.values, of: first.of, beginsAnew, place: first.place, readings, coil: first.coil, label: first.label };
  const coils = new Set(readings.map(({ coil }) => coil));
  return {
    values: readings.flatMap(({ values }) => values), of: first?.of ?? null, beginsAnew, place: hullOf(readings), readings,
    coil: coils.size === 1 ? first?.coil ?? null : null, label: [...new Set(readings.map(({ label }) => label))].join(', '),
  };
}

/** From the first to the last of some places; null without any. */
export function hullOf(placed: readonly { readonly place: Interval | null }[]): Interval | null {
  const places = placed.flatMap(({ place }) => (place === null ? [] : [place]));
  if (places.length === 0) return null;
  return places.reduce(({ fromMm, toMm }, place) => ({ fromMm: Math.min(fromMm, place.fromMm), toMm: Math.max(toMm, place.toMm) }));
}
