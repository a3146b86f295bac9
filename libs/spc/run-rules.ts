import type { ChartPoint } from './control-chart.js';

/**
 * Rules by which points of a Shewhart chart signal, alone or several in a row. "Beyond" is strict: a point exactly on a line is
 * not beyond it and not within it either, and one exactly on the centre line belongs to neither side and ends a run. With every
 * rule false alarms become more frequent (`shewhartRunLength`), so each is chosen by itself.
 */

/** Where a point lies: 1 in the zone of the rule above the centre, −1 below, 0 outside; where sides do not matter, 1 or 0. */
type InZone = (point: PlacedPoint) => -1 | 0 | 1;

export type PlacedPoint = Pick<ChartPoint, 'value' | 'centre' | 'standardError'>;

/** `count` of `of` points in a row in a zone, the last of them among them. */
export interface ZoneRule {
  readonly text: string;
  readonly count: number;
  readonly of: number;
  readonly inZone: InZone;
}

/** So many points in a row of which each is above the last, or each below, or by turns. Limits play no part. */
export interface StepRule {
  readonly text: string;
  readonly points: number;
  readonly alternating: boolean;
}

const beyond = (sigmas: number): InZone => ({ value, centre, standardError }) => {
  if (value > centre + sigmas * standardError) return 1;
  return value < centre - sigmas * standardError ? -1 : 0;
};
const within = (sigmas: number): InZone => ({ value, centre, standardError }) =>
  value > centre - sigmas * standardError && value < centre + sigmas * standardError ? 1 : 0;
const oneSide = (count: number): ZoneRule => ({ text: `${count} points in a row on one side of the centre line`, count, of: count, inZone: beyond(0) });
const steadily = (points: number): StepRule => ({ text: `${points} points in a row, each above the last or each below it`, points, alternating: false });

export const RUN_RULES = {
  oneBeyond3Sigma: { text: '1 point beyond 3 standard deviations', count: 1, of: 1, inZone: beyond(3) },
  twoOfThreeBeyond2Sigma: { text: '2 of 3 points in a row beyond 2 standard deviations, on one side', count: 2, of: 3, inZone: beyond(2) },
  fourOfFiveBeyond1Sigma: { text: '4 of 5 points in a row beyond 1 standard deviation, on one side', count: 4, of: 5, inZone: beyond(1) },
  sevenOnOneSide: oneSide(7),
  eightOnOneSide: oneSide(8),
  nineOnOneSide: oneSide(9),
  sixSteadily: steadily(6),
  sevenSteadily: steadily(7),
  fourteenAlternating: { text: '14 points in a row, by turns above and below the last', points: 14, alternating: true },
  fifteenWithin1Sigma: { text: '15 points in a row within 1 standard deviation', count: 15, of: 15, inZone: within(1) },
  // On which sides they lie is left open: eight beyond on one side are no less a sign. Our own choice.
  eightBeyond1Sigma: {
    text: '8 points in a row beyond 1 standard deviation, on either side', count: 8, of: 8, inZone: (point) => beyond(1)(point) === 0 ? 0 : 1,
  },
} as const satisfies Readonly<Record<string, ZoneRule | StepRule>>;

export type RunRule = keyof typeof RUN_RULES;

/** Western Electric Company, Statistical Quality Control Handbook (1956), pp. 25-28. */
export const WESTERN_ELECTRIC_RULES: readonly RunRule[] = [
  'oneBeyond3Sigma', 'twoOfThreeBeyond2Sigma', 'fourOfFiveBeyond1Sigma', 'eightOnOneSide',
];

/** L. S. Nelson, The Shewhart control chart - tests for special causes, Journal of Quality Technology 16 (1984), 237-239; also ISO 8258:1991. */
export const NELSON_RULES: readonly RunRule[] = [
  'oneBeyond3Sigma', 'nineOnOneSide', 'sixSteadily', 'fourteenAlternating', 'twoOfThreeBeyond2Sigma', 'fourOfFiveBeyond1Sigma',
  'fifteenWithin1Sigma', 'eightBeyond1Sigma',
];

/** ISO 7870-2, from memory: one beyond, seven on one side, seven up or down; any other pattern that is plainly not random is for the eye. */
export const ISO_7870_2_RULES: readonly RunRule[] = ['oneBeyond3Sigma', 'sevenOnOneSide', 'sevenSteadily'];

/** The lines between all zones that rules know, in standard deviations. */
export const ZONE_LINES = [-3, -2, -1, 0, 1, 2, 3] as const;

