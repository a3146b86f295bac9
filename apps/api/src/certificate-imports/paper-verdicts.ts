import { LRUCache } from 'lru-cache';
import type { Verdict } from '#libs/conformity';
import { atLeast, evaluator, isInspectionDocumentType, type Evaluation, type OrderedSize, type Paper, type PaperLine, type SourcedValue } from '#libs/strip';
import { sameNumber } from '../evaluation/coil-values.js';
import { rulesOf } from '../specifications/strip-rules.js';
import type { StripSpecification } from '../specifications/strip-specification.entity.js';
import type { ReadLineVerdict, VerdictCounts } from './certificate-import.dto.js';
import type { ReadCertificate } from './certificate-csv.js';

const LISTED = 200;
/** Each remembers what it judged; a file may name thousands of ordered sizes. */
const EVALUATORS_KEPT = 50;

/** What the papers of an order are held against. */
export interface Basis {
  readonly specification: StripSpecification;
  readonly ordered: OrderedSize | null;
}

/** Lines of a file by verdict, and the values that do not plainly conform. */
export class PaperVerdicts {
  readonly counts: VerdictCounts = {
    conforms: 0, 'inside-guard-band': 0, 'not-comparable': 0, 'not-reported': 0, 'does-not-conform': 0, 'not-evaluated': 0,
  };
  readonly notConforming: ReadLineVerdict[] = [];
  notConformingCount = 0;
  /** By revision and ordered size: many orders share them, and with them what was judged before. */
  private readonly evaluators = new LRUCache<string, (values: readonly SourcedValue[]) => Evaluation>({ max: EVALUATORS_KEPT });

  /** Holds each line of a paper against `basis`; null where no specification follows from its order. */
  add({ paper, lineNumbers }: ReadCertificate, basis: Basis | null): void {
    if (basis === null) {
      this.counts['not-evaluated'] += paper.lines.length;
      return;
    }
    const evaluate = this.evaluatorOf(basis);
    const typeFalls = isInspectionDocumentType(paper.documentType) && !atLeast(paper.documentType, basis.specification.documentType);
    if (typeFalls) this.list(documentVerdict(paper, lineNumbers[0] ?? 1, basis.specification.documentType));
    const ofHeats = paper.lines.filter(({ coilNumber }) => coilNumber === null);
    for (const [index, line] of paper.lines.entries()) {
      const { coilNumber } = line;
      const { verdict, lines } = evaluate(valuesAbout(line, ofHeats));
      this.counts[typeFalls ? 'does-not-conform' : verdict] += 1;
      if (verdict === 'conforms') continue;
      for (const one of lines) {
        if (one.verdict === 'conforms') continue;
        const { name, limits, printed, verdict: said, reason } = one;
        this.list({ line: lineNumbers[index] ?? 0, certificate: paper.number, coil: coilNumber, name, limits, printed, verdict: said, reason });
      }
    }
  }

  private list(verdict: ReadLineVerdict): void {
    this.notConformingCount += 1;
    if (this.notConforming.length < LISTED) this.notConforming.push(verdict);
  }

  private evaluatorOf(basis: Basis): (values: readonly SourcedValue[]) => Evaluation {
    const { specification: { id, version }, ordered } = basis;
    const key = `${id} ${version} ${ordered?.thicknessMm ?? ''} ${ordered?.widthMm ?? ''}`;
    const known = this.evaluators.get(key);
    if (known !== undefined) return known;
    const made = evaluator(rulesOf(basis.specification), ordered);
    this.evaluators.set(key, made);
    return made;
  }
}

/** The values of a line; with those of its coil's heat, where the paper has a line about the heat as a whole. */
function valuesAbout({ coilNumber, heatNumber, values }: PaperLine<SourcedValue>, ofHeats: readonly PaperLine<SourcedValue>[]): readonly SourcedValue[] {
  if (coilNumber === null || ofHeats.length === 0) return values;
  return [...values, ...ofHeats.filter((line) => line.heatNumber !== null && heatNumber !== null && sameNumber(line.heatNumber, heatNumber)).flatMap((line) => line.values)];
}

function documentVerdict(paper: Paper, line: number, asked: string): ReadLineVerdict {
  return {
    line, certificate: paper.number, coil: null, name: 'inspection document', limits: `at least type ${asked} of EN 10204`,
    printed: `type ${paper.documentType}`, verdict: 'does-not-conform' satisfies Verdict, reason: `type ${asked} or better is asked for`,
  };
}
