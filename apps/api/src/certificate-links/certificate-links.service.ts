import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { CertificatesService } from '../certificates/certificates.service.js';
import { CoilsService } from '../coils/coils.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CertificateLinkInput, type CertificateLinkContent } from './certificate-link.dto.js';
import { CertificateLink } from './certificate-link.entity.js';

@Injectable()
export class CertificateLinksService extends RecordsService<CertificateLink, CertificateLinkInput, CertificateLinkContent> {
  readonly kind = 'certificate link';
  readonly entity = CertificateLink;
  readonly input = CertificateLinkInput;
  protected override readonly filters = { certificateId: 'certificate_id', coilId: 'coil_id' };
  protected override readonly constraints = {
    uq_certificate_link_pair: { field: 'certificateId', limit: 'a certificate that is not linked to this coil already' },
  };

  constructor(
    desk: RecordDesk,
    private readonly certificates: CertificatesService,
    private readonly coils: CoilsService,
  ) {
    super(desk);
  }

  /** The links of some coils known at `asKnownAt`, oldest first. */
  async ofCoils(coilIds: readonly string[], asKnownAt: string | null): Promise<CertificateLink[]> {
    return this.desk.store.select(this.entity, "coil_id = any($1::uuid[]) and state = 'active'", [coilIds], asKnownAt, 'order by id');
  }

  /** The links of a certificate known at `asKnownAt`, oldest first. */
  async ofCertificate(certificateId: string, asKnownAt: string | null): Promise<CertificateLink[]> {
    return this.desk.store.select(this.entity, "certificate_id = $1 and state = 'active'", [certificateId], asKnownAt, 'order by id');
  }

  protected async content(tx: Transaction, input: CertificateLinkInput): Promise<Content<CertificateLink>> {
    const { certificateId, coilId, role, namedAs } = input;
    await this.certificates.named(tx, 'certificateId', certificateId);
    await this.coils.named(tx, 'coilId', coilId);
    return { certificateId, coilId, role, namedAs, note: input.note ?? null };
  }

  protected present({ certificateId, coilId, role, namedAs, note }: CertificateLink): CertificateLinkContent {
    return { certificateId, coilId, role, namedAs, note };
  }
}
