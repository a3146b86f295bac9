import { likeNumber, normalNumber, type NearMatch } from '#libs/strip';
import type { Coil } from '../coils/coil.entity.js';
import type { Heat } from '../heats/heat.entity.js';
import type { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import { linesOf } from '../transcriptions/packed-lines.js';
import type { CoilKnowledge, CoilPaper, NamingPaper } from './coil-knowledge.js';
import { identityOf, linesAbout, sameNumber } from './coil-values.js';
import { note, refTo, warning, type CrossCheck } from './cross-check.js';

/** Keyed twice by two people, and the same both times? */
export function keyingChecks({ papers }: Pick<CoilKnowledge, 'papers'>): CrossCheck[] {
  return papers.flatMap(({ certificate, verification }): CrossCheck[] => {
    const record = refTo('certificate', certificate);
    switch (verification.state) {
      case 'verified': return [];
      case 'not-keyed': return [warning('second keying', `certificate ${certificate.number} was not keyed`, record)];
      case 'keyed-once': return [warning('second keying', `certificate ${certificate.number} was keyed once: nobody checked it`, record)];
      case 'keyings-differ': {
        const { differences } = verification;
        const places = differences.length === 1 ? 'one place' : `${differences.length} places, first`;
        const detail = `the keyings of certificate ${certificate.number} differ in ${places}: ${differences[0]?.where ?? ''}`;
        return [warning('second keying', detail, record)];
      }
    }
  });
}

/** Does each paper name the coil, and with the coil's heat? A near match is told as one. */
export function namingChecks({ coil, heat, papers, delivered }: Pick<CoilKnowledge, 'coil' | 'heat' | 'papers' | 'delivered'>): CrossCheck[] {
  return papers.flatMap((paper) => paper.keyings.slice(0, 1).flatMap((keying) => {
    const lines = linesAbout(linesOf(keying), paper.namedAs, heat.number);
    const own = lines.filter(({ line }) => line.coilNumber !== null);
    const record = refTo('certificate-transcription', keying);
    if (own.length === 0) return [lines.length > 0 && namesNoCoil(keying) ? ofHeatAlone(paper, heat) : notNamed(paper, coil, delivered)];
    return own.flatMap(({ line, index }): CrossCheck[] => {
      if (line.heatNumber === null || sameNumber(line.heatNumber, heat.number)) return [];
      const near = likeNumber(line.heatNumber, heat.number);
      const how = near.alike ? `nearly the same (${near.because})` : 'another heat';
      return [warning('names the coil', `certificate ${paper.certificate.number}, line ${index + 1}, gives ${line.coilNumber ?? ''} heat ${line.heatNumber}; on record is ${heat.number}: ${how}`, record)];
    });
  }));
}

const namesNoCoil = ({ packedLines }: CertificateTranscription): boolean => packedLines.lines.every(([coilNumber]) => coilNumber === null);

/** A paper of heats certifies this coil's too: that it names no coil is worth knowing, and no contradiction. */
function ofHeatAlone({ certificate }: CoilPaper, { number }: Heat): CrossCheck {
  return note('names the coil', `certificate ${certificate.number} names heat ${number} as a whole, and no coil`, refTo('certificate', certificate));
}

function notNamed(paper: CoilPaper, coil: Coil, delivered: readonly Coil[]): CrossCheck {
  const printed = [...new Set(paper.keyings.flatMap((keying) => linesOf(keying).flatMap((line) => line.coilNumber ?? [])))];
  const detail = `certificate ${paper.certificate.number} does not name coil ${coil.number}${sameNumber(coil.number, paper.namedAs) ? '' : ` as ${paper.namedAs}`}`;
  return warning('names the coil', `${detail}: it names ${namedInstead(paper.namedAs, printed, delivered)}`, refTo('certificate', paper.certificate));
}

/** What a paper names in place of a coil: a number taken for it, unless that is another coil's on record; or all it names. */
function namedInstead(namedAs: string, printed: readonly string[], delivered: readonly Coil[]): string {
  if (printed.length === 0) return 'no coil';
  const onRecord = new Set(delivered.map(({ number }) => identityOf(number)));
  const free = printed.filter((number) => !onRecord.has(identityOf(number)));
  const near = free.flatMap((number) => {
    const like = likeNumber(number, namedAs);
    return like.alike ? [{ number, because: like.because }] : [];
  });
  const likest = near.find(({ number, because }) => !isOfSequence(number, namedAs, because)) ?? near[0];
  if (likest !== undefined) return `${likest.number}, nearly the same (${likest.because})`;
  return `${printed.slice(0, NAMED_AT_MOST).join(', ')}${printed.length > NAMED_AT_MOST ? ' and more' : ''}`;
}

const NAMED_AT_MOST = 6;

/**
 * Whether two numbers differ as those of one sequence do, which says nothing where both are on record: in a digit or two;
 * as LM-02 and LM-20 do, where no zero can be lost since both are as long.
 */
function isOfSequence(one: string, other: string, because: NearMatch): boolean {
  if (because === 'a zero lost') return one.trim().length === other.trim().length;
  return because === 'one digit different' || because === 'two neighbouring digits swapped';
}

/** Numbers on record that are easily taken for this coil's or heat's. They are told, and merged by nobody. */
export function nearNumberChecks({ coil, heat, likeCoils, likeHeats }: Pick<CoilKnowledge, 'coil' | 'heat' | 'likeCoils' | 'likeHeats'>): CrossCheck[] {
  const near = (what: string, own: string, others: readonly string[]): CrossCheck[] =>
    others.flatMap((other) => {
      const like = likeNumber(own, other);
      if (!like.alike || isOfSequence(own, other, like.because)) return [];
      return [note('near number', `there is a ${what} ${other} too, easily taken for ${own} (${like.because})`)];
    });
  return [...near('coil', coil.number, likeCoils), ...near('heat', heat.number, likeHeats)];
}

/** Is a certificate's picture another's too, and does a certificate that is not linked name the coil? */
export function usedTwiceChecks({ coil, papers, sameFiles, namingCoil }: Pick<CoilKnowledge, 'coil' | 'papers' | 'sameFiles' | 'namingCoil'>): CrossCheck[] {
  const own = new Set(papers.map(({ certificate }) => certificate.id));
  const pictures = sameFiles.map((document) =>
    warning('used twice', `the file ${document.fileName} is attached to another certificate too`, refTo('document', document)));
  const foreign = new Map(namingCoil.filter(({ certificate }) => !own.has(certificate.id)).map((paper) => [paper.certificate.id, paper]));
  return [...pictures, ...[...foreign.values()].flatMap((paper) => namedElsewhere(paper, coil.number))];
}

/** Papers are found by the normal form of a number, which different numbers can share: what is printed is told. */
function namedElsewhere({ certificate, keying }: NamingPaper, number: string): CrossCheck[] {
  const printed = keying.packedLines.lines.flatMap(([coilNumber]) => coilNumber ?? []);
  const record = refTo('certificate', certificate);
  if (printed.some((one) => sameNumber(one, number))) {
    return [warning('used twice', `certificate ${certificate.number} names coil ${number} too, and is not linked to it`, record)];
  }
  const near = printed.find((one) => normalNumber(one) === normalNumber(number));
  if (near === undefined) return [];
  return [note('near number', `certificate ${certificate.number}, which is not linked to coil ${number}, names ${near}: the same number or another one, written differently`, record)];
}
