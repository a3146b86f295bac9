import { VERDICTS, type Verdict } from '#libs/conformity';
import { Choice, Computed, Id, Part, Parts, Sha256, Text, Texts, When, Whole, YesNo } from '../http/fields.js';
import { COIL_STATES, type CoilState } from '../standing/coil-standing.js';
import { DECISIONS, type DecisionKind } from '../standing/decision-kind.js';
import { RecordRefAnswer } from '../trace/explanation.dto.js';
import { RecordLink } from '../trace/trace.dto.js';
import { CROSS_CHECKS, type CrossCheckName } from './cross-check.js';

/** One value beside its limit. */
export class EvaluationLineAnswer {
  @Text({ description: 'What is limited.', example: 'C, heat analysis', max: 200 })
  name!: string;

  @Text({ description: 'The limits.', example: 'at most 0.12 %', max: 300 })
  limits!: string;

  @Text({ description: 'Where the limits come from.', example: 'clause 4.1', max: 600 })
  limitsFrom!: string;

  @Text({ description: 'The value as printed or read; null when there is none.', example: '0.085 %', max: 200, optional: true })
  printed!: string | null;

  @Text({ description: 'Where the value comes from.', example: 'certificate TS-2026-00417 (3.1), line 1', max: 300, optional: true })
  source!: string | null;

  @Part({ description: 'The record the value was taken from.', of: () => RecordRefAnswer, optional: true })
  record!: RecordRefAnswer | null;

  @Choice({ description: 'The verdict.', example: 'conforms', of: VERDICTS })
  verdict!: Verdict;

  @Text({ description: 'The value as it was compared.', example: '0.085', max: 100, optional: true })
  compared!: string | null;

  @Text({ description: 'Distance to the nearest limit, positive inside, in the unit of the limits.', example: '0.035', max: 60, optional: true })
  margin!: string | null;

  @Choice({ description: 'The nearest limit.', example: 'max', of: ['min', 'max'], optional: true })
  nearest!: 'min' | 'max' | null;

  @Text({ description: 'The unit of limits and margin.', example: '%', max: 10 })
  unit!: string;

  @Text({ description: 'Probability that the true value conforms (JCGM 106), where the uncertainty is known; four decimals.', example: null, max: 20, optional: true })
  conformanceProbability!: string | null;

  @Text({ description: 'The rule that decided.', example: 'compared with at most 0.12 %', max: 1000 })
  rule!: string;

  @Text({ description: 'Why it is not a plain verdict.', example: null, max: 1000, optional: true })
  reason!: string | null;

  @Text({ description: 'The slip of unit or decimal point it looks like.', example: null, max: 200, optional: true })
  looksLike!: string | null;
}

/** Something that does not fit together. */
export class CrossCheckAnswer {
  @Choice({ description: 'warning: somebody should look before deciding.', example: 'warning', of: ['warning', 'note'] })
  severity!: 'warning' | 'note';

  @Choice({ description: 'Which check.', example: 'heat analysis', of: CROSS_CHECKS })
  check!: CrossCheckName;

  @Text({ description: 'What was found.', example: 'heat H40711 has two heat analyses: C 0.085 % on certificate TS-2026-00417, 0.091 % on certificate TS-2026-00421', max: 2000 })
  detail!: string;

  @Parts({ description: 'The records it is about.', of: () => RecordRefAnswer, max: 20 })
  records!: RecordRefAnswer[];
}

/** Values against one revision. */
export class EvaluationUnderAnswer {
  @Part({ description: 'The revision.', of: () => RecordLink })
  specification!: RecordLink;

  @Choice({ description: 'The worst of the lines, never an average.', example: 'conforms', of: VERDICTS })
  verdict!: Verdict;

  @Parts({ description: 'Line by line, in the order of the specification.', of: () => EvaluationLineAnswer, max: 100_000 })
  lines!: EvaluationLineAnswer[];
}

/** The length of the coil's strip by one way. */
export class CoilLengthAnswer {
  @Text({ description: 'How it is known.', example: 'mass, width and thickness', max: 60 })
  basis!: string;

  @Whole({ description: 'The length.', example: 213_650, min: 0, max: 1_000_000_000, unit: 'mm' })
  lengthMm!: number;

