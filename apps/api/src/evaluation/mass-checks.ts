import { parseReading } from '#libs/conformity';
import { toNumber } from '#libs/exact';
import type { PaperLine } from '#libs/strip';
import { convert, isUnitName } from '#libs/units';
import { linesOf } from '../transcriptions/packed-lines.js';
import type { CoilKnowledge, CoilPaper } from './coil-knowledge.js';
import { linesAbout, sameNumber } from './coil-values.js';
import { refTo, warning, type CrossCheck } from './cross-check.js';

/** How far masses of one coil may lie apart. Common practice, no published source. */
const MASS_TOLERANCE = 0.01;

const apart = (one: number, other: number): boolean => Math.abs(one - other) > MASS_TOLERANCE * Math.max(one, other);

/** Mass on paper against mass on record and mass weighed; and the sum of what was slit from one piece against that piece. */
export function massChecks(knowledge: Pick<CoilKnowledge, 'coil' | 'heat' | 'papers' | 'receipts' | 'delivered'>): CrossCheck[] {
  const { coil, heat, papers, receipts, delivered } = knowledge;
  const recordedKg = Number(coil.massKg);
  const onPaper = papers.filter(({ role }) => role === 'delivered' || role === 'slitter').flatMap((paper): CrossCheck[] => {
    const printedKg = massOn(paper, heat.number);
    if (printedKg === null || !apart(printedKg, recordedKg)) return [];
    return [warning('mass', `certificate ${paper.certificate.number} gives ${printedKg} kg; on record are ${coil.massKg} kg`, refTo('certificate', paper.certificate))];
  });
  const weighed = receipts.filter(({ occasion }) => occasion === 'delivery').flatMap((receipt): CrossCheck[] => {
    if (receipt.weighedMassKg === null || !apart(Number(receipt.weighedMassKg), recordedKg)) return [];
    return [warning('mass', `weighed here: ${receipt.weighedMassKg} kg; on record are ${coil.massKg} kg`, refTo('coil-receipt', receipt))];
  });
  return [...onPaper, ...weighed, ...papers.flatMap((paper) => sumCheck(paper, delivered))];
}

/** A certificate covers no more mass than it certifies: the coils on record that came with it, against the sum of its lines. */
function sumCheck(paper: CoilPaper, delivered: CoilKnowledge['delivered']): CrossCheck[] {
  const [keying] = paper.keyings;
  const coils = delivered.filter(({ certificateId }) => certificateId === paper.certificate.id);
  if (keying === undefined || coils.length === 0) return [];
  const certifiedKg = linesOf(keying).reduce((sum, line) => sum + (lineMassKg(line) ?? 0), 0);
  const deliveredKg = coils.reduce((sum, { massKg }) => sum + Number(massKg), 0);
  if (certifiedKg === 0 || deliveredKg <= certifiedKg * (1 + MASS_TOLERANCE)) return [];
  const strangers = coils.filter(({ number }) => !linesOf(keying).some(({ coilNumber }) => coilNumber !== null && sameNumber(coilNumber, number)));
  const who = strangers.length === 0 ? '' : `; it does not name ${strangers.map(({ number }) => number).join(', ')}`;
  return [warning('mass', `certificate ${paper.certificate.number} certifies ${rounded(certifiedKg)} kg; the coils that came with it have ${rounded(deliveredKg)} kg together${who}`, refTo('certificate', paper.certificate))];
}

const rounded = (kg: number): string => String(Math.round(kg * 10) / 10);

function massOn(paper: CoilPaper, heatNumber: string): number | null {
  const [keying] = paper.keyings;
  if (keying === undefined) return null;
  const own = linesAbout(linesOf(keying), paper.namedAs, heatNumber).filter(({ line }) => line.coilNumber !== null);
  return own.length === 0 ? null : lineMassKg(own[0]?.line);
}

function lineMassKg(line: PaperLine | undefined): number | null {
  const value = line?.values.find(({ characteristic }) => characteristic === 'mass');
  if (value === undefined || !isUnitName(value.unit)) return null;
  const read = parseReading(value);
  return 'fault' in read || read.low === null ? null : convert(toNumber(read.low), value.unit, 'kg');
}
