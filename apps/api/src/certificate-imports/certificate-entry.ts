import type { EntityManager } from 'typeorm';
import { v7 as uuidv7 } from 'uuid';
import { run, type Mark, type Transaction } from '#libs/persistence';
import type { Certificate } from '../certificates/certificate.entity.js';
import type { CertificatesService } from '../certificates/certificates.service.js';
import type { DocumentType } from '../certificates/document-type.js';
import type { CertificateTranscriptionsService } from '../transcriptions/certificate-transcriptions.service.js';
import { numbersIn } from '../transcriptions/keying-comparison.js';
import { packedLines } from '../transcriptions/packed-lines.js';
import type { ReadCertificate } from './certificate-csv.js';

/** A record keeps so many marks. */
const MOST_MARKS = 1000;

/**
 * Plans that were made while tables were empty, such as those of triggers, would read them whole for each row. Statistics
 * that would have them made anew come only after the transaction.
 */
const DISCARD_PLANS = 'discard plans';

/** What identifies a certificate: its issuer and number, capitals making no difference. */
export const nameOf = ({ issuer, number }: { readonly issuer: string; readonly number: string }): string =>
  `${issuer.toUpperCase()}\n${number.toUpperCase()}`;

/** Enters the certificates of a file, batch by batch, in the transaction of its import. */
export class CertificateEntry {
  /** Certificates that were not on record before. */
  newCertificates = 0;

  constructor(
    private readonly tx: Transaction,
    private readonly file: { readonly sha256: string },
    private readonly order: { readonly keying: number; readonly observedAt: string },
    private readonly certificates: CertificatesService,
    private readonly transcriptions: CertificateTranscriptionsService,
  ) {}

  get manager(): EntityManager {
    return this.tx.manager;
  }

  /** Adds a keying for each of a batch, and the certificates among them that are not in `onRecord`. */
  async add(batch: readonly ReadCertificate[], onRecord: readonly Certificate[]): Promise<void> {
    const ids = new Map(onRecord.map((one) => [nameOf(one), one.id]));
    const fresh = batch.filter(({ paper }) => !ids.has(nameOf(paper)));
    for (const { paper } of fresh) ids.set(nameOf(paper), uuidv7());
    const idOf = ({ paper }: ReadCertificate): string => ids.get(nameOf(paper)) ?? '';
    this.newCertificates += fresh.length;
    await Promise.all([
      run(this.tx.manager, DISCARD_PLANS, []),
      this.certificates.appendRead(this.tx, fresh.map((certificate) => ({ ...this.madeOf(certificate), id: idOf(certificate), marks: [], content: certificateContent(certificate) }))),
      this.transcriptions.appendRead(this.tx, batch.map((certificate) => ({
        ...this.madeOf(certificate), id: uuidv7(), marks: marksOf(certificate), content: this.keyingContent(certificate, idOf(certificate)),
      }))),
    ]);
  }

  private madeOf({ firstLine }: ReadCertificate): { observedAt: string; digest: string } {
    return { observedAt: this.order.observedAt, digest: `${this.file.sha256}:${firstLine}` };
  }

  private keyingContent({ paper, firstLine }: ReadCertificate, certificateId: string) {
    const { orderNumber, specification, lines } = paper;
    return {
      certificateId, keying: this.order.keying, orderNumber, specification, packedLines: packedLines(lines), note: null,
      coilNumbers: numbersIn(lines, 'coilNumber'), heatNumbers: numbersIn(lines, 'heatNumber'), fileSha256: this.file.sha256, fileLine: firstLine,
    };
  }
}

function certificateContent({ paper: { number, issuer, documentType, issuedOn } }: ReadCertificate) {
  // The reader takes no other type.
  return { number, issuer, documentType: documentType as DocumentType, issuedOn, note: null };
}

function marksOf({ questions }: ReadCertificate): Mark[] {
  return questions.slice(0, MOST_MARKS).map(({ line, header, value, fault }) => ({
    kind: 'confirmed-implausible', field: `line ${line}, ${header ?? ''}`, value: value ?? '', limit: fault.slice(0, 300),
  }));
}
