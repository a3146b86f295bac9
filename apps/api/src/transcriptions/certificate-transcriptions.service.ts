import { Injectable } from '@nestjs/common';
import { v7 as uuidv7 } from 'uuid';
import { sqlStateOf, type Transaction } from '#libs/persistence';
import type { Paper, PrintedValue } from '#libs/strip';
import { CertificatesService } from '../certificates/certificates.service.js';
import { refusalOfDatabase } from '../http/database-refusals.js';
import { malformed, Refused, refusedField } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import { marksOf, type Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { RecordAnswer } from '../records/record.dto.js';
import { RecordsService, type Content } from '../records/records.service.js';
import type { WriteRequest } from '../records/write-request.js';
import {
  CertificateTranscriptionInput, type CertificateTranscriptionAnswer, type CertificateTranscriptionContent, type VerificationAnswer,
} from './certificate-transcription.dto.js';
import { CertificateTranscription } from './certificate-transcription.entity.js';
import { keyingDifferences, numbersIn, type Keying } from './keying-comparison.js';
import { linesOf, packedLines } from './packed-lines.js';
import type { PaperLinePart } from './printed-value.dto.js';
import { impossible, keptLine, unusual } from './printed-values.js';

/** The database's word for both keyings by one person. */
const SAME_KEYER = 'EM009';

/** What an answer says beside the common fields. */
type TranscriptionFields = CertificateTranscriptionContent & Pick<CertificateTranscriptionAnswer, 'fileSha256' | 'fileLine'>;

/** Who keyed a paper, when, and under which id. */
export interface KeyedPaper {
  readonly id: string;
  readonly observedAt: string;
  readonly keying: number;
  readonly confirm: readonly string[];
  /** What the paper says and the record has no place for: marked, so that nothing is lost without a word. */
  readonly leftOut: readonly Finding[];
}

@Injectable()
export class CertificateTranscriptionsService
  extends RecordsService<CertificateTranscription, CertificateTranscriptionInput, TranscriptionFields> {
  readonly kind = 'certificate transcription';
  readonly entity = CertificateTranscription;
  readonly input = CertificateTranscriptionInput;
  protected override readonly filters = { certificateId: 'certificate_id' };
  protected override readonly longestPage = 10;
  protected override readonly constraints = {
    uq_certificate_transcription_keying: { field: 'keying', limit: 'a keying that this certificate does not have yet' },
  };

  constructor(
    desk: RecordDesk,
    private readonly certificates: CertificatesService,
  ) {
    super(desk);
  }

  /** The keyings of some certificates known at `asKnownAt`, the first before the second. */
  async ofCertificates(certificateIds: readonly string[], asKnownAt: string | null): Promise<CertificateTranscription[]> {
    if (certificateIds.length === 0) return [];
    return this.desk.store.select(
      this.entity, "certificate_id = any($1::uuid[]) and state = 'active'", [certificateIds], asKnownAt, 'order by certificate_id, keying',
    );
  }

  /** The keyings that name one of these heats, in normal form, as known at `asKnownAt`. */
  async namingHeat(heatNumbers: readonly string[], asKnownAt: string | null): Promise<CertificateTranscription[]> {
    return this.desk.store.select(
      this.entity, "heat_numbers && $1::text[] and state = 'active'", [heatNumbers], asKnownAt, 'order by certificate_id, keying limit 500',
    );
  }

  /** The keyings that name one of these coils, in normal form, as known at `asKnownAt`. */
  async namingCoil(coilNumbers: readonly string[], asKnownAt: string | null): Promise<CertificateTranscription[]> {
    return this.desk.store.select(
      this.entity, "coil_numbers && $1::text[] and state = 'active'", [coilNumbers], asKnownAt, 'order by certificate_id, keying limit 500',
    );
  }

  /** The withdrawn keyings of some certificates known at `asKnownAt`. */
  async withdrawnFrom(certificateIds: readonly string[], asKnownAt: string | null): Promise<CertificateTranscription[]> {
    return this.desk.store.select(this.entity, "certificate_id = any($1::uuid[]) and state = 'void'", [certificateIds], asKnownAt);
  }

  /** How some keyings read when they were first entered, by id. */
  async firstVersions(ids: readonly string[]): Promise<Map<string, CertificateTranscription>> {
    const rows = await this.desk.store.firstVersions(this.entity, ids);
    return new Map(rows.map((row) => [row.id, row]));
  }

  /** How the two keyings of a certificate compare. Refuses with 404 when there is no such certificate. */
  async verification(certificateId: string, asKnownAt: string | null): Promise<VerificationAnswer> {
    await this.certificates.row(certificateId, asKnownAt);
    return verificationOf(certificateId, await this.ofCertificates([certificateId], asKnownAt));
  }

  /**
   * Enters a paper as it was keyed: its certificate, unless it is on record, and the keying, in one transaction. A repeat
   * with the same id has the effect of one. Refuses as the entry of each does.
   */
  async createFromPaper(paper: Paper, keyed: KeyedPaper, request: WriteRequest): Promise<RecordAnswer & TranscriptionFields> {
    const { id, observedAt, keying, confirm, leftOut } = keyed;
    const inputFor = (certificateId: string): CertificateTranscriptionInput => parsed(this.input, {
      id, observedAt, certificateId, keying, orderNumber: paper.orderNumber, specification: paper.specification, lines: paper.lines, confirm,
    });
    const [before] = await this.certificates.withNumbers([paper]);
    const lock = before === undefined ? null : { about: before.id, mode: 'shared' as const };
    try {
      return await this.write(request, lock, async (tx) => {
        const [known] = await this.certificates.withNumbers([paper], tx.manager);
        const { number, issuer, documentType, issuedOn } = paper;
        const certificate = known ?? (await this.certificates.createIn(tx, { observedAt, number, issuer, documentType, issuedOn }, uuidv7()));
        if (certificate.documentType !== documentType || certificate.issuedOn !== issuedOn) {
          throw refusedField('other-certificate', 'document', `${documentType}, ${issuedOn}`, `certificate ${number} is on record with type ${certificate.documentType}, issued on ${certificate.issuedOn}`);
        }
        const row = await this.firstVersion(tx, inputFor(certificate.id), id);
        return this.answer(await this.desk.store.append(tx, this.entity, Object.assign(row, { marks: [...row.marks, ...marksOf(leftOut, [])] })));
      });
    } catch (error) {
      const first = await this.desk.store.version(this.entity, id, 1);
      if (first === null) throw this.explained(error, { keying });
      await this.demandSamePaper(first.certificateId, paper);
      return this.again(first, inputFor(first.certificateId), id);
    }
  }

  /** Refuses with 409 when the keying sent before under this id was of another paper. */
  private async demandSamePaper(certificateId: string, paper: Paper): Promise<void> {
    const certificate = await this.certificates.row(certificateId, null);
    const differing = (['number', 'issuer', 'documentType', 'issuedOn'] as const).filter((field) => certificate[field].toUpperCase() !== paper[field].toUpperCase());
    if (differing.length === 0) return;
    throw new Refused(
      409, 'id-taken', `This id names a ${this.kind} of another certificate.`,
      differing.map((field) => ({ field, value: paper[field], limit: `was ${JSON.stringify(certificate[field])}` })),
    );
  }

  /** That both keyings would be one person's is told with the keying that was sent. */
  protected override explained(error: unknown, input: object | null): unknown {
    if (sqlStateOf(error) !== SAME_KEYER) return super.explained(error, input);
    const { keying = null } = (input ?? {}) as { keying?: number | null };
    const refused = refusalOfDatabase(error);
    return refused === null ? error : new Refused(refused.status, refused.code, refused.message, refused.errors.map((one) => ({ ...one, value: keying })));
  }

  protected async content(tx: Transaction, input: CertificateTranscriptionInput, current: CertificateTranscription | null): Promise<Content<CertificateTranscription>> {
    await this.certificates.named(tx, 'certificateId', input.certificateId);
    const lines = input.lines.map(keptLine);
    const faults = lines.flatMap(({ values }, line) =>
      values.flatMap((value, index) => impossible(value, `lines[${line}].values[${index}]`)));
    if (faults.length > 0) throw malformed(faults);
    const bare = lines.findIndex(({ coilNumber, heatNumber }) => coilNumber === null && heatNumber === null);
    if (bare >= 0) throw refusedField('nameless-line', `lines[${bare}].heatNumber`, null, 'a coil number, a heat number, or both');
    return {
      certificateId: input.certificateId, keying: input.keying, orderNumber: input.orderNumber ?? null,
      specification: input.specification ?? null, packedLines: packedLines(lines), note: input.note ?? null,
      fileSha256: current?.fileSha256 ?? null, fileLine: current?.fileLine ?? null,
      coilNumbers: numbersIn(lines, 'coilNumber'), heatNumbers: numbersIn(lines, 'heatNumber'),
    };
  }

  protected override findings(
    _input: CertificateTranscriptionInput, content: Content<CertificateTranscription>, _tx: Transaction, current: CertificateTranscription | null,
  ): readonly Finding[] {
    // A value that stood already was asked about when it came, by a person or with the file it came from.
    const stood = new Set(current === null ? [] : linesOf(current).flatMap(({ values }) => values.map(wordFor)));
    return linesOf(content).flatMap(({ values }, line) => values.flatMap((value, index) =>
      unusual(value, `lines[${line}].values[${index}]`).map((found) => ({ ...found, stoodBefore: stood.has(wordFor(value)) }))));
  }

  protected present(row: CertificateTranscription): TranscriptionFields {
    const { certificateId, keying, orderNumber, specification, note, fileSha256, fileLine } = row;
    return { certificateId, keying, orderNumber, specification, lines: linesOf(row) as PaperLinePart[], note, fileSha256, fileLine };
  }
}

const wordFor = ({ characteristic, analysis, printed, unit, multiplier }: PrintedValue): string => [characteristic, analysis, printed, unit, multiplier].join('|');

/** The state of a certificate's keying from the keyings that stand. */
export function verificationOf(certificateId: string, keyings: readonly CertificateTranscription[]): VerificationAnswer {
  const own = keyings.filter((one) => one.certificateId === certificateId);
  const first = own.find(({ keying }) => keying === 1) ?? null;
  const second = own.find(({ keying }) => keying === 2) ?? null;
  const differences = first === null || second === null ? [] : keyingDifferences(keyingOf(first), keyingOf(second));
  return {
    certificateId, state: stateOf(first, second, differences.length), firstId: first?.id ?? null, secondId: second?.id ?? null,
    isCorrected: own.some(({ version }) => version > 1), differences,
  };
}

function stateOf(first: object | null, second: object | null, differenceCount: number): VerificationAnswer['state'] {
  if (first === null && second === null) return 'not-keyed';
  if (first === null || second === null) return 'keyed-once';
  return differenceCount > 0 ? 'keyings-differ' : 'verified';
}

const keyingOf = (row: CertificateTranscription): Keying => ({ orderNumber: row.orderNumber, specification: row.specification, lines: linesOf(row) });
