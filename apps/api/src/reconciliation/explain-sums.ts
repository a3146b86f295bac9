import type { ExplanationStep } from '#libs/explanation';
import { COVERAGE_FACTOR, explainWeldFootage, type LengthModel, type LengthSum, type SumName } from '#libs/length';

const SOURCE = 'length model of this program';

const FORMULA: Readonly<Record<SumName, string>> = {
  'strip consumed': 'e Σ (length − crops − rest − on other strings − not yet formed), e = Σ footage / Σ strip of the segments',
  'pipe made': 'greatest footage reached',
  'pipe in place': 'n_h + D/λ + D + x + cut-outs, D the depth of the shoe below the hang-off',
};

/** How each sum was found: the readings for the pipe made, then every part with its record, then the sum and its ±. */
export function explainSums(lengths: LengthModel, sums: readonly LengthSum[], atUs: number, elongation: number | null): ExplanationStep[] {
  return sums.flatMap((sum) => [
    ...(sum.name === 'pipe made' ? explainWeldFootage(lengths, atUs) : []),
    sumStep(sum, elongation),
    plusMinusStep(sum),
  ]);
}

function sumStep({ name, mm, parts }: LengthSum, elongation: number | null): ExplanationStep {
  const strip = name === 'strip consumed' && elongation !== null ? [{ name: 'e', value: elongation, unit: 'mm/mm' }] : [];
  return {
    what: `Sum: ${name}`,
    formula: FORMULA[name],
    source: SOURCE,
    inputs: [...parts.map((part) => ({ name: part.name, value: part.mm, unit: 'mm', ...(part.record && { record: part.record }) })), ...strip],
    result: { name, value: mm, unit: 'mm' },
  };
}

function plusMinusStep({ name, uMm }: LengthSum): ExplanationStep {
  return {
    what: `Expanded uncertainty (k = 2): ${name}`,
    formula: 'U = 2 u',
    source: 'JCGM 100:2008 (GUM), 5.1.2 and 6.2',
    inputs: [{ name: 'u', value: uMm, unit: 'mm' }],
    result: { name: 'U', value: COVERAGE_FACTOR * uMm, unit: 'mm' },
  };
}
