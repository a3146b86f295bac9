import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { CertificatesService } from '../certificates/certificates.service.js';
import { CoilsService } from '../coils/coils.service.js';
import { refusedField } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { DocumentInput, type DocumentContent } from './document.dto.js';
import { Document } from './document.entity.js';
import { StoredFiles } from './stored-files.service.js';

@Injectable()
export class DocumentsService extends RecordsService<Document, DocumentInput, DocumentContent> {
  readonly kind = 'document';
  readonly entity = Document;
  readonly input = DocumentInput;
  protected override readonly filters = { certificateId: 'certificate_id', coilId: 'coil_id' };

  constructor(
    desk: RecordDesk,
    private readonly files: StoredFiles,
    private readonly certificates: CertificatesService,
    private readonly coils: CoilsService,
  ) {
    super(desk);
  }

  /** Where the files with these contents are attached, as known at `asKnownAt`. */
  async ofFiles(sha256s: readonly string[], asKnownAt: string | null): Promise<Document[]> {
    return this.desk.store.select(this.entity, "file_sha256 = any($1::text[]) and state = 'active'", [sha256s], asKnownAt, 'order by id limit 1000');
  }

  /** The documents of some certificates known at `asKnownAt`. */
  async ofCertificates(certificateIds: readonly string[], asKnownAt: string | null): Promise<Document[]> {
    return this.desk.store.select(this.entity, "certificate_id = any($1::uuid[]) and state = 'active'", [certificateIds], asKnownAt, 'order by id');
  }

  protected async content(tx: Transaction, input: DocumentInput): Promise<Content<Document>> {
    const { fileSha256, about, fileName, isOriginal } = input;
    const [certificateId, coilId] = [input.certificateId ?? null, input.coilId ?? null];
    if (certificateId === null && coilId === null) {
      throw refusedField('no-subject', 'certificateId', null, 'a certificate, a coil, or both');
    }
    if (about === 'certificate' && certificateId === null) {
      throw refusedField('no-subject', 'certificateId', null, 'the certificate, for the picture of one');
    }
    if ((await this.files.find(fileSha256, tx.manager)) === null) {
      throw refusedField('unknown-reference', 'fileSha256', fileSha256, 'the SHA-256 of a file sent to /api/files before');
    }
    if (certificateId !== null) await this.certificates.named(tx, 'certificateId', certificateId);
    if (coilId !== null) await this.coils.named(tx, 'coilId', coilId);
    return {
      fileSha256, about, fileName, certificateId, coilId, isOriginal, pageCount: input.pageCount ?? null,
      language: input.language ?? null, note: input.note ?? null,
    };
  }

  /** One picture for two certificates is usually a mistake, and once in a while a forgery. */
  protected override async findings(_input: DocumentInput, content: Content<Document>, tx: Transaction, current: Document | null): Promise<readonly Finding[]> {
    if (content.about !== 'certificate') return [];
    const [other] = await this.desk.store.select(
      this.entity, "file_sha256 = $1 and state = 'active' and about = 'certificate' and certificate_id <> $2 and id is distinct from $3::uuid",
      [content.fileSha256, content.certificateId, current?.id ?? null], null, 'order by id limit 1', tx.manager,
    );
    if (other === undefined) return [];
    return [{
      tier: 'implausible', field: 'fileSha256', value: content.fileSha256,
      limit: `usually the picture of one certificate: this very file is attached to certificate ${other.certificateId ?? ''} as ${other.fileName}`,
    }];
  }

  protected present(row: Document): DocumentContent {
    const { fileSha256, about, fileName, certificateId, coilId, isOriginal, pageCount, language, note } = row;
    return { fileSha256, about, fileName, certificateId, coilId, isOriginal, pageCount, language, note };
  }
}
