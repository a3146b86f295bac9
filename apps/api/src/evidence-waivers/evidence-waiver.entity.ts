import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from '../line/placed.entity.js';
import type { WaiverBasis } from './evidence-waiver.dto.js';

/** An item of a control plan that was agreed not to be needed on this pipe. */
@RecordTable('evidence_waiver', { stringId: 'casing_string', nonconformanceId: 'nonconformance' })
@Check('ck_evidence_waiver_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_evidence_waiver_basis', "basis in ('waiver', 'concession')")
@Check('ck_evidence_waiver_of', "(basis = 'concession') = (nonconformance_id is not null)")
@IndexByName('ix_evidence_waiver_span')
@IndexByName('ix_evidence_waiver_known_from')
@IndexByName('ix_evidence_waiver_nonconformance_id')
export class EvidenceWaiver extends PlacedVersion {
  /** Of an item in a control plan that stood when the record first named it. */
  @Column({ type: 'text' })
  itemCode!: string;

  @Column({ type: 'text' })
  basis!: WaiverBasis;

  @Column({ type: 'text' })
  agreedBy!: string;

  @Column({ type: 'text' })
  agreement!: string;

  /** Why it was agreed. */
  @Column({ type: 'text' })
  grounds!: string;

  @Column({ type: 'uuid', nullable: true })
  nonconformanceId!: string | null;
}
