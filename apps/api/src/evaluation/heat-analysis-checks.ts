import { parseReading } from '#libs/conformity';
import { compare, decimal, minus, over, ratio, times, type Ratio } from '#libs/exact';
import { findCharacteristic, type PrintedValue } from '#libs/strip';
import { exactConversion, isUnitName } from '#libs/units';
import { linesOf } from '../transcriptions/packed-lines.js';
import type { CoilKnowledge, NamingPaper } from './coil-knowledge.js';
import { sameNumber } from './coil-values.js';
import { refTo, warning, type CrossCheck } from './cross-check.js';

/** A value of the melt on one paper. */
interface Reported {
  readonly value: PrintedValue;
  readonly paper: NamingPaper;
  /** Mass fraction in %. */
  readonly exact: Ratio;
  /** Place of the last digit printed, in %. */
  readonly decimals: number;
}

/**
 * One heat has one analysis: does every paper that names the heat say the same, to the digits that the coarser one prints?
 * Values of which only a bound is known are left out.
 */
export function heatAnalysisChecks({ heat, namingHeat }: Pick<CoilKnowledge, 'heat' | 'namingHeat'>): CrossCheck[] {
  return [...differentValues(heat.number, namingHeat)].flatMap(([element, values]): CrossCheck[] => {
    const pair = firstThatDiffer([...values.values()]);
    if (pair === null) return [];
    const said = pair.map(({ value, paper }) => `${value.printed} ${value.unit}${value.multiplier === '1' ? '' : ` (printed ×${value.multiplier})`} on certificate ${paper.certificate.number}`);
    const keyings = [...new Set(pair.map(({ paper }) => paper.keying))].map((keying) => refTo('certificate-transcription', keying));
    return [warning('heat analysis', `heat ${heat.number} has two heat analyses: ${element} ${said.join(', ')}`, ...keyings)];
  });
}

/** By element, what is said of the heat, each different value once: papers repeat it on each of its coils. */
function differentValues(heatNumber: string, papers: readonly NamingPaper[]): Map<string, Map<string, Reported>> {
  const byElement = new Map<string, Map<string, Reported>>();
  for (const paper of papers) {
    for (const value of heatValues(paper, heatNumber)) {
      const values = byElement.get(value.characteristic) ?? new Map<string, Reported>();
      byElement.set(value.characteristic, values);
      const key = `${value.printed} ${value.unit} ${value.multiplier}`;
      const read = values.has(key) ? null : reported(value, paper);
      if (read !== null) values.set(key, read);
    }
  }
  return byElement;
}

function heatValues({ keying }: NamingPaper, heatNumber: string): PrintedValue[] {
  return linesOf(keying)
    .filter((line) => line.heatNumber !== null && sameNumber(line.heatNumber, heatNumber))
    .flatMap((line) => line.values.filter(({ analysis, characteristic }) => analysis === 'heat' && findCharacteristic(characteristic)?.kind === 'chemistry'));
}

function reported(value: PrintedValue, paper: NamingPaper): Reported | null {
  const read = parseReading(value);
  if ('fault' in read || read.low === null || read.high === null || !isUnitName(value.unit)) return null;
  const { factor } = exactConversion(value.unit, '%');
  return { value, paper, exact: times(read.low, factor), decimals: read.decimals + (value.unit === 'ppm' ? PPM_PLACES : 0) };
}

/** 1 ppm is 0.0001 %. */
const PPM_PLACES = 4;

function firstThatDiffer(values: readonly Reported[]): readonly [Reported, Reported] | null {
  for (const [index, one] of values.entries()) {
    const other = values.slice(index + 1).find((next) => !agree(one, next));
    if (other !== undefined) return [one, other];
  }
  return null;
}

/** Whether the finer value rounds to the coarser one. A tie may have been rounded either way: 0.085 is 0.08 and 0.09. */
function agree(one: Reported, other: Reported): boolean {
  const apart = minus(one.exact, other.exact);
  const half = halfUnit(Math.min(one.decimals, other.decimals));
  return compare(apart, half) <= 0 && compare(minus(ratio(0n), apart), half) <= 0;
}

function halfUnit(decimals: number): Ratio {
  const half = decimal('0.5');
  return decimals >= 0 ? over(half, ratio(10n ** BigInt(decimals))) : times(half, ratio(10n ** BigInt(-decimals)));
}
