import type { Readable } from 'node:stream';
import { Injectable } from '@nestjs/common';
import { v7 as uuidv7 } from 'uuid';
import type { Actor, Mark, Transaction } from '#libs/persistence';
import type { DocumentType } from '../certificates/document-type.js';
import { CertificatesService } from '../certificates/certificates.service.js';
import { spool, type Spooled } from '../files/spool.js';
import { StoredFiles } from '../files/stored-files.service.js';
import { Refused } from '../http/problem.js';
import { AlreadyDone, claimKey, keepAnswer, keptAnswer } from '../records/once.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf } from '../records/write-request.js';
import { numbersIn } from '../transcriptions/keying-comparison.js';
import { packedLines } from '../transcriptions/packed-lines.js';
import { CertificateTranscriptionsService } from '../transcriptions/certificate-transcriptions.service.js';
import { CertificateBases } from './certificate-bases.service.js';
import type { CsvFault, ReadCertificate } from './certificate-csv.js';
import { batchesOf, FileSummary } from './certificate-file.js';
import type { CertificateFileAnswer, CertificateImportAnswer } from './certificate-import.dto.js';

/** Bytes of the largest file taken; our own choice. */
const MOST_BYTES = 268_435_456;
/** A record keeps so many marks. */
const MOST_MARKS = 100;

/** How a file is to be read. */
export interface ImportQuestion {
  readonly keying: 1 | 2;
  /** The revision its values are held against; those of the printed orders when null. */
  readonly specificationId: string | null;
}

/** A file to be imported. */
export interface ImportOrder extends ImportQuestion {
  readonly id: string;
  readonly observedAt: string;
  /** The code of the preview, where it asked. */
  readonly confirm: string | null;
}

/** Reads certificates from CSV files: first all of it is checked, then all of it is entered, or nothing. */
@Injectable()
export class CertificateImports {
  constructor(
    private readonly desk: RecordDesk,
    private readonly bases: CertificateBases,
    private readonly certificates: CertificatesService,
    private readonly transcriptions: CertificateTranscriptionsService,
    private readonly files: StoredFiles,
  ) {}

  /** What a file says and what would come of it. Nothing is written. */
  async preview(actor: Actor, body: Readable, question: ImportQuestion): Promise<CertificateFileAnswer> {
    return this.withFile(body, (file) => this.summary(file, actor, question));
  }

  /**
   * Enters the certificates of a file with a keying for each. Refuses with 422 and the faults, line by line, when there is
   * any, or when an unlikely value is not confirmed; nothing is written then. A repeat with the same id has the effect of one.
   */
  async import(actor: Actor, body: Readable, order: ImportOrder): Promise<CertificateImportAnswer> {
    return this.withFile(body, async (file) => {
      const key = { text: `import ${order.id}`, fingerprint: digestOf([file.sha256, order.keying, order.specificationId, order.observedAt]) };
      const kept = await keptAnswer(this.desk.dataSource.manager, actor.personId, key);
      if (kept !== null) return kept as CertificateImportAnswer;
      const summary = await this.summary(file, actor, order);
      demandClean(summary, order.confirm);
      try {
        return await this.desk.transaction(actor, null, async (tx) => {
          await claimKey(tx, key);
          await this.files.keep(tx, file, 'text/csv');
          const newCertificates = await this.enter(tx, file, order);
          const answer = { ...summary, id: order.id, newCertificates };
          await keepAnswer(tx, key, answer);
          return answer;
        });
      } catch (error) {
        if (error instanceof AlreadyDone) return error.body as CertificateImportAnswer;
        throw error;
      }
    });
  }

  private async withFile<T>(body: Readable, work: (file: Spooled) => Promise<T>): Promise<T> {
    const file = await spool(body, MOST_BYTES);
    try {
      return await work(file);
    } finally {
      await file.dispose();
    }
  }

  private async summary(file: Spooled, actor: Actor, { keying, specificationId }: ImportQuestion): Promise<CertificateFileAnswer> {
    const summary = new FileSummary(file);
    const basisOf = await this.bases.lookup(specificationId);
    const batches = batchesOf(file, (fault) => { summary.addFault(fault); });
    for (;;) {
      const next = await batches.next();
      if (next.done === true) return summary.answer(next.value);
      for (const fault of await this.faultsAgainstRecord(next.value, keying, actor)) summary.addFault(fault);
      for (const certificate of next.value) summary.add(certificate, await basisOf(certificate.paper.orderNumber));
    }
  }

