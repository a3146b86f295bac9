import { createHash, type Hash } from 'node:crypto';
import type { CsvFault, CsvQuestion, ReadCertificate } from './certificate-csv.js';
import { readCertificates } from './certificate-csv.js';
import type { CertificateFileAnswer } from './certificate-import.dto.js';
import { PaperVerdicts, type Basis } from './paper-verdicts.js';

const QUESTIONS_LISTED = 100;
const FAULTS_LISTED = 100;

/** What tells a file from others. */
export interface CertificateFile {
  readonly sha256: string;
  readonly sizeBytes: number;
}

/** Certificates that are looked at together: some are read while the ones before are written. */
const BATCH = 40;

/** The certificates without fault of a file in parts, batch by batch; faults and the end are told to `tell`. */
export async function* batchesOf(parts: AsyncIterable<Uint8Array>, tell: (fault: CsvFault) => void = ignore): AsyncGenerator<readonly ReadCertificate[], { lines: number; stopped: string | null }> {
  let batch: ReadCertificate[] = [];
  let ended = { lines: 0, stopped: null as string | null };
  for await (const reading of readCertificates(parts)) {
    if (reading.kind === 'fault') tell(reading.fault);
    else if (reading.kind === 'end') ended = { lines: reading.end.lines, stopped: reading.end.stopped };
    else batch.push(reading.certificate);
    if (batch.length < BATCH) continue;
    yield batch;
    batch = [];
  }
  if (batch.length > 0) yield batch;
  return ended;
}

const ignore = (): void => undefined;

/** Gathers, in constant memory, what a file says and what would come of it. */
export class FileSummary {
  private readonly verdicts = new PaperVerdicts();
  private readonly faults: CsvFault[] = [];
  private readonly questions: CsvQuestion[] = [];
  private readonly asked: Hash;
  private questionCount = 0;
  private certificates = 0;
  private values = 0;

  constructor(private readonly file: CertificateFile) {
    // A code confirms the questions of this very file.
    this.asked = createHash('sha256').update(file.sha256);
  }

  get hasFaults(): boolean {
    return this.faults.length > 0;
  }

  addFault(fault: CsvFault): void {
    if (this.faults.length < FAULTS_LISTED) this.faults.push(fault);
  }

  add(certificate: ReadCertificate, basis: Basis | null): void {
    this.certificates += 1;
    for (const { values } of certificate.paper.lines) this.values += values.length;
    this.verdicts.add(certificate, basis);
    this.questionCount += certificate.questions.length + certificate.questionsLeftOut;
    for (const question of certificate.questions) {
      this.asked.update(`${question.line}:${question.column ?? 0}=${question.value ?? ''};`);
      if (this.questions.length < QUESTIONS_LISTED) this.questions.push(question);
    }
  }

  answer({ lines, stopped }: { lines: number; stopped: string | null }): CertificateFileAnswer {
    const faults = [...this.faults].sort((one, other) => one.line - other.line).map(plain);
    return {
      fileSha256: this.file.sha256, sizeBytes: this.file.sizeBytes, lines, certificates: this.certificates, values: this.values, faults, stopped,
      questions: this.questions.map(plain),
      questionCount: this.questionCount, confirm: this.questionCount === 0 ? null : this.asked.digest('hex').slice(0, 16),
      verdicts: this.verdicts.counts, notConforming: this.verdicts.notConforming, notConformingCount: this.verdicts.notConformingCount,
    };
  }
}

/** A fault as it is answered: nothing stands where there is an empty text. */
function plain({ line, column, header, value, fault }: CsvFault): CsvFault {
  return { line, column, header: header === '' ? null : header, value: value === '' ? null : value, fault };
}
