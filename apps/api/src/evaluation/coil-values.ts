import { requirementName, type PaperLine, type PrintedValue, type SourcedValue, type ValueSource } from '#libs/strip';
import { placeOf, valuesOf } from '../incoming-checks/incoming-check.rules.js';
import type { IncomingCheck } from '../incoming-checks/incoming-check.entity.js';
import type { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import { eachByName } from '../transcriptions/each-by-name.js';
import { saysTheSame, valueText } from '../transcriptions/keying-comparison.js';
import { linesOf } from '../transcriptions/packed-lines.js';
import type { CoilKnowledge, CoilPaper } from './coil-knowledge.js';

/** Every value known of a coil, with its source: from its papers in their order, then from the incoming checks. */
export function coilValues({ coil, heat, papers, checks }: Pick<CoilKnowledge, 'coil' | 'heat' | 'papers' | 'checks'>): SourcedValue[] {
  const ofPapers = papers.flatMap((paper) => paperValues(paper, heat.number));
  const measured = checks.filter(({ coilId }) => coilId === coil.id).flatMap(checkValues);
  return [...ofPapers, ...measured];
}

/** A number as it identifies: no more is ignored than the case, so that near numbers stay apart. */
export const identityOf = (number: string): string => number.trim().toUpperCase();

export const sameNumber = (one: string, other: string): boolean => identityOf(one) === identityOf(other);

/** The lines of a keying that speak of the coil under `namedAs`, and those of its heat as a whole. */
export function linesAbout(lines: readonly PaperLine[], namedAs: string, heatNumber: string): { line: PaperLine; index: number }[] {
  return lines.map((line, index) => ({ line, index })).filter(({ line }) =>
    line.coilNumber === null
      ? line.heatNumber !== null && sameNumber(line.heatNumber, heatNumber)
      : sameNumber(line.coilNumber, namedAs));
}

/** Why the values of a line cannot be taken for the coil's: it names the coil, with another heat. Null when they can. */
function doubtOf(line: PaperLine, heatNumber: string): string | null {
  if (line.heatNumber === null || sameNumber(line.heatNumber, heatNumber)) return null;
  return `its line gives heat ${line.heatNumber}; on record is ${heatNumber}`;
}

interface KeyedValue {
  readonly value: PrintedValue;
  readonly source: ValueSource;
  readonly doubt: string | null;
}

/** The values of one keying about the coil, by what and where they are. */
function keyed(paper: CoilPaper, keying: CertificateTranscription, heatNumber: string): Map<string, KeyedValue> {
  const values = linesAbout(linesOf(keying), paper.namedAs, heatNumber).flatMap(({ line, index }) => {
    const source = {
      label: `certificate ${paper.certificate.number} (${paper.certificate.documentType}), line ${index + 1}`,
      record: { kind: 'certificate-transcription', id: keying.id, version: keying.version },
    };
    const of = line.coilNumber === null ? 'heat' : 'coil';
    const doubt = doubtOf(line, heatNumber);
    return line.values.map((value) => ({ of, value, source, doubt }));
  });
  return eachByName(values, ({ of, value }) => [of, requirementName(value), value.location, value.direction].join('|'));
}

/**
 * The values of a paper. They are in doubt on a line that gives the coil another heat. Where the paper was keyed twice and the keyings differ, the value is in doubt with both: none is
 * chosen, so it is held against no limit until the paper was read again.
 */
function paperValues(paper: CoilPaper, heatNumber: string): SourcedValue[] {
  const [first, second] = paper.keyings.map((keying) => keyed(paper, keying, heatNumber));
  if (first === undefined) return [];
  if (second === undefined) return [...first.values()].map(({ value, source, doubt }) => ({ ...value, source, doubt }));
  const names = [...new Set([...first.keys(), ...second.keys()])];
  return names.flatMap((name) => {
    const [one, other] = [first.get(name), second.get(name)];
    const known = one ?? other;
    return known === undefined ? [] : [{ ...known.value, source: known.source, doubt: one?.doubt ?? other?.doubt ?? doubtBetween(one?.value, other?.value) }];
  });
}

function doubtBetween(one: PrintedValue | undefined, other: PrintedValue | undefined): string | null {
  if (one === undefined || other === undefined) return 'only one of the two keyings has this value';
  return saysTheSame(one, other) ? null : `the two keyings differ: ${valueText(one)} against ${valueText(other)}`;
}

function checkValues(check: IncomingCheck): SourcedValue[] {
  return valuesOf(check).map((value, index) => {
    const reading = check.readings[index];
    const place = reading === undefined ? '' : `, ${placeOf(reading)}`;
    const record = { kind: 'incoming-check', id: check.id, version: check.version };
    return { ...value, source: { label: `incoming check${place}, ${check.instrument}`, record }, doubt: null };
  });
}