  /** What of a batch contradicts what is on record: another date or type, a keying that is there, a keyer who may not key it. */
  private async faultsAgainstRecord(batch: readonly ReadCertificate[], keying: number, actor: Actor): Promise<CsvFault[]> {
    const onRecord = await this.certificates.withNumbers(batch.map(({ paper }) => paper));
    if (onRecord.length === 0) return [];
    const byName = new Map(onRecord.map((one) => [nameOf(one), one]));
    const keyings = await this.transcriptions.ofCertificates(onRecord.map(({ id }) => id), null);
    return batch.flatMap(({ paper, firstLine }): CsvFault[] => {
      const known = byName.get(nameOf(paper));
      if (known === undefined) return [];
      const own = keyings.filter(({ certificateId }) => certificateId === known.id);
      const at = (header: string, value: string, fault: string): CsvFault => ({ line: firstLine, column: null, header, value, fault });
      return [
        ...(known.documentType === paper.documentType ? [] : [at('type', paper.documentType, `certificate ${paper.number} is on record with type ${known.documentType}`)]),
        ...(known.issuedOn === paper.issuedOn ? [] : [at('issued', paper.issuedOn, `certificate ${paper.number} is on record as issued on ${known.issuedOn}`)]),
        ...(own.some((one) => one.keying === keying) ? [at('certificate', paper.number, `certificate ${paper.number} has its keying ${keying} already: amend that`)] : []),
        ...(own.some((one) => one.keying !== keying && [one.keyedBy, one.doneBy].includes(actor.personId))
          ? [at('certificate', paper.number, `you keyed the other keying of certificate ${paper.number}: another person keys this one`)] : []),
      ];
    });
  }

  /** Enters what the file says; gives how many certificates are new. */
  private async enter(tx: Transaction, file: Spooled, { keying, observedAt }: ImportOrder): Promise<number> {
    let newCertificates = 0;
    for await (const batch of batchesOf(file)) {
      const onRecord = await this.certificates.withNumbers(batch.map(({ paper }) => paper), tx.manager);
      const ids = new Map(onRecord.map((one) => [nameOf(one), one.id]));
      const fresh = batch.filter(({ paper }) => !ids.has(nameOf(paper)));
      for (const { paper } of fresh) ids.set(nameOf(paper), uuidv7());
      const madeOf = ({ firstLine }: ReadCertificate): string => `${file.sha256}:${firstLine}`;
      await this.certificates.appendRead(tx, fresh.map((certificate) => {
        const { number, issuer, documentType, issuedOn } = certificate.paper;
        const content = { number, issuer, documentType: documentType as DocumentType, issuedOn, note: null };
        return { id: ids.get(nameOf(certificate.paper)) ?? '', observedAt, digest: madeOf(certificate), marks: [], content };
      }));
      await this.transcriptions.appendRead(tx, batch.map((certificate) => {
        const { orderNumber, specification, lines } = certificate.paper;
        const content = {
          certificateId: ids.get(nameOf(certificate.paper)) ?? '', keying, orderNumber, specification, packedLines: packedLines(lines), note: null,
          coilNumbers: numbersIn(lines, 'coilNumber'), heatNumbers: numbersIn(lines, 'heatNumber'), fileSha256: file.sha256, fileLine: certificate.firstLine,
        };
        return { id: uuidv7(), observedAt, digest: madeOf(certificate), marks: marksOf(certificate), content };
      }));
      newCertificates += fresh.length;
    }
    return newCertificates;
  }
}

const nameOf = ({ issuer, number }: { readonly issuer: string; readonly number: string }): string => `${issuer.toUpperCase()}\n${number.toUpperCase()}`;

function marksOf({ questions }: ReadCertificate): Mark[] {
  return questions.slice(0, MOST_MARKS).map(({ line, header, value, fault }) => ({
    kind: 'confirmed-implausible', field: `line ${line}, ${header ?? ''}`, value: value ?? '', limit: fault.slice(0, 300),
  }));
}

function demandClean(summary: CertificateFileAnswer, confirm: string | null): void {
  if (summary.faults.length > 0) {
    const errors = summary.faults.map(({ line, column, header, value, fault }) => ({
      field: `line ${line}${column === null ? '' : `, column ${column}`}${header === null ? '' : ` (${header})`}`, value, limit: fault,
    }));
    const stopped = summary.stopped === null ? '' : ` ${summary.stopped}`;
    throw new Refused(422, 'faulty-file', `Nothing was imported; faults told: ${summary.faults.length}.${stopped}`, errors);
  }
  if (summary.confirm !== null && confirm !== summary.confirm) {
    const code = summary.confirm;
    const errors = summary.questions.map(({ line, header, value, fault }) => ({ field: `line ${line} (${header ?? ''})`, value, limit: fault, confirm: code }));
    throw new Refused(
      422, 'implausible', `${summary.questionCount} values are possible but unlikely. If the papers print them, send the file again with confirm=${code}.`,
      errors,
    );
  }
  if (summary.certificates === 0) throw new Refused(422, 'faulty-file', 'Nothing was imported: the file holds no certificate.');
}
