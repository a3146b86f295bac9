import type { Readable } from 'node:stream';
import { Injectable } from '@nestjs/common';
import { sqlRefusal, type Actor } from '#libs/persistence';
import { Slots } from '../access/slots.js';
import type { Certificate } from '../certificates/certificate.entity.js';
import { CertificatesService } from '../certificates/certificates.service.js';
import { spool, type Spooled } from '../files/spool.js';
import { PART_BYTES, StoredFiles } from '../files/stored-files.service.js';
import { Refused } from '../http/problem.js';
import { AlreadyDone, claimKey, keepAnswer, keptAnswer } from '../records/once.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf } from '../records/write-request.js';
import type { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import { CertificateTranscriptionsService } from '../transcriptions/certificate-transcriptions.service.js';
import { CertificateEntry, nameOf } from './certificate-entry.js';
import { CertificateBases } from './certificate-bases.service.js';
import type { CsvFault, ReadCertificate } from './certificate-csv.js';
import { batchesOf, FileSummary } from './certificate-file.js';
import type { CertificateFileAnswer, CertificateImportAnswer } from './certificate-import.dto.js';

/** Bytes of the largest file taken; our own choice. */
const MOST_BYTES = 268_435_456;

/** Each holds a connection to the database and some memory while it is read; a few more may wait. */
const AT_ONCE = 3;
const MOST_WAITING = 20;

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

/** Reads certificates from CSV files: all of a file is entered, or nothing. */
@Injectable()
export class CertificateImports {
  private readonly slots = new Slots(AT_ONCE, MOST_WAITING, 'Too many files are being read just now.');

  constructor(
    private readonly desk: RecordDesk,
    private readonly bases: CertificateBases,
    private readonly certificates: CertificatesService,
    private readonly transcriptions: CertificateTranscriptionsService,
    private readonly files: StoredFiles,
  ) {}

  /** What a file says and what would come of it. Nothing is written. */
  async preview(actor: Actor, body: Readable, question: ImportQuestion): Promise<CertificateFileAnswer> {
    return this.withFile(body, (file) => this.read(file, file.parts(PART_BYTES), actor, question, null));
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
      try {
        return await this.desk.transaction(actor, null, async (tx) => {
          await claimKey(tx, key);
          const entry = new CertificateEntry(tx, file, order, this.certificates, this.transcriptions);
          const summary = await this.read(file, this.files.keepWhileRead(tx, file, 'text/csv'), actor, order, entry);
          demandClean(summary, order.confirm);
          const answer = { ...summary, id: order.id, newCertificates: entry.newCertificates };
          await keepAnswer(tx, key, answer);
          if (entry.newCertificates > 0) await this.certificates.touchShown(tx);
          return answer;
        });
      } catch (error) {
        if (error instanceof AlreadyDone) return error.body as CertificateImportAnswer;
        throw cameMeanwhile(error) ?? error;
      }
    });
  }

  private withFile<T>(body: Readable, work: (file: Spooled) => Promise<T>): Promise<T> {
    return this.slots.run(async () => {
      const file = await spool(body, MOST_BYTES);
      try {
        return await work(file);
      } finally {
        await file.dispose();
      }
    });
  }

  /**
   * Reads a file once, in constant memory. With an entry, each batch is written while the next one is read: a fault found
   * later undoes all of it with the transaction.
   */
  private async read(
    file: Spooled, parts: AsyncIterable<Uint8Array>, actor: Actor, { keying, specificationId }: ImportQuestion, entry: CertificateEntry | null,
  ): Promise<CertificateFileAnswer> {
    const summary = new FileSummary(file);
    const basesOf = await this.bases.forFile(specificationId);
    const batches = batchesOf(parts, (fault) => { summary.addFault(fault); });
    let writing: Promise<void> = Promise.resolve();
    for (;;) {
      const next = await batches.next();
      await writing;
      if (next.done === true) return summary.answer(next.value);
      const papers = next.value.map(({ paper }) => paper);
      const [onRecord, basisOf] = await Promise.all([
        this.certificates.withNumbers(papers, entry?.manager), basesOf(papers.map(({ orderNumber }) => orderNumber)),
      ]);
      for (const fault of await this.faultsAgainstRecord(next.value, onRecord, keying, actor)) summary.addFault(fault);
      writing = entry === null || summary.hasFaults ? Promise.resolve() : entry.add(next.value, onRecord);
      // Whoever awaits it below hears of a refusal; until then it is nobody's.
      writing.catch(() => undefined);
      for (const certificate of next.value) summary.add(certificate, basisOf(certificate.paper.orderNumber));
    }
  }

  /** What of a batch contradicts what is on record: another date or type, a keying that is there, a keyer who may not key it. */
  private async faultsAgainstRecord(batch: readonly ReadCertificate[], onRecord: readonly Certificate[], keying: number, actor: Actor): Promise<CsvFault[]> {
    if (onRecord.length === 0) return [];
    const byName = new Map(onRecord.map((one) => [nameOf(one), one]));
    const keyings = await this.transcriptions.ofCertificates(onRecord.map(({ id }) => id), null);
    return batch.flatMap((certificate): CsvFault[] => {
      const known = byName.get(nameOf(certificate.paper));
      if (known === undefined) return [];
      return faultsAgainst(certificate, known, keyings.filter(({ certificateId }) => certificateId === known.id), keying, actor);
    });
  }
}

function faultsAgainst(
  { paper, firstLine }: ReadCertificate, known: Certificate, keyings: readonly CertificateTranscription[], keying: number, actor: Actor,
): CsvFault[] {
  const { number } = paper;
  const at = (header: string, value: string, fault: string): CsvFault => ({ line: firstLine, column: null, header, value, fault });
  const isDone = keyings.some((one) => one.keying === keying);
  const isOwn = keyings.some((one) => one.keying !== keying && [one.keyedBy, one.doneBy].includes(actor.personId));
  return [
    ...(known.documentType === paper.documentType ? [] : [at('type', paper.documentType, `certificate ${number} is on record with type ${known.documentType}`)]),
    ...(known.issuedOn === paper.issuedOn ? [] : [at('issued', paper.issuedOn, `certificate ${number} is on record as issued on ${known.issuedOn}`)]),
    ...(isDone ? [at('certificate', number, `certificate ${number} has its keying ${keying} already: amend that`)] : []),
    ...(isOwn ? [at('certificate', number, `you keyed the other keying of certificate ${number}: another person keys this one`)] : []),
  ];
}

/** Constraints that a file meets when another entry of one of its certificates is committed while it is read. */
const MET_MEANWHILE: ReadonlySet<string> = new Set(['uq_certificate_number', 'uq_certificate_transcription_keying']);
/** The database's word for both keyings by one person. */
const SAME_KEYER = 'EM009';

/** Which certificate it was the database does not say; read again, the file is told with its line. Null for other errors. */
function cameMeanwhile(error: unknown): Refused | null {
  const refusal = sqlRefusal(error);
  if (refusal === null || !(refusal.sqlState === SAME_KEYER || MET_MEANWHILE.has(refusal.constraint ?? ''))) return null;
  return new Refused(409, 'entered-meanwhile', 'A certificate of this file was entered by somebody else while it was read. Nothing was imported: send it again.');
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
