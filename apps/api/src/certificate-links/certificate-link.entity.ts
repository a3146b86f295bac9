import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { LINK_ROLES } from './certificate-link.dto.js';

/** Says that a certificate speaks of a coil, beside the one the coil came with. */
@RecordTable('certificate_link', { certificateId: 'certificate', coilId: 'coil' })
@Check('ck_certificate_link_role', "role in ('mill', 'slitter', 'retest')")
@IndexByName('uq_certificate_link_pair')
@IndexByName('ix_certificate_link_coil_id')
export class CertificateLink extends RecordVersion {
  @Column({ type: 'uuid' })
  certificateId!: string;

  @Column({ type: 'uuid' })
  coilId!: string;

  @Column({ type: 'text' })
  role!: (typeof LINK_ROLES)[number];

  @Column({ type: 'text' })
  namedAs!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
