import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory } from '../http/problem.js';
import { PeopleService } from '../people/people.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { QualificationInput, type QualificationContent } from './qualification.dto.js';
import { QualificationVersion } from './qualification.entity.js';
import { qualificationFaults, scopeItem, scopePart } from './qualification.rules.js';

@Injectable()
export class QualificationsService extends RecordsService<QualificationVersion, QualificationInput, QualificationContent> {
  readonly kind = 'qualification';
  readonly entity = QualificationVersion;
  readonly input = QualificationInput;
  protected override readonly filters = { personId: 'person_id' };
  protected override readonly constraints = {
    uq_qualification_number: { field: 'number', limit: 'a number that no other qualification of this person has' },
  };

  constructor(desk: RecordDesk, private readonly people: PeopleService) {
    super(desk);
  }

  /** The qualifications of some people known at `asKnownAt`, in the order of their first days. */
  async ofPeople(personIds: readonly string[], asKnownAt: string | null): Promise<QualificationVersion[]> {
    return this.desk.store.select(this.entity, "person_id = any($1::uuid[]) and state = 'active'", [personIds], asKnownAt, 'order by starts_on, id');
  }

  protected async content(tx: Transaction, input: QualificationInput): Promise<Content<QualificationVersion>> {
    const faults = qualificationFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { personId, number, standard, subject, methods, startsOn, authorisationNeeded, examiner } = input;
    await this.people.named(tx, 'personId', personId);
    return {
      personId, number, standard, subject, methods, level: input.level ?? null, scope: input.scope.map(scopeItem), startsOn,
      expiresOn: input.expiresOn ?? null, confirmEveryMonths: input.confirmEveryMonths ?? null, lateConfirmation: input.lateConfirmation ?? 'revives',
      visionEveryMonths: input.visionEveryMonths ?? null, authorisationNeeded, examiner, note: input.note ?? null,
    };
  }

  protected present(row: QualificationVersion): QualificationContent {
    const { personId, number, standard, subject, methods, level, scope, startsOn, expiresOn, confirmEveryMonths, lateConfirmation } = row;
    return {
      personId, number, standard, subject, methods: [...methods], level, scope: scope.map(scopePart), startsOn, expiresOn, confirmEveryMonths,
      lateConfirmation, visionEveryMonths: row.visionEveryMonths, authorisationNeeded: row.authorisationNeeded, examiner: row.examiner, note: row.note,
    };
  }
}
