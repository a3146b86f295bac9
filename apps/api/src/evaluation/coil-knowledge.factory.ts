import type { PaperLine, PrintedValue, Requirement, SourcedValue } from '#libs/strip';
import { Certificate } from '../certificates/certificate.entity.js';
import { Coil } from '../coils/coil.entity.js';
import { Document } from '../files/document.entity.js';
import { Heat } from '../heats/heat.entity.js';
import { IncomingCheck } from '../incoming-checks/incoming-check.entity.js';
import { StripOrder } from '../orders/strip-order.entity.js';
import { CoilReceipt } from '../receipts/coil-receipt.entity.js';
import { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import { StripSpecification } from '../specifications/strip-specification.entity.js';
import { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import { verificationOf } from '../transcriptions/certificate-transcriptions.service.js';
import { packedLines } from '../transcriptions/packed-lines.js';
import type { CoilKnowledge, CoilPaper } from './coil-knowledge.js';

/** A maker of rows that are the same but for what is changed. */
const rows = <T extends object>(make: () => T, usual: Partial<T>) => (changes: Partial<T> = {}): T => Object.assign(make(), usual, changes);

const known = { version: 1, state: 'active', knownFrom: '2026-02-18T09:00:00.000000Z', observedAt: '2026-02-18T09:00:00.000000Z' } as const;

export const heatRow = rows(() => new Heat(), { ...known, id: 'heat', number: 'H40711', grade: 'S420MC', steelmaker: null, castOn: '2026-01-14' });

export const coilRow = rows(() => new Coil(), {
  ...known, id: 'coil', number: 'LM-02', heatId: 'heat', certificateId: 'certificate', orderId: 'order', widthMm: '383.0', thicknessMm: '5.01', massKg: '3200',
  lengthMm: null, cropMm: 0, restMm: 0, masterCoil: null, note: null,
});

export const orderRow = rows(() => new StripOrder(), {
  ...known, id: 'order', number: 'PO-1187', mill: 'Tarnwick Steelworks', orderedOn: '2025-12-04', specificationId: 'revision 4', thicknessMm: '5.00', widthMm: '383.0',
});

export const specificationRow = rows(() => new StripSpecification(), {
  ...known, id: 'revision 4', number: 'STS-12', revision: 4, documentType: '3.1', requirements: [], ownTables: [], rounding: 'rounding', decision: 'simple-acceptance', guardFactor: '1',
});

export const certificateRow = rows(() => new Certificate(), {
  ...known, id: 'certificate', number: 'TS-1', issuer: 'Tarnwick Steelworks', documentType: '3.1', issuedOn: '2026-01-22',
});

export const receiptRow = rows(() => new CoilReceipt(), {
  ...known, id: 'receipt', coilId: 'coil', occasion: 'delivery', tagNumber: 'LM-02', tagHeatNumber: 'H40711', weighedMassKg: null, weighedMassUKg: null, boreMm: null,
  outerDiameterMm: null, diameterUMm: null, restLengthMm: null, condition: 'sound', damage: null, place: 'Bay 2',
});

export const checkRow = rows(() => new IncomingCheck(), {
  ...known, id: 'check', coilId: 'coil', characteristic: 'thickness', unit: 'mm', instrument: 'MI-07', expandedU: null, baseMm: null,
  readings: [{ printed: '5.02', along: 'head', across: 'centre', fromEdgeMm: null }],
});

export const segmentRow = rows(() => new CoilSegmentVersion(), { ...known, id: 'segment', coilId: 'coil', stripSpan: { fromMm: 0, toMm: 200_000 }, fromUMm: '0', toUMm: '0' });

export const documentRow = rows(() => new Document(), { ...known, id: 'document', about: 'certificate', fileName: 'TS-1.pdf', certificateId: 'other' });

/** A value that its paper prints as 0.085 % carbon of the heat, unless changed. */
export function printed(changes: Partial<PrintedValue> = {}): PrintedValue {
  return {
    characteristic: 'C', analysis: 'heat', printed: '0.085', unit: '%', multiplier: '1', expandedU: null, temperatureC: null, baseMm: null,
    location: null, direction: null, ...changes,
  };
}

/** The same with a source and without doubt, unless changed. */
export function sourced(changes: Partial<SourcedValue> = {}): SourcedValue {
  return { ...printed(), source: { label: 'certificate TS-1 (3.1), line 1', record: null }, doubt: null, ...changes };
}

/** A requirement of a carbon content by the heat, at most 0.12 %, unless changed. */
export function requirement(changes: Partial<Requirement> = {}): Requirement {
  return {
    characteristic: 'C', analysis: 'heat', min: null, max: '0.12', unit: '%', limitOf: 'value', toleranceTable: null, toDecimals: null,
    expandedU: null, temperatureC: null, baseMm: null, clause: null, ...changes,
  };
}

/** A line about the coil with its carbon, unless changed. */
export function paperLine(changes: Partial<PaperLine> = {}): PaperLine {
  return { coilNumber: 'LM-02', heatNumber: 'H40711', values: [printed()], ...changes };
}

/** A keying of a certificate with these lines. */
export function keying(lines: readonly PaperLine[], changes: Partial<CertificateTranscription> = {}): CertificateTranscription {
  const own = { id: 'keying', version: 1, certificateId: 'certificate', keying: 1, orderNumber: null, specification: null, packedLines: packedLines(lines) };
  return Object.assign(new CertificateTranscription(), own, changes);
}

/** The certificate that the coil came with and names it, keyed twice with these lines, unless changed. */
export function coilPaper(lines: readonly PaperLine[] = [paperLine()], changes: Partial<Omit<CoilPaper, 'verification'>> = {}): CoilPaper {
  const paper = {
    certificate: certificateRow(), role: 'delivered' as const, namedAs: 'LM-02', keyings: [keying(lines), keying(lines, { id: 'second keying', keying: 2 })], ...changes,
  };
  return { ...paper, verification: verificationOf('certificate', paper.keyings) };
}

/** A coil about which everything is known and fits together, unless changed. */
export function coilKnowledge(changes: Partial<CoilKnowledge> = {}): CoilKnowledge {
  return {
    coil: coilRow(), heat: heatRow(), order: orderRow(), ordered: specificationRow(), inForce: specificationRow(), papers: [coilPaper()], receipts: [receiptRow()],
    checks: [], segments: [], namingHeat: [], namingCoil: [], delivered: [coilRow()], likeCoils: [], likeHeats: [], sameFiles: [], ...changes,
  };
}
