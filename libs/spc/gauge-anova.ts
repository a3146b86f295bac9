import { minus, over, plus, type Ratio, ratio, times, toNumber } from '#libs/exact';
import { fTail } from './f-tail.js';
import type { GaugeLayout } from './gauge-layout.js';

export type GaugeSource = 'part' | 'appraiser' | 'interaction' | 'repeatability';

/** A row of the table of analysis of variance; squares are in the squared unit of the readings. */
export interface GaugeAnovaRow {
  readonly source: GaugeSource | 'total';
  readonly sumOfSquares: number;
  readonly degreesOfFreedom: number;
  /** Null in the row of the total. */
  readonly meanSquare: number | null;
  /** The row whose mean square is the denominator of F: what this mean square would match if the source had no effect. */
  readonly testedAgainst: GaugeSource | null;
  /** Null where nothing is tested, or where the denominator is 0. */
  readonly f: number | null;
  /** The probability of this F or a greater one without any effect of the source. */
  readonly p: number | null;
}

/** A source with its exact sum and mean of squares. */
export interface GaugeSquares {
  readonly sum: Ratio;
  readonly degrees: number;
  readonly mean: Ratio;
}

/** Interaction and appraiser are null in a study with one appraiser; interaction also once it is pooled. */
export interface GaugeSums {
  readonly part: GaugeSquares;
  readonly appraiser: GaugeSquares | null;
  readonly interaction: GaugeSquares | null;
  readonly repeatability: GaugeSquares;
}

/**
 * The sums of squares of a balanced study, exact. With T the total, P, A and C the sums of a part, of an appraiser and of both:
 *
 *     part ΣP²/(an) − T²/N                            appraiser ΣA²/(pn) − T²/N
 *     interaction ΣC²/n − T²/N − part − appraiser     repeatability Σx² − ΣC²/n
 *
 * for p parts, a appraisers, n trials, N = pan.
 */
export function gaugeSums({ cells, unit }: GaugeLayout): GaugeSums {
  const [p, a, n] = [cells.length, cells[0]?.length ?? 0, cells[0]?.[0]?.length ?? 0];
  const cellTotals = cells.map((row) => row.map(total));
  const partTotals = cellTotals.map(total);
  const appraiserTotals = Array.from({ length: a }, (_, index) => total(cellTotals.map((row) => row[index] ?? 0n)));
  const square = times(unit, unit);
  const scaled = (squares: bigint, share: number): Ratio => times(square, ratio(squares, BigInt(share)));
  const common = scaled(total(partTotals) ** 2n, p * a * n);
  const ofCells = scaled(sumOfSquares(cellTotals.flat()), n);
  const part = minus(scaled(sumOfSquares(partTotals), a * n), common);
  const appraiser = minus(scaled(sumOfSquares(appraiserTotals), p * n), common);
  const repeatability = squaresOf(minus(scaled(sumOfSquares(cells.flat(2)), 1), ofCells), p * a * (n - 1));
  if (a === 1) return { part: squaresOf(part, p - 1), appraiser: null, interaction: null, repeatability };
  return {
    part: squaresOf(part, p - 1),
    appraiser: squaresOf(appraiser, a - 1),
    interaction: squaresOf(minus(minus(minus(ofCells, common), part), appraiser), (p - 1) * (a - 1)),
    repeatability,
  };
}

/** The same study with what was the interaction counted as repeatability. */
export function pooledSums({ part, appraiser, interaction, repeatability }: GaugeSums): GaugeSums {
  if (interaction === null) return { part, appraiser, interaction, repeatability };
  const pooled = squaresOf(plus(interaction.sum, repeatability.sum), interaction.degrees + repeatability.degrees);
  return { part, appraiser, interaction: null, repeatability: pooled };
}

/**
 * The table of analysis of variance with parts and appraisers as random effects: parts and appraisers are tested against the
 * interaction where there is one, otherwise against repeatability. Tables that test them against repeatability in either case
 * speak of these parts and appraisers only, and print another F for the same squares.
 */
export function anovaTable(sums: GaugeSums): readonly GaugeAnovaRow[] {
  const { part, appraiser, interaction, repeatability } = sums;
  const below: GaugeSource = interaction === null ? 'repeatability' : 'interaction';
  const all = [part, appraiser, interaction, repeatability].filter((squares) => squares !== null);
  return [
    row('part', part, below, sums),
    ...(appraiser === null ? [] : [row('appraiser', appraiser, below, sums)]),
    ...(interaction === null ? [] : [row('interaction', interaction, 'repeatability', sums)]),
    row('repeatability', repeatability, null, sums),
    {
      source: 'total',
      sumOfSquares: toNumber(all.map(({ sum }) => sum).reduce(plus)),
      degreesOfFreedom: all.reduce((sum, { degrees }) => sum + degrees, 0),
      meanSquare: null, testedAgainst: null, f: null, p: null,
    },
  ];
}

function row(source: GaugeSource, squares: GaugeSquares, testedAgainst: GaugeSource | null, sums: GaugeSums): GaugeAnovaRow {
  const under = testedAgainst === null ? null : sums[testedAgainst];
  const f = under === null || under.mean.numerator === 0n ? null : toNumber(over(squares.mean, under.mean));
  return {
    source, sumOfSquares: toNumber(squares.sum), degreesOfFreedom: squares.degrees, meanSquare: toNumber(squares.mean), testedAgainst,
    f, p: f === null || under === null ? null : fTail(f, squares.degrees, under.degrees),
  };
}

const squaresOf = (sum: Ratio, degrees: number): GaugeSquares => ({ sum, degrees, mean: over(sum, ratio(BigInt(degrees))) });
const total = (values: readonly bigint[]): bigint => values.reduce((sum, value) => sum + value, 0n);
const sumOfSquares = (values: readonly bigint[]): bigint => values.reduce((sum, value) => sum + value * value, 0n);
