import { decimal, toNumber } from '#libs/exact';
import type { RecordRef } from '#libs/explanation';
import type { DepthBasis, WallName } from '#libs/length';

/** A number that a rating rests on: plain decimal text over 0, and the record it was taken from (null: not of a record). */
export interface GivenNumber {
  readonly value: string;
  readonly record: RecordRef | null;
}

/**
 * What is known of a stretch of pipe as it was made, before the fold; null where it is not known. Lengths in mm, yield strength
 * in MPa. κ and λ count for the outer wall alone.
 */
export interface PipeInputs {
  readonly outsideDiameterMm: GivenNumber | null;
  /** A nominal wall has an undertolerance, a measured minimum has none. */
  readonly wallThicknessMm: (GivenNumber & { readonly basis: 'nominal' | 'measured minimum' }) | null;
  readonly yieldMpa: (GivenNumber & { readonly basis: 'certified' | 'tested' }) | null;
  /** κ, mean diameter of the outer wall / of the inner wall. */
  readonly kappa: GivenNumber | null;
  /** λ, metres of outer wall from one metre of inner pipe, and what it rests on. */
  readonly lambda: (GivenNumber & { readonly basis: DepthBasis | 'assumed' }) | null;
}

export type InputName = keyof PipeInputs;

/** Why inputs are not known, each as the rest of a sentence after "because"; where nothing is said, that they are not known. */
export type WhyNotKnown = Readonly<Partial<Record<InputName, string>>>;

/** The inputs by the names that a reader knows, in the order in which they are told. */
export const INPUT_WORDS: Readonly<Record<InputName, string>> = {
  outsideDiameterMm: 'outside diameter', wallThicknessMm: 'wall thickness', yieldMpa: 'yield strength', kappa: 'κ (diameter ratio)', lambda: 'λ (length ratio)',
};
export const INPUT_UNITS: Readonly<Record<InputName, string>> = { outsideDiameterMm: 'mm', wallThicknessMm: 'mm', yieldMpa: 'MPa', kappa: '', lambda: '' };

/** What a wall's ratings need. */
export function inputsOf(wall: WallName): readonly InputName[] {
  const ofPipe: readonly InputName[] = ['outsideDiameterMm', 'wallThicknessMm', 'yieldMpa'];
  return wall === 'inner' ? ofPipe : [...ofPipe, 'kappa', 'lambda'];
}

/** Throws SyntaxError that names the input unless its text is a plain decimal. */
export function numberOf(name: InputName, { value }: GivenNumber): number {
  try {
    return toNumber(decimal(value));
  } catch (error) {
    if (error instanceof SyntaxError) throw new SyntaxError(`${INPUT_WORDS[name]}: ${error.message}`, { cause: error });
    throw error;
  }
}
