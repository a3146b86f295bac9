import { parseReading } from '#libs/conformity';
import { compare, decimal, minus, times, type Ratio } from '#libs/exact';
import { derivedValues, likeNumber, printedText, type EvaluationLine, type Requirement, type SourcedValue } from '#libs/strip';
import { exactConversion, isUnitName } from '#libs/units';
import type { CoilKnowledge } from './coil-knowledge.js';
import { sameNumber } from './coil-values.js';
import { note, refTo, warning, type CrossCheck } from './cross-check.js';

/** A printed carbon equivalent may differ so much from the one recomputed. Common practice, no published source. */
const EQUIVALENT_TOLERANCE = decimal('0.01');

const EQUIVALENTS = ['CE(IIW)', 'Pcm', 'CET'] as const;

/**
 * Does each printed carbon equivalent agree with the one its own analysis gives? Where either is known only to a bound, they
 * disagree when no value could be both. One that two people keyed differently is held against nothing.
 */
export function equivalentChecks(values: readonly SourcedValue[]): CrossCheck[] {
  const printed = values.filter(({ characteristic, doubt }) => doubt === null && EQUIVALENTS.some((one) => one === characteristic));
  return printed.flatMap((value): CrossCheck[] => {
    const derived = derivedValues(requirementOf(value), values);
    const recomputed = derived.find(({ source }) => source.label.endsWith(` of ${value.source.label}`)) ?? derived[0];
    const read = parseReading(value);
    if (recomputed === undefined || 'fault' in read || !isUnitName(value.unit)) return [];
    const { factor } = exactConversion(value.unit, '%');
    const inPercent = { low: read.low && times(read.low, factor), high: read.high && times(read.high, factor) };
    if (!isAbove(inPercent.low, recomputed.bounds.high) && !isAbove(recomputed.bounds.low, inPercent.high)) return [];
    const detail = `${value.characteristic} is printed as ${printedText(value)} on ${value.source.label}; recomputed it is ${recomputed.text}`;
    return [warning('carbon equivalent', detail, ...(value.source.record === null ? [] : [value.source.record]))];
  });
}

/** Whether the least value of one lies above the greatest of the other by more than the tolerance. */
const isAbove = (low: Ratio | null, high: Ratio | null): boolean =>
  low !== null && high !== null && compare(minus(low, high), EQUIVALENT_TOLERANCE) > 0;

const requirementOf = ({ characteristic, analysis }: SourcedValue): Requirement => ({
  characteristic, analysis, min: null, max: null, unit: '%', limitOf: 'value', toleranceTable: null, toDecimals: null, expandedU: null,
  temperatureC: null, baseMm: null, clause: null,
});

/** Does a value that does not conform look like a slip of unit or decimal point? It still does not conform. */
export function slipChecks(lines: readonly EvaluationLine[]): CrossCheck[] {
  return lines.flatMap(({ name, printed, source, looksLike }): CrossCheck[] => {
    if (looksLike === null) return [];
    const records = source?.record == null ? [] : [source.record];
    return [warning('slip', `${name} ${printed ?? ''} (${source?.label ?? ''}) looks like ${looksLike}`, ...records)];
  });
}

/** Does the tag name this coil and heat, and is the coil sound? */
export function receiptChecks({ coil, heat, receipts }: Pick<CoilKnowledge, 'coil' | 'heat' | 'receipts'>): CrossCheck[] {
  if (receipts.length === 0) return [note('tag', `coil ${coil.number} was not received: no tag was read, nothing weighed`, refTo('coil', coil))];
  return receipts.flatMap((receipt): CrossCheck[] => {
    const record = refTo('coil-receipt', receipt);
    const read = [['coil', receipt.tagNumber, coil.number], ['heat', receipt.tagHeatNumber ?? heat.number, heat.number]] as const;
    const tags = read.filter(([, tag, own]) => !sameNumber(tag, own)).map(([what, tag, own]) => {
      const near = likeNumber(tag, own);
      return warning('tag', `the tag says ${what} ${tag}; on record is ${own}: ${near.alike ? `nearly the same (${near.because})` : `another ${what}`}`, record);
    });
    const condition = receipt.condition === 'sound' ? [] : [warning('condition', `received ${receipt.condition}: ${receipt.damage ?? ''}`, record)];
    return [...tags, ...condition];
  });
}