  @Whole({ description: 'Its uncertainty, k = 2.', example: 4_700, min: 0, max: 1_000_000_000, unit: 'mm' })
  plusMinusMm!: number;
}

/** A permit under which pipe may be made of a coil. */
export class ValidPermitAnswer {
  @Id({ description: 'The deviation permit.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b31' })
  id!: string;

  @Text({ description: 'What it departs from.', example: 'Used before its papers were verified', max: 2000 })
  departure!: string;

  @Text({ description: 'Its limit in quantity, scope or use.', example: 'Above 400 m only', max: 2000 })
  limit!: string;

  @Id({ description: 'The only casing string it holds for; any when null.', example: null, optional: true })
  forStringId!: string | null;

  @When({ description: 'When it ends.', example: '2026-06-01T00:00:00.000000Z' })
  validUntil!: string;
}

/** Where a coil stands. */
export class CoilStandingAnswer {
  @Choice({ description: 'By the last decision.', example: 'not-decided', of: COIL_STATES })
  state!: CoilState;

  @YesNo({ description: 'Pipe may be made of it: accepted, or permitted for some string.', example: false })
  isUsable!: boolean;

  @Whole({ description: 'Decisions made on it so far; the next one says so in `follows`.', example: 0, min: 0, max: 1_000_000, unit: '' })
  decisionCount!: number;

  @Id({ description: 'The decision that stands.', example: null, optional: true })
  decisionId!: string | null;

  @Text({ description: 'Who signed it.', example: null, max: 200, optional: true })
  signedBy!: string | null;

  @Text({ description: 'When.', example: null, max: 40, optional: true })
  signedAt!: string | null;

  @YesNo({ description: 'What is known now is not what was signed; null before the first decision, or beside a revision it was not made under.', example: false, optional: true })
  hasChangedSince!: boolean | null;

  @Parts({ description: 'Permits that hold now, each for its string.', of: () => ValidPermitAnswer, max: 100, example: [] })
  permits!: ValidPermitAnswer[];
}

/** What a signature would say. */
export class MeaningAnswer {
  @Choice({ description: 'The decision.', example: 'accept', of: DECISIONS })
  decision!: DecisionKind;

  @Text({ description: 'The sentence signed.', example: 'I have examined the evaluation of coil LM-01 against STS-12 revision 1 and accept the coil for use.', max: 1000 })
  statement!: string;

  @Text({ description: 'Why this decision is not open; null when it is.', example: null, max: 2000, optional: true })
  notOpenBecause!: string | null;
}

/** A coil against its specification. */
export class CoilEvaluationAnswer {
  @Part({ description: 'The coil.', of: () => RecordLink })
  coil!: RecordLink;

  @Text({ description: 'As known at this instant; null for now.', example: null, max: 40, optional: true })
  asKnownAt!: string | null;

  @Part({ description: 'Against the revision ordered to, or against the one asked about where there is no order.', of: () => EvaluationUnderAnswer })
  evaluation!: EvaluationUnderAnswer;

  @Part({ description: 'Against the revision asked about, beside the one ordered to. It decides nothing.', of: () => EvaluationUnderAnswer, optional: true })
  underOther!: EvaluationUnderAnswer | null;

  @Parts({ description: 'What does not fit together.', of: () => CrossCheckAnswer, max: 10_000 })
  crossChecks!: CrossCheckAnswer[];

  @Parts({ description: 'The length of its strip, by every way there is.', of: () => CoilLengthAnswer, max: 10 })
  lengths!: CoilLengthAnswer[];

  @Part({ description: 'Where the coil stands.', of: () => CoilStandingAnswer })
  standing!: CoilStandingAnswer;

  @Sha256({ description: 'Digest of the evaluation and its cross-checks: what a decision signs.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  sha256!: string;

  @Parts({ description: 'What can be decided, and what the signature would say.', of: () => MeaningAnswer, max: 5 })
  meanings!: MeaningAnswer[];

  @Texts({ description: 'How to read this.', example: ['The responsible engineer decides.'], max: 20, each: 500 })
  cautions!: string[];

  @Computed({ description: 'Values judged.', example: 14 })
  valueCount!: number;
}
