import { minus, over, ratio, toNumber } from '#libs/exact';
import { anovaTable, type GaugeAnovaRow, type GaugeSquares, gaugeSums, type GaugeSums, pooledSums } from './gauge-anova.js';
import type { GaugeLayout } from './gauge-layout.js';

/** A variance component, in the squared unit of the readings. */
export interface VarianceComponent {
  /** As the formula gives it, which can be below 0. */
  readonly estimate: number;
  /** The estimate, or 0 in place of a negative one. */
  readonly variance: number;
  readonly isSetToZero: boolean;
  /** Why it was set to 0; null when it was not. */
  readonly note: string | null;
}

/** What became of the interaction between parts and appraisers. */
export interface InteractionPooling {
  readonly isPooled: boolean;
  readonly poolAbovePValue: number;
  readonly p: number | null;
  readonly reason: string;
}

export interface GaugeAnova {
  /** The table with the interaction in a row of its own. */
  readonly table: readonly GaugeAnovaRow[];
  /** The table with the interaction pooled into repeatability; null when it was not pooled. */
  readonly pooledTable: readonly GaugeAnovaRow[] | null;
  /** Null in a study with one appraiser, who can have no interaction. */
  readonly pooling: InteractionPooling | null;
  readonly components: {
    readonly repeatability: VarianceComponent;
    /** Null in a study with one appraiser. */
    readonly appraiser: VarianceComponent | null;
    /** Null in a study with one appraiser, and once it is pooled. */
    readonly interaction: VarianceComponent | null;
    readonly part: VarianceComponent;
  };
}

/**
 * Analysis of variance of a crossed study with parts and appraisers as random effects. From the mean squares MS of the table in
 * use, for p parts, a appraisers and n trials:
 *
 *     repeatability MSe    interaction (MSi − MSe)/n    appraiser (MSa − MSi)/(pn)    part (MSp − MSi)/(an)
 *
 * with MSe in place of MSi where there is no interaction or it is pooled. AIAG, Measurement Systems Analysis, 4th ed. (2010),
 * chapter III section B and Appendix A. Throws RangeError when the level of pooling is not within 0 and 1.
 */
export function gaugeAnova(layout: GaugeLayout, poolAbovePValue: number): GaugeAnova {
  if (!(poolAbovePValue >= 0 && poolAbovePValue <= 1)) throw new RangeError(`the level of pooling is not within 0 and 1: ${poolAbovePValue}`);
  const sums = gaugeSums(layout);
  const table = anovaTable(sums);
  const pooling = poolingOf(sums, table, poolAbovePValue);
  const inUse = pooling?.isPooled === true ? pooledSums(sums) : sums;
  return { table, pooledTable: inUse === sums ? null : anovaTable(inUse), pooling, components: componentsOf(inUse, layout) };
}

function poolingOf({ interaction }: GaugeSums, table: readonly GaugeAnovaRow[], poolAbovePValue: number): InteractionPooling | null {
  if (interaction === null) return null;
  const p = table.find(({ source }) => source === 'interaction')?.p ?? null;
  // Without any repeatability there is no test: an interaction of 0 changes nothing, any other is beyond doubt.
  const isPooled = p === null ? interaction.sum.numerator === 0n : p > poolAbovePValue;
  const ground = p === null
    ? `repeatability is 0, which leaves nothing to test the interaction against, and the interaction is ${isPooled ? '0 too' : 'above 0'}`
    : `the p value of the interaction, ${Number(p.toPrecision(3))}, is ${isPooled ? '' : 'not '}above ${poolAbovePValue}`;
  const outcome = isPooled ? 'it is pooled into repeatability' : 'it is kept, as part of reproducibility';
  return { isPooled, poolAbovePValue, p, reason: `${ground}: ${outcome}` };
}

function componentsOf({ part, appraiser, interaction, repeatability }: GaugeSums, layout: GaugeLayout): GaugeAnova['components'] {
  const [p, a, n] = [layout.parts.length, layout.appraisers.length, layout.trials.length];
  const [below, name] = interaction === null ? [repeatability, 'repeatability'] : [interaction, 'the interaction'];
  const excess = (of: GaugeSquares, under: GaugeSquares, readings: number): number =>
    toNumber(over(minus(of.mean, under.mean), ratio(BigInt(readings))));
  return {
    repeatability: component(toNumber(repeatability.mean), ''),
    appraiser: appraiser === null ? null : component(excess(appraiser, below, p * n), lessThan('appraisers', name)),
    interaction: interaction === null ? null : component(excess(interaction, repeatability, n), lessThan('the interaction', 'repeatability')),
    part: component(excess(part, below, a * n), lessThan('parts', name)),
  };
}

const lessThan = (source: string, other: string): string =>
  `the mean square of ${source} is below that of ${other}, which makes the estimate negative; a variance is not, and 0 stands for it`;

/** `note` says why an estimate can be negative. */
export function component(estimate: number, note: string): VarianceComponent {
  const isSetToZero = estimate < 0;
  return { estimate, variance: isSetToZero ? 0 : estimate, isSetToZero, note: isSetToZero ? note : null };
}
