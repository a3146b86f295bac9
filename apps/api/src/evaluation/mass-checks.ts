import { parseReading } from '#libs/conformity';
import { compare, decimal, plus, ratio, rounded, times, toNumber, type Ratio } from '#libs/exact';
import type { PaperLine } from '#libs/strip';
import { exactConversion, isUnitName } from '#libs/units';
import type { Coil } from '../coils/coil.entity.js';
import { isFarFromRecorded, MASS_TOLERANCE } from '../receipts/coil-receipt.rules.js';
import { linesOf } from '../transcriptions/packed-lines.js';
import type { CoilKnowledge, CoilPaper } from './coil-knowledge.js';
import { identityOf, linesAbout, sameNumber } from './coil-values.js';
import { refTo, warning, type CrossCheck } from './cross-check.js';

/**
 * Mass on paper against mass on record and mass weighed; what came with one certificate against what it certifies; and
 * what was slit from one piece against that piece.
 */
export function massChecks(knowledge: Pick<CoilKnowledge, 'coil' | 'heat' | 'papers' | 'receipts' | 'delivered'>): CrossCheck[] {
  const { coil, heat, papers, receipts, delivered } = knowledge;
  const recordedKg = decimal(coil.massKg);
  const onPaper = papers.filter(({ role }) => role === 'delivered' || role === 'slitter').flatMap((paper): CrossCheck[] => {
    const printedKg = massOn(paper, heat.number);
    if (printedKg === null || !isFarFromRecorded(printedKg, recordedKg)) return [];
    return [warning('mass', `certificate ${paper.certificate.number} gives ${kilograms(printedKg)}; on record are ${coil.massKg} kg`, refTo('certificate', paper.certificate))];
  });
  const weighed = receipts.filter(({ occasion }) => occasion === 'delivery').flatMap((receipt): CrossCheck[] => {
    if (receipt.weighedMassKg === null || !isFarFromRecorded(decimal(receipt.weighedMassKg), recordedKg)) return [];
    return [warning('mass', `weighed here: ${receipt.weighedMassKg} kg; on record are ${coil.massKg} kg`, refTo('coil-receipt', receipt))];
  });
  return [
    ...onPaper, ...weighed, ...papers.flatMap((paper) => certifiedCheck(paper, delivered)),
    ...papers.filter(({ role }) => role === 'mill').flatMap((paper) => slitCheck(paper, coil, heat.number, delivered)),
  ];
}

/** A certificate covers no more mass than it certifies: the coils on record that came with it, against the sum of its lines. */
function certifiedCheck(paper: CoilPaper, delivered: readonly Coil[]): CrossCheck[] {
  const [keying] = paper.keyings;
  const coils = delivered.filter(({ certificateId }) => certificateId === paper.certificate.id);
  if (keying === undefined || coils.length === 0) return [];
  const lines = linesOf(keying);
  const certifiedKg = certifiedMassKg(lines);
  const deliveredKg = recordedMassKg(coils);
  if (certifiedKg === null || !isMore(deliveredKg, certifiedKg)) return [];
  const named = new Set(lines.flatMap(({ coilNumber }) => (coilNumber === null ? [] : identityOf(coilNumber))));
  const strangers = coils.filter(({ number }) => !named.has(identityOf(number)));
  const who = strangers.length === 0 ? '' : `; it does not name ${strangers.map(({ number }) => number).join(', ')}`;
  return [warning('mass', `certificate ${paper.certificate.number} certifies ${kilograms(certifiedKg)}; the coils that came with it have ${kilograms(deliveredKg)} together${who}`, refTo('certificate', paper.certificate))];
}

/** What was slit from a piece weighs no more than the piece: the coils of this master coil that came with the same papers, against its line on the mill's paper. */
function slitCheck(paper: CoilPaper, { masterCoil }: Coil, heatNumber: string, delivered: readonly Coil[]): CrossCheck[] {
  if (masterCoil === null || !sameNumber(masterCoil, paper.namedAs)) return [];
  const pieceKg = massOn(paper, heatNumber);
  const slitKg = recordedMassKg(delivered.filter((one) => one.masterCoil !== null && sameNumber(one.masterCoil, masterCoil)));
  if (pieceKg === null || !isMore(slitKg, pieceKg)) return [];
  return [warning('mass', `master coil ${masterCoil} has ${kilograms(pieceKg)} on certificate ${paper.certificate.number}; what was slit from it has ${kilograms(slitKg)} together`, refTo('certificate', paper.certificate))];
}

const isMore = (massKg: Ratio, certifiedKg: Ratio): boolean => compare(massKg, times(certifiedKg, plus(ratio(1n), MASS_TOLERANCE))) > 0;
const sum = (masses: readonly Ratio[]): Ratio => masses.reduce((all, one) => plus(all, one), ratio(0n));
const recordedMassKg = (coils: readonly Coil[]): Ratio => sum(coils.map(({ massKg }) => decimal(massKg)));

const kilograms = (kg: Ratio): string => `${toNumber(rounded(kg, 1, 'half-even'))} kg`;

/** What a paper certifies: the sum of its coils, or of its heats where it gives no coil a mass; null where it gives none. */
function certifiedMassKg(lines: readonly PaperLine[]): Ratio | null {
  const ofCoils = massesByName(lines, ({ coilNumber }) => coilNumber);
  const counted = ofCoils.length > 0 ? ofCoils : massesByName(lines, ({ heatNumber }) => heatNumber);
  return counted.length === 0 ? null : sum(counted);
}

/** The first mass given of each name: a coil can stand on several lines, and is there once. */
function massesByName(lines: readonly PaperLine[], nameOf: (line: PaperLine) => string | null): Ratio[] {
  const byName = new Map<string, Ratio>();
  for (const line of lines) {
    const name = nameOf(line);
    const massKg = name === null || byName.has(identityOf(name)) ? null : lineMassKg(line);
    if (name !== null && massKg !== null) byName.set(identityOf(name), massKg);
  }
  return [...byName.values()];
}

/** What a paper gives as the mass of the coil that it names. */
function massOn(paper: CoilPaper, heatNumber: string): Ratio | null {
  const [keying] = paper.keyings;
  if (keying === undefined) return null;
  const own = linesAbout(linesOf(keying), paper.namedAs, heatNumber).filter(({ line }) => line.coilNumber !== null);
  return own.map(({ line }) => lineMassKg(line)).find((massKg) => massKg !== null) ?? null;
}

function lineMassKg({ values }: PaperLine): Ratio | null {
  const value = values.find(({ characteristic }) => characteristic === 'mass');
  if (value === undefined || !isUnitName(value.unit)) return null;
  const read = parseReading(value);
  return 'fault' in read || read.low === null ? null : times(read.low, exactConversion(value.unit, 'kg').factor);
}
