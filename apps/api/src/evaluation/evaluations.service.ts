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
import { snapshotOf, type EvaluationSnapshot } from './evaluation-snapshot.js';

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
   * A coil against the revision it was ordered to and, when another one is named, against that one beside it. Refuses with
   * 404 when there was no such coil then, with 422 when it has no order and no revision is named.
   */
  async ofCoil(coilId: string, specificationId: string | null, asKnownAt: string | null): Promise<CoilEvaluation> {
    const knowledge = await this.knowledges.of(coilId, asKnownAt);
    const named = specificationId === null ? null : await this.specifications.row(specificationId, asKnownAt);
    const main = knowledge.ordered ?? named;
    if (main === null) {
      throw new Refused(422, 'no-specification', 'This coil has no order: name the revision to hold it against.', [
        { field: 'specificationId', value: null, limit: 'the id of a strip specification, or an order on the coil' },
      ]);
    }
    const values = coilValues(knowledge);
    const evaluation = evaluateUnder(main, knowledge, values);
    const checks = crossChecks(knowledge, values, evaluation.lines);
    const standing = (await this.standings.of([coilId], asKnownAt)).get(coilId);
    if (standing === undefined) throw new Error(`coil ${coilId} has no standing`);
    const meanings = decisionMeanings({
      coilNumber: knowledge.coil.number, specification: specificationText(main), verdict: evaluation.verdict, papers: knowledge.papers,
    });
    return {
      knowledge, values, evaluation, checks, standing, meanings, lengths: coilLengths(knowledge),
      underOther: named === null || named.id === main.id ? null : evaluateUnder(named, knowledge, values),
      snapshot: snapshotOf(knowledge, main, evaluation, checks),
    };
  }
}

/** `STS-12 revision 1`. */
export const specificationText = ({ number, revision }: StripSpecification): string => `${number} revision ${revision}`;

function evaluateUnder(specification: StripSpecification, knowledge: CoilKnowledge, values: readonly SourcedValue[]): EvaluationUnder {
  const { order, papers } = knowledge;
  const size: OrderedSize | null = order === null ? null : { thicknessMm: order.thicknessMm, widthMm: order.widthMm };
  const { lines: ofValues } = evaluator(rulesOf(specification), size)(values);
  const lines = [documentLine(specification, papers), ...ofValues];
  return { specification, lines, verdict: worst(lines.map(({ verdict }) => verdict)) };
}
