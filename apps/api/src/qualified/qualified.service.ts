import { Injectable } from '@nestjs/common';
import { bestQualification, qualificationAt, type Qualification } from '#libs/validity';
import { PeopleService } from '../people/people.service.js';
import { QualificationProofsService } from '../qualification-proofs/qualification-proofs.service.js';
import type { QualificationVersion } from '../qualifications/qualification.entity.js';
import { QualificationsService } from '../qualifications/qualifications.service.js';
import { grouped } from '../suppliers/grouped.js';
import { judgedQualification } from './judged-qualification.js';
import type { QualifiedAnswer } from './qualified.dto.js';
import type { QualifiedQuestion } from './qualified-question.js';

const CAUTION = 'A record of certificates only: whether a person may weld or test is for the welding coordinator or the level 3 to decide.';

/** A qualification as it is on record, and as its validity is judged. */
export interface JudgedRow {
  readonly row: QualificationVersion;
  readonly qualification: Qualification;
}

/** Whether people were qualified for what they did, when they did it. */
@Injectable()
export class QualifiedPeople {
  constructor(
    private readonly people: PeopleService,
    private readonly qualifications: QualificationsService,
    private readonly proofs: QualificationProofsService,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when there was no such person. */
  async of(personId: string, { event, at, asKnownAt }: QualifiedQuestion): Promise<QualifiedAnswer> {
    await this.people.row(personId, asKnownAt);
    const judged = await this.judged(personId, asKnownAt);
    const best = bestQualification(judged.map(({ qualification }) => qualification), event);
    return {
      personId, at, found: best.found, number: best.found === 'none' ? null : best.id, because: best.because, caution: CAUTION,
      qualifications: judged.map(({ row: { id, number, standard }, qualification }) => {
        const { state, because, reasons, validUntil, lapses } = qualificationAt(qualification, event);
        return { id, number, standard, state, because, reasons: reasons.map((reason) => ({ state: reason.state, words: reason.words })), validUntil, lapses: [...lapses] };
      }),
    };
  }

  /** The qualifications of a person that were not void, each as its validity is judged. */
  async judged(personId: string, asKnownAt: string | null): Promise<readonly JudgedRow[]> {
    return (await this.judgedOf([personId], asKnownAt)).get(personId) ?? [];
  }

  /** The same of some people at once, by person; none for who has none. */
  async judgedOf(personIds: readonly string[], asKnownAt: string | null): Promise<ReadonlyMap<string, readonly JudgedRow[]>> {
    if (personIds.length === 0) return new Map();
    const [rows, proofs] = await Promise.all([this.qualifications.ofPeople(personIds, asKnownAt), this.proofs.ofPeople(personIds, asKnownAt)]);
    const proofsOf = grouped(proofs, ({ personId }) => personId);
    const judged = rows.map((row) => ({ row, qualification: judgedQualification(row, proofsOf.get(row.personId) ?? []) }));
    return grouped(judged, ({ row }) => row.personId);
  }
}
