import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory, refusedField, together, type FieldProblem } from '../http/problem.js';
import { PeopleService } from '../people/people.service.js';
import { QualificationsService } from '../qualifications/qualifications.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { QualificationProofInput, type QualificationProofContent } from './qualification-proof.dto.js';
import { QualificationProof } from './qualification-proof.entity.js';

@Injectable()
export class QualificationProofsService extends RecordsService<QualificationProof, QualificationProofInput, QualificationProofContent> {
  readonly kind = 'qualification proof';
  readonly entity = QualificationProof;
  readonly input = QualificationProofInput;
  protected override readonly filters = { personId: 'person_id', qualificationId: 'qualification_id' };
  protected override readonly constraints = {
    uq_qualification_proof_withdrawal: { field: 'qualificationId', limit: 'a qualification that was not withdrawn yet' },
  };

  constructor(
    desk: RecordDesk,
    private readonly people: PeopleService,
    private readonly qualifications: QualificationsService,
  ) {
    super(desk);
  }

  /** The proofs of some people known at `asKnownAt`, by day. */
  async ofPeople(personIds: readonly string[], asKnownAt: string | null): Promise<QualificationProof[]> {
    return this.desk.store.select(this.entity, "person_id = any($1::uuid[]) and state = 'active'", [personIds], asKnownAt, 'order by on_day, id');
  }

  protected async content(tx: Transaction, input: QualificationProofInput): Promise<Content<QualificationProof>> {
    const faults = proofFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { personId, proof, onDay, givenBy } = input;
    const qualificationId = input.qualificationId ?? null;
    const [, qualification] = await together([
      this.people.named(tx, 'personId', personId), this.qualifications.namedIfAny(tx, 'qualificationId', qualificationId),
    ]);
    if (qualification !== null && qualification.personId !== personId) {
      throw refusedField('unknown-reference', 'qualificationId', qualificationId, 'a qualification of this person');
    }
    return {
      personId, qualificationId, proof, onDay, untilDay: input.untilDay ?? null, givenBy, reasonGiven: input.reasonGiven ?? null, note: input.note ?? null,
    };
  }

  protected present({ personId, qualificationId, proof, onDay, untilDay, givenBy, reasonGiven, note }: QualificationProof): QualificationProofContent {
    return { personId, qualificationId, proof, onDay, untilDay, givenBy, reasonGiven, note };
  }
}

function proofFaults({ qualificationId, proof, onDay, untilDay, reasonGiven }: QualificationProofInput): FieldProblem[] {
  const isWithdrawal = proof === 'withdrawal';
  return [
    ...(proof !== 'vision-test' && qualificationId == null ? [{ field: 'qualificationId', value: null, limit: 'the qualification: only a vision test holds for all' }] : []),
    ...(untilDay != null && proof !== 'authorisation' ? [{ field: 'untilDay', value: untilDay, limit: 'a last day only of an authorisation' }] : []),
    ...(untilDay != null && untilDay < onDay ? [{ field: 'untilDay', value: untilDay, limit: `not before ${onDay}, its first day` }] : []),
    ...(isWithdrawal === (reasonGiven == null) ? [{ field: 'reasonGiven', value: reasonGiven ?? null, limit: isWithdrawal ? 'why it was withdrawn' : 'a reason only of a withdrawal' }] : []),
  ];
}
