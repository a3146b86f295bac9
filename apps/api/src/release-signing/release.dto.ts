import { IntersectionType } from '@nestjs/swagger';
import { EVIDENCE_STATES, type EvidenceState } from '#libs/evidence';
import { LONGEST_PASSWORD } from '../access/password-rules.js';
import { Anything, Choice, Id, Parts, Sha256, Text, Texts, When, Whole, YesNo } from '../http/fields.js';
import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';

const FOOTAGE = { min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm' };

/** An item that the pipe is released without. */
export class ReleaseExceptionInput {
  @Text({ description: 'The code of the item.', example: 'UT-1', max: 20 })
  code!: string;

  @Text({ description: 'Why the pipe is released all the same.', example: 'The closing check is due at 16:00', max: 1000, min: 3 })
  because!: string;
}

export class ReleaseInput {
  @Id({ description: 'Made by the client (UUIDv7); a repeated request with it has the effect of one.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1c25' })
  id!: string;

  @Id({ description: 'The casing string.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b03' })
  stringId!: string;

  @Whole({ description: 'Footage from which on the pipe is released, mm.', example: 0, ...FOOTAGE })
  fromMm!: number;

  @Whole({ description: 'Footage up to which, mm; not part of it.', example: 12_000, ...FOOTAGE })
  toMm!: number;

  @Sha256({ description: 'The digest shown with the proposal: what is signed is what was seen.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  evidenceSha256!: string;

  @Parts({ description: 'Each item of the plan that is missing, suspect or provisional somewhere on this pipe, with the reason to release it all the same.', of: () => ReleaseExceptionInput, max: 200 })
  exceptions!: ReleaseExceptionInput[];

  @Text({ description: 'Why the signer releases own work; only and always where the evidence rests on some.', example: null, max: 1000, min: 3, optional: true })
  ownWorkBecause?: string | null;

  @Text({ description: "Why, in the signer's words.", example: 'All items looked at.', max: 2000, min: 3 })
  grounds!: string;

  @Text({ description: "The signer's secret, entered again for this signature.", example: 'nine coils stayed dry', max: LONGEST_PASSWORD * 4 })
  secret!: string;
}

/** An item that the pipe was released without. */
export class ReleaseExceptionAnswer extends ReleaseExceptionInput {
  @Choice({ description: 'The worst that it came to.', example: 'provisional', of: EVIDENCE_STATES })
  state!: EvidenceState;

  @Whole({ description: 'On how much pipe it was missing, suspect or provisional, mm.', example: 12_000, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm' })
  lengthMm!: number;
}

/** The release's own fields of an answer. */
export class ReleaseContent {
  @Id({ description: 'The casing string.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b03' })
  stringId!: string;

  @Whole({ description: 'Footage from which on the pipe is released, mm.', example: 0, ...FOOTAGE })
  fromMm!: number;

  @Whole({ description: 'Footage up to which, mm; not part of it.', example: 12_000, ...FOOTAGE })
  toMm!: number;

  @Choice({ description: 'The worst of the evidence signed.', example: 'provisional', of: EVIDENCE_STATES })
  worst!: EvidenceState;

  @Parts({ description: 'What it was released without.', of: () => ReleaseExceptionAnswer, max: 200 })
  exceptions!: ReleaseExceptionAnswer[];

  @YesNo({ description: 'The signer did some of the work that it rests on.', example: false })
  ownWork!: boolean;

  @Text({ description: 'Why own work was released.', example: null, max: 1000, optional: true })
  ownWorkBecause!: string | null;

  @Whole({ description: 'Footage at the hang-off then, mm; null where nobody knew.', example: 0, ...FOOTAGE, optional: true })
  hangOffMm!: number | null;

  @Text({ description: 'Why.', example: 'All items looked at.', max: 2000 })
  grounds!: string;

  @Text({ description: 'The sentence signed.', example: 'I have examined the evidence of footage 0.000 to 12.000 m of Lindmoor 2 main string and release this pipe for the well.', max: 1000 })
  statement!: string;

  @Anything({ description: 'The evidence as it stood, frozen with the signature.', example: {} })
  evidence!: unknown;

  @Sha256({ description: 'SHA-256 of the canonical JSON (RFC 8785) of the evidence.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  evidenceSha256!: string;

  @Text({ description: "The signer's name then.", example: 'Rasmus Feld', max: 200 })
  signerName!: string;

  @Texts({ description: "The signer's roles then.", example: ['qc-inspector'], max: 10, each: 60 })
  signerRoles!: string[];

  @When({ description: 'When it was signed.', example: '2026-03-02T15:10:00.000000Z' })
  signedAt!: string;

  @Text({ description: 'How the signer was proved. An electronic signature, not a qualified one.', example: 'secret entered again', max: 60 })
  signedBy!: string;
}

export class ReleaseAnswer extends IntersectionType(RecordAnswer, ReleaseContent) {}
