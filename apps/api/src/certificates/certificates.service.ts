import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import type { Transaction } from '#libs/persistence';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CertificateInput, type CertificateContent } from './certificate.dto.js';
import { Certificate } from './certificate.entity.js';

/** What names a certificate. */
export type CertificateNumber = Pick<Certificate, 'issuer' | 'number'>;

@Injectable()
export class CertificatesService extends RecordsService<Certificate, CertificateInput, CertificateContent> {
  readonly kind = 'certificate';
  readonly entity = Certificate;
  readonly input = CertificateInput;
  protected override readonly effect = 'shows';
  protected override readonly constraints = {
    uq_certificate_number: { field: 'number', limit: 'a number that no other certificate of this issuer has' },
  };

  constructor(desk: RecordDesk) {
    super(desk);
  }

  /** The standing certificates among those with these issuers and numbers, pair by pair. */
  async withNumbers(pairs: readonly CertificateNumber[], manager?: EntityManager): Promise<Certificate[]> {
    if (pairs.length === 0) return [];
    // One by one through the index, however many certificates there are: as a join it may read all of them.
    return this.desk.store.select(
      this.entity,
      `id = any(array(
         select one.id from unnest($1::text[], $2::text[]) as named(i, n), lateral (
           select id from certificate
            where upper(issuer) = upper(i) and upper(number) = upper(n) and known_until is null and state = 'active' limit 1) one))`,
      [pairs.map(({ issuer }) => issuer), pairs.map(({ number }) => number)], null, '', manager,
    );
  }

  protected content(_tx: Transaction, input: CertificateInput): Content<Certificate> {
    const { number, issuer, documentType, issuedOn } = input;
    return { number, issuer, documentType, issuedOn, note: input.note ?? null };
  }

  protected present({ number, issuer, documentType, issuedOn, note }: Certificate): CertificateContent {
    return { number, issuer, documentType, issuedOn, note };
  }
}
