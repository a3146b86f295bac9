import type { Qualification } from '#libs/validity';
import type { QualificationProof } from '../qualification-proofs/qualification-proof.entity.js';
import type { QualificationVersion } from '../qualifications/qualification.entity.js';

/** A qualification with what keeps it valid or ended it, as its validity is judged. It goes by its number, which is once a person's. */
export function judgedQualification(row: QualificationVersion, proofs: readonly QualificationProof[]): Qualification {
  const own = proofs.filter(({ qualificationId, personId }) => personId === row.personId && (qualificationId === null || qualificationId === row.id));
  const daysOf = (proof: QualificationProof['proof']): string[] => own.filter((one) => one.proof === proof).map(({ onDay }) => onDay);
  const withdrawal = own.find(({ proof }) => proof === 'withdrawal');
  return {
    id: row.number, methods: row.methods, level: row.level, scope: row.scope, startsOn: row.startsOn, expiresOn: row.expiresOn,
    confirmation: row.confirmEveryMonths === null
      ? null
      : { everyMonths: row.confirmEveryMonths, confirmedOn: daysOf('confirmation'), lateConfirmation: row.lateConfirmation },
    authorisations: row.authorisationNeeded
      ? own.filter(({ proof }) => proof === 'authorisation').map(({ onDay, untilDay }) => ({ from: onDay, until: untilDay }))
      : null,
    vision: row.visionEveryMonths === null ? null : { everyMonths: row.visionEveryMonths, testedOn: daysOf('vision-test') },
    withdrawn: withdrawal === undefined ? null : { on: withdrawal.onDay, reason: withdrawal.reasonGiven ?? '' },
  };
}
