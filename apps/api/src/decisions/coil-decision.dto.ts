import { IntersectionType } from '@nestjs/swagger';
import { VERDICTS, type Verdict } from '#libs/conformity';
import { Anything, Choice, Id, Sha256, Text, Texts, When, Whole } from '../http/fields.js';
import { LONGEST_PASSWORD } from '../access/password-rules.js';
import { RecordAnswer } from '../records/record.dto.js';
import { DECISIONS, type DecisionKind } from '../standing/decision-kind.js';

export class CoilDecisionInput {
  @Id({ description: 'Made by the client (UUIDv7); a repeated request with it has the effect of one.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b25' })
  id!: string;

  @Id({ description: 'The coil.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07' })
  coilId!: string;

  @Choice({ description: 'What is decided.', example: 'hold', of: DECISIONS })
  decision!: DecisionKind;

  @Id({ description: 'The revision, where the coil has no order.', example: null, optional: true })
  specificationId?: string | null;

  @Sha256({ description: 'The digest shown with the evaluation: what is signed is what was seen.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  evaluationSha256!: string;

  @Text({ description: "Why, in the signer's words.", example: 'Waiting for the second keying.', max: 2000, min: 3 })
  grounds!: string;

  @Text({ description: 'For a concession: its limit in quantity, scope or use.', example: null, max: 1000, optional: true })
  concessionLimit?: string | null;

  @Whole({ description: 'How many decisions on this coil the signer had seen; 0 before the first.', example: 0, min: 0, max: 1_000_000, unit: '' })
  follows!: number;

  @Text({ description: "The signer's secret, entered again for this signature.", example: 'nine coils stayed dry', max: LONGEST_PASSWORD * 4 })
  secret!: string;
}

/** The decision's own fields of an answer. */
export class CoilDecisionContent {
  @Id({ description: 'The coil.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07' })
  coilId!: string;

  @Whole({ description: 'Counts the decisions on this coil; the last one stands.', example: 1, min: 1, max: 1_000_000, unit: '' })
  sequence!: number;

  @Choice({ description: 'What was decided.', example: 'hold', of: DECISIONS })
  decision!: DecisionKind;

  @Id({ description: 'The revision it was evaluated against.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b21' })
  specificationId!: string;

  @Choice({ description: 'Of the evaluation that was signed.', example: 'conforms', of: VERDICTS })
  verdict!: Verdict;

  @Text({ description: 'The sentence signed.', example: 'I have examined the evaluation of coil LM-01 against STS-12 revision 1 and put the coil on hold until it is decided.', max: 1000 })
  statement!: string;

  @Text({ description: 'Why.', example: 'Waiting for the second keying.', max: 2000 })
  grounds!: string;

  @Text({ description: 'The limit of a concession.', example: null, max: 1000, optional: true })
  concessionLimit!: string | null;

  @Anything({ description: 'The evaluation as it stood, frozen with the signature.', example: {} })
  evaluation!: unknown;

  @Sha256({ description: 'SHA-256 of the canonical JSON (RFC 8785) of the evaluation.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  evaluationSha256!: string;

  @Text({ description: 'The signer\'s name then.', example: 'Rasmus Feld', max: 200 })
  signerName!: string;

  @Texts({ description: 'The signer\'s roles then.', example: ['materials-engineer'], max: 10, each: 60 })
  signerRoles!: string[];

  @When({ description: 'When it was signed.', example: '2026-02-18T10:15:00.000000Z' })
  signedAt!: string;

  @Text({ description: 'How the signer was proved. An electronic signature, not a qualified one.', example: 'secret entered again', max: 60 })
  signedBy!: string;
}

export class CoilDecisionAnswer extends IntersectionType(RecordAnswer, CoilDecisionContent) {}