export interface RunSignal {
  readonly rule: RunRule;
  /** The point at which it signals, from 1. */
  readonly point: number;
  /** The points that make the pattern, in order, the signalling one last. */
  readonly points: readonly number[];
}

/**
 * Every point at which a rule signals, by point and then in the order of the rules. A pattern that lasts signals at each of its
 * points from the one that completes it. `beginsAnew` names points before which something else began, as after a splice or
 * a stop: no pattern reaches across. Throws RangeError when a value, centre or standard deviation is not a number.
 */
export function runSignals(points: readonly PlacedPoint[], rules: readonly RunRule[], beginsAnew: readonly number[] = []): RunSignal[] {
  points.forEach(demandPlaced);
  const begins = new Set(beginsAnew);
  const order = [...new Set(rules)];
  return order.flatMap((rule) => {
    const pattern: ZoneRule | StepRule = RUN_RULES[rule];
    return 'inZone' in pattern ? zoneSignals(points, rule, pattern, begins) : stepSignals(points, rule, pattern, begins);
  }).sort((one, other) => one.point - other.point || order.indexOf(one.rule) - order.indexOf(other.rule));
}

/**
 * What a zone rule remembers: which of the last points were in its zone on either side, the last one in the lowest bit. Of a rule
 * that all points must meet only those since the last that did not.
 */
export interface ZoneMemory {
  readonly above: number;
  readonly below: number;
}

export const NO_MEMORY: ZoneMemory = { above: 0, below: 0 };

/** One point further: what is remembered then, and the side on which the rule signals, if it does. */
export function advance(rule: ZoneRule, memory: ZoneMemory, point: PlacedPoint): { readonly memory: ZoneMemory; readonly side: -1 | 0 | 1 } {
  const side = rule.inZone(point);
  const above = shifted(rule, memory.above, side === 1);
  const below = shifted(rule, memory.below, side === -1);
  const count = bitsOf(side === 1 ? above : below);
  const keep = 2 ** (rule.of - 1) - 1;
  return { memory: { above: above & keep, below: below & keep }, side: side !== 0 && count >= rule.count ? side : 0 };
}

function shifted({ count, of }: ZoneRule, bits: number, isIn: boolean): number {
  if (isIn) return (bits << 1) | 1;
  return count === of ? 0 : bits << 1;
}

function bitsOf(bits: number): number {
  let count = 0;
  for (let rest = bits; rest !== 0; rest &= rest - 1) count++;
  return count;
}

function zoneSignals(points: readonly PlacedPoint[], rule: RunRule, pattern: ZoneRule, begins: ReadonlySet<number>): RunSignal[] {
  const signals: RunSignal[] = [];
  let [memory, since] = [NO_MEMORY, 0];
  points.forEach((placed, index) => {
    if (begins.has(index + 1)) [memory, since] = [NO_MEMORY, index];
    const next = advance(pattern, memory, placed);
    ({ memory } = next);
    if (next.side === 0) return;
    const first = Math.max(since, index - pattern.of + 1);
    signals.push({ rule, point: index + 1, points: inZoneOf(points, first, index, (one) => pattern.inZone(one) === next.side) });
  });
  return signals;
}

/** The numbers, from 1, of the points from `first` to `last` that are in a zone. A row may signal at nearly every point: no list is made and thrown away. */
function inZoneOf(points: readonly PlacedPoint[], first: number, last: number, isIn: (point: PlacedPoint) => boolean): number[] {
  const made: number[] = [];
  for (let index = first; index <= last; index++) if (isIn(points[index] as PlacedPoint)) made.push(index + 1);
  return made;
}

function stepSignals(points: readonly PlacedPoint[], rule: RunRule, { points: length, alternating }: StepRule, begins: ReadonlySet<number>): RunSignal[] {
  const signals: RunSignal[] = [];
  let [steps, direction] = [0, 0];
  points.forEach(({ value }, index) => {
    const before = begins.has(index + 1) ? undefined : points[index - 1]?.value;
    const next = before === undefined ? 0 : Math.sign(value - before);
    const goesOn = next !== 0 && direction !== 0 && (next === direction) !== alternating;
    steps = goesOn ? steps + 1 : Math.abs(next);
    direction = next;
    if (steps < length - 1) return;
    signals.push({ rule, point: index + 1, points: Array.from({ length }, (_, place) => index + 2 - length + place) });
  });
  return signals;
}

function demandPlaced({ value, centre, standardError }: PlacedPoint): void {
  if (!Number.isFinite(value) || !Number.isFinite(centre) || !(standardError > 0 && standardError < Infinity)) {
    throw new RangeError(`not a point of a chart: ${value}, about ${centre} with the standard deviation ${standardError}`);
  }
}
