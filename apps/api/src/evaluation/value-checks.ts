import { parseReading } from '#libs/conformity';
import { compare, decimal, minus, ratio } from '#libs/exact';
import { derivedValues, likeNumber, type EvaluationLine, type Requirement, type SourcedValue } from '#libs/strip';
import type { CoilKnowledge } from './coil-knowledge.js';
import { note, refTo, warning, type CrossCheck } from './cross-check.js';

/** A printed carbon equivalent may differ so much from the one recomputed. Common practice, no published source. */
const EQUIVALENT_TOLERANCE = decimal('0.01');

const EQUIVALENTS = ['CE(IIW)', 'Pcm', 'CET'] as const;

/** Does each printed carbon equivalent agree with the one its own analysis gives? */
export function equivalentChecks(values: readonly SourcedValue[]): CrossCheck[] {
  return values.filter(({ characteristic }) => EQUIVALENTS.some((one) => one === characteristic)).flatMap((printed): CrossCheck[] => {
    const [recomputed] = derivedValues(requirementOf(printed), values);
    const read = parseReading(printed);
    if (recomputed === undefined || 'fault' in read || read.low === null) return [];
    const { low, high } = recomputed.bounds;
    const below = low === null ? ratio(-1n) : minus(low, read.low);
    const above = high === null ? ratio(-1n) : minus(read.low, high);
    if (compare(below, EQUIVALENT_TOLERANCE) <= 0 && compare(above, EQUIVALENT_TOLERANCE) <= 0) return [];
    return [warning('carbon equivalent', `${printed.characteristic} is printed as ${printed.printed} on ${printed.source.label}; recomputed it is ${recomputed.text}`, ...(printed.source.record === null ? [] : [printed.source.record]))];
  });
}

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
    const tags = read.filter(([, tag, own]) => tag !== own).map(([what, tag, own]) => {
      const near = likeNumber(tag, own);
      return warning('tag', `the tag says ${what} ${tag}; on record is ${own}: ${near.alike ? `nearly the same (${near.because})` : `another ${what}`}`, record);
    });
    const condition = receipt.condition === 'sound' ? [] : [warning('condition', `received ${receipt.condition}: ${receipt.damage ?? ''}`, record)];
    return [...tags, ...condition];
  });
}
