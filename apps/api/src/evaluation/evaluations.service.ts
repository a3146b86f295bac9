import { Injectable } from '@nestjs/common';
import { evaluator, type Evaluation, type OrderedSize, type SourcedValue } from '#libs/strip';
import { worst } from '#libs/conformity';
import { Refused } from '../http/problem.js';
import { rulesOf } from '../specifications/strip-rules.js';
import type { StripSpecification } from '../specifications/strip-specification.entity.js';
import { StripSpecificationsService } from '../specifications/strip-specifications.service.js';
import type { CoilStanding } from '../standing/coil-standing.js';
import { CoilStandings } from '../standing/coil-standings.service.js';
import { coilLengths, type KnownLength } from './coil-lengths.js';
import type { CoilKnowledge } from './coil-knowledge.js';
import { CoilKnowledges } from './coil-knowledge.service.js';
import { coilValues } from './coil-values.js';
import type { CrossCheck } from './cross-check.js';
import { crossChecks } from './cross-checks.js';
import { decisionMeanings, type DecisionMeaning } from './decision-meaning.js';
import { documentLine } from './document-line.js';
import { saysOtherwise, snapshotOf, type EvaluationSnapshot } from './evaluation-snapshot.js';

/** An evaluation under one revision. */
export interface EvaluationUnder extends Evaluation {
  readonly specification: StripSpecification;
}

/** Everything said of a coil when it is evaluated. */
export interface CoilEvaluation {
  readonly knowledge: CoilKnowledge;
  readonly values: readonly SourcedValue[];
  /** Under the revision ordered to; or the one asked about, where there is no order. */
  readonly evaluation: EvaluationUnder;
  readonly underOther: EvaluationUnder | null;
  readonly checks: readonly CrossCheck[];
  readonly lengths: readonly KnownLength[];
  readonly standing: CoilStanding;
  readonly snapshot: EvaluationSnapshot;
  readonly meanings: readonly DecisionMeaning[];
  /** Whether what is said now is not what was signed last; null before the first decision, or beside a revision it was not made under. */
  readonly hasChangedSince: boolean | null;
}

/** Holds coils against specifications. */
@Injectable()
export class Evaluations {
  constructor(
    private readonly knowledges: CoilKnowledges,
    private readonly specifications: StripSpecificationsService,
    private readonly standings: CoilStandings,
  ) {}

  /**
   * A coil against the revision it was ordered to and, when another one is named, against that one beside it. Without an
   * order it is held against the one named, or else the one it was decided under. Refuses with 404 when there was no such
   * coil then, with 422 when there is no revision to hold it against.
   */
  async ofCoil(coilId: string, specificationId: string | null, asKnownAt: string | null): Promise<CoilEvaluation> {
    const [knowledge, standing] = await Promise.all([this.knowledges.of(coilId, asKnownAt), this.standings.ofCoil(coilId, asKnownAt)]);
    const named = specificationId === null ? null : await this.specifications.row(specificationId, asKnownAt);
    const { decision } = standing;
    const main = knowledge.ordered ?? named ?? (decision === null ? null : await this.specifications.row(decision.specificationId, asKnownAt));
    if (main === null) {
      throw new Refused(422, 'no-specification', 'This coil has no order: name the revision to hold it against.', [
        { field: 'specificationId', value: null, limit: 'the id of a strip specification, or an order on the coil' },
      ]);
    }
    const values = coilValues(knowledge);
    const evaluation = evaluateUnder(main, knowledge, values);
    const checks = crossChecks(knowledge, values, evaluation.lines);
    const meanings = decisionMeanings({
      coilNumber: knowledge.coil.number, specification: specificationText(main), verdict: evaluation.verdict, papers: knowledge.papers, checks,
    });
    const snapshot = snapshotOf(knowledge, main, evaluation, checks);
    const isComparable = decision !== null && (knowledge.order !== null || decision.specificationId === main.id);
    return {
      knowledge, values, evaluation, checks, standing, meanings, snapshot, lengths: coilLengths(knowledge),
      underOther: named === null || named.id === main.id ? null : evaluateUnder(named, knowledge, values),
      hasChangedSince: isComparable ? saysOtherwise(decision.evaluation, snapshot.text) : null,
    };
  }
}

/** `STS-12 revision 1`. */
export const specificationText = ({ number, revision }: StripSpecification): string => `${number} revision ${revision}`;

function evaluateUnder(specification: StripSpecification, knowledge: CoilKnowledge, values: readonly SourcedValue[]): EvaluationUnder {
  const { order, papers, heat } = knowledge;
  const size: OrderedSize | null = order === null ? null : { thicknessMm: order.thicknessMm, widthMm: order.widthMm };
  const { lines: ofValues } = evaluator(rulesOf(specification), size)(values);
  const lines = [documentLine(specification, papers, heat.number), ...ofValues];
  return { specification, lines, verdict: worst(lines.map(({ verdict }) => verdict)) };
}
