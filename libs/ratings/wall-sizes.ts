import type { ExplainedValue, ExplanationStep } from '#libs/explanation';
import { outerWallThicknessMm, type WallName } from '#libs/length';
import { notComputable, type NotComputable } from './computed.js';
import { INPUT_UNITS, INPUT_WORDS, inputsOf, numberOf, type GivenNumber, type InputName, type PipeInputs } from './pipe-inputs.js';
import { FOLD_GEOMETRY } from './sources.js';

/** A wall as the formulas take it, and how it follows from the pipe as it was made. */
export interface WallSizes {
  readonly outsideDiameterMm: number;
  readonly wallThicknessMm: number;
  readonly steps: readonly ExplanationStep[];
}

export type KnownInputs = { readonly [Name in 'outsideDiameterMm' | 'wallThicknessMm' | 'yieldMpa']: NonNullable<PipeInputs[Name]> } & Pick<PipeInputs, 'kappa' | 'lambda'>;

/** One input as a value of an explanation. */
export function explained(name: InputName, given: GivenNumber, what = INPUT_WORDS[name]): ExplainedValue {
  const unit = INPUT_UNITS[name];
  return { name: what, value: given.value, ...(unit === '' ? {} : { unit }), ...(given.record === null ? {} : { record: given.record }) };
}

/**
 * The sizes of a wall. The inner wall is the pipe as it was made. The outer wall is that pipe turned inside out: mean diameter
 * κ (D − t), wall t/(κ λ) by constant volume. Not computable where a number is not over 0 or a wall leaves no bore.
 * Throws SyntaxError unless the inputs are plain decimals.
 */
export function wallSizes(wall: WallName, inputs: KnownInputs): WallSizes | NotComputable {
  const faulty = inputsOf(wall).find((name) => !isOver0(name, inputs[name]));
  if (faulty !== undefined) return notComputable(wall, [faulty], `${INPUT_WORDS[faulty]} must be over 0: ${inputs[faulty]?.value ?? ''}`);
  const diameterMm = numberOf('outsideDiameterMm', inputs.outsideDiameterMm);
  const wallMm = numberOf('wallThicknessMm', inputs.wallThicknessMm);
  if (2 * wallMm >= diameterMm) return noBore(wall, inputs.wallThicknessMm.value, inputs.outsideDiameterMm.value);
  if (wall === 'inner' || inputs.kappa === null || inputs.lambda === null) return { outsideDiameterMm: diameterMm, wallThicknessMm: wallMm, steps: [] };
  const [kappa, lambda] = [numberOf('kappa', inputs.kappa), numberOf('lambda', inputs.lambda)];
  const outerMm = outerWallThicknessMm(wallMm, kappa, lambda);
  const meanMm = kappa * (diameterMm - wallMm);
  if (outerMm >= meanMm) return noBore(wall, String(outerMm), String(meanMm + outerMm));
  return { outsideDiameterMm: meanMm + outerMm, wallThicknessMm: outerMm, steps: foldSteps(inputs, meanMm, outerMm) };
}

function isOver0(name: InputName, given: GivenNumber | null): boolean {
  return given !== null && numberOf(name, given) > 0;
}

function noBore(wall: WallName, wallMm: string, diameterMm: string): NotComputable {
  return notComputable(wall, ['wallThicknessMm', 'outsideDiameterMm'], `a wall of ${wallMm} mm leaves no bore in an outside diameter of ${diameterMm} mm`);
}

function foldSteps(inputs: KnownInputs, meanMm: number, outerMm: number): ExplanationStep[] {
  const ratios = [inputs.kappa === null ? [] : [explained('kappa', inputs.kappa)], inputs.lambda === null ? [] : [explained('lambda', inputs.lambda)]];
  const before = explained('wallThicknessMm', inputs.wallThicknessMm, 'wall thickness before the fold');
  const diameter = explained('outsideDiameterMm', inputs.outsideDiameterMm, 'outside diameter before the fold');
  const thickness = { name: 'wall thickness of the outer wall', value: outerMm, unit: 'mm' };
  const mean = { name: 'mean diameter of the outer wall', value: meanMm, unit: 'mm' };
  return [
    { what: 'wall after the fold', formula: 't_outer = t_inner / (κ λ)', source: FOLD_GEOMETRY, inputs: [before, ...ratios.flat()], result: thickness },
    { what: 'mean diameter after the fold', formula: 'D_mean,outer = κ (D − t)', source: FOLD_GEOMETRY, inputs: [diameter, before, ...(ratios[0] ?? [])], result: mean },
    {
      what: 'outside diameter after the fold', formula: 'D_outer = D_mean,outer + t_outer', source: FOLD_GEOMETRY, inputs: [mean, thickness],
      result: { name: 'outside diameter of the outer wall', value: meanMm + outerMm, unit: 'mm' },
    },
  ];
}
