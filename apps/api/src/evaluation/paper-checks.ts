import { parseReading } from '#libs/conformity';
import { compare, rounded, times, type Ratio } from '#libs/exact';
import { findCharacteristic, likeNumber, type PrintedValue } from '#libs/strip';
import { exactConversion, isUnitName } from '#libs/units';
import { linesOf } from '../transcriptions/packed-lines.js';
import type { CoilKnowledge, CoilPaper, NamingPaper } from './coil-knowledge.js';
import { linesAbout, sameNumber } from './coil-values.js';
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
        const [first] = verification.differences;
        const detail = `the keyings of certificate ${certificate.number} differ in ${verification.differences.length} places, first ${first?.where ?? ''}`;
        return [warning('second keying', detail, record)];
      }
    }
  });
}

/** Does each paper name the coil, and with the coil's heat? A near match is told as one. */
export function namingChecks({ coil, heat, papers }: Pick<CoilKnowledge, 'coil' | 'heat' | 'papers'>): CrossCheck[] {
  return papers.flatMap((paper) => paper.keyings.slice(0, 1).flatMap((keying) => {
    const lines = linesAbout(linesOf(keying), paper.namedAs, heat.number);
    const own = lines.filter(({ line }) => line.coilNumber !== null);
    const record = refTo('certificate-transcription', keying);
    if (own.length === 0) return [notNamed(paper, coil.number)];
    return own.flatMap(({ line, index }): CrossCheck[] => {
      if (line.heatNumber === null || sameNumber(line.heatNumber, heat.number)) return [];
      const near = likeNumber(line.heatNumber, heat.number);
      const how = near.alike ? `nearly the same (${near.because})` : 'another heat';
      return [warning('names the coil', `certificate ${paper.certificate.number}, line ${index + 1}, gives ${line.coilNumber ?? ''} heat ${line.heatNumber}; on record is ${heat.number}: ${how}`, record)];
    });
  }));
}

function notNamed(paper: CoilPaper, coilNumber: string): CrossCheck {
  const printed = paper.keyings.flatMap((keying) => linesOf(keying).flatMap((line) => line.coilNumber ?? []));
  const near = printed.find((number) => likeNumber(number, paper.namedAs).alike);
  const like = near === undefined ? null : likeNumber(near, paper.namedAs);
  const hint = near === undefined ? `it names ${printed.slice(0, 6).join(', ')}` : `it names ${near}, nearly the same (${like?.alike === true ? like.because : ''})`;
  return warning('names the coil', `certificate ${paper.certificate.number} does not name coil ${coilNumber} as ${paper.namedAs}: ${hint}`, refTo('certificate', paper.certificate));
}

interface Reported {
  readonly value: PrintedValue;
  readonly paper: NamingPaper;
  readonly exact: Ratio;
  readonly decimals: number;
}

/** One heat has one analysis: does every paper that names the heat say the same, to the digits that the coarser one prints? */
export function heatAnalysisChecks({ heat, namingHeat }: Pick<CoilKnowledge, 'heat' | 'namingHeat'>): CrossCheck[] {
  const byElement = new Map<string, Reported[]>();
  for (const paper of namingHeat) {
    for (const reported of heatValues(paper, heat.number)) {
      const same = byElement.get(reported.value.characteristic) ?? [];
      byElement.set(reported.value.characteristic, [...same, reported]);
    }
  }
  return [...byElement].flatMap(([element, values]) => {
    const [first] = values;
    const other = first === undefined ? undefined : values.find((one) => !agree(first, one));
    if (first === undefined || other === undefined) return [];
    const said = ({ value, paper }: Reported): string => `${value.printed} ${value.unit} on certificate ${paper.certificate.number}`;
    const detail = `heat ${heat.number} has two heat analyses: ${element} ${said(first)}, ${said(other)}`;
    return [warning('heat analysis', detail, refTo('certificate-transcription', first.paper.keying), refTo('certificate-transcription', other.paper.keying))];
  });
}

function heatValues(paper: NamingPaper, heatNumber: string): Reported[] {
  return linesOf(paper.keying)
    .filter((line) => line.heatNumber !== null && sameNumber(line.heatNumber, heatNumber))
    .flatMap((line) => line.values.filter(({ analysis, characteristic }) => analysis === 'heat' && findCharacteristic(characteristic)?.kind === 'chemistry'))
    .flatMap((value) => {
      const read = parseReading(value);
      if ('fault' in read || read.low === null || read.high === null || compare(read.low, read.high) !== 0 || !isUnitName(value.unit)) return [];
      const { factor } = exactConversion(value.unit, '%');
      const shift = value.unit === 'ppm' ? 4 : 0;
      const places = Math.round(Math.log10(Number(value.multiplier)));
      return [{ value, paper, exact: times(read.low, factor), decimals: Math.max(0, read.decimals + shift + Math.max(0, places)) }];
    });
}

function agree(one: Reported, other: Reported): boolean {
  const place = Math.min(one.decimals, other.decimals);
  return compare(rounded(one.exact, place, 'half-even'), rounded(other.exact, place, 'half-even')) === 0;
}

/** Numbers on record that are easily taken for this coil's or heat's. They are told, and merged by nobody. */
export function nearNumberChecks({ coil, heat, likeCoils, likeHeats }: Pick<CoilKnowledge, 'coil' | 'heat' | 'likeCoils' | 'likeHeats'>): CrossCheck[] {
  const near = (what: string, own: string, others: readonly string[]): CrossCheck[] =>
    others.flatMap((other) => {
      const like = likeNumber(own, other);
      // Numbers are given in sequence: that two differ in one digit says nothing.
      if (!like.alike || like.because === 'one digit different' || like.because === 'two neighbouring digits swapped') return [];
      return [note('near number', `there is a ${what} ${other} too, easily taken for ${own} (${like.because})`)];
    });
  return [...near('coil', coil.number, likeCoils), ...near('heat', heat.number, likeHeats)];
}

/** Is a certificate's picture another's too, and does a certificate that is not linked name the coil? */
export function usedTwiceChecks({ coil, papers, sameFiles, namingCoil }: Pick<CoilKnowledge, 'coil' | 'papers' | 'sameFiles' | 'namingCoil'>): CrossCheck[] {
  const own = new Set(papers.map(({ certificate }) => certificate.id));
  const pictures = sameFiles.map((document) =>
    warning('used twice', `the file ${document.fileName} is attached to another certificate too`, refTo('document', document)));
  const named = namingCoil.filter(({ certificate }) => !own.has(certificate.id));
  const others = [...new Map(named.map((paper) => [paper.certificate.id, paper])).values()].map(({ certificate }) =>
    warning('used twice', `certificate ${certificate.number} names coil ${coil.number} too, and is not linked to it`, refTo('certificate', certificate)));
  return [...pictures, ...others];
}
