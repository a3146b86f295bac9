/**
 * Carbon equivalents that are no plain sums, or belong to one code; mass fractions and results in %:
 *   CEN = C + A(C) · (Si/24 + Mn/6 + (Cu + Ni)/15 + (Cr + Mo + Nb + V)/5 + 5B), A(C) = 0.75 + 0.25 tanh(20 (C − 0.12))  (Yurioka)
 *   CSA = C + F · (Mn/6 + Si/24 + Cu/15 + Ni/20 + (Cr + Mo + V + Nb)/5 + 5B)  (CSA Z662, method sheet of April 1999)
 * Sources: formula sheets that agree; that method sheet. The CSA form is another quantity than CE(IIW): never held against
 * each other's limits.
 */

/** One group of elements in the sum, before the factor. */
export interface GroupTerm {
  readonly elements: readonly string[];
  readonly percent: number;
}

export interface EquivalentNumber {
  readonly percent: number;
  /** What the groups are multiplied by: A(C), or F. */
  readonly factor: number;
  readonly terms: readonly GroupTerm[];
}

type Groups = readonly (readonly [elements: readonly string[], multiplier: number])[];

const CEN_GROUPS: Groups = [
  [['Si'], 1 / 24], [['Mn'], 1 / 6], [['Cu', 'Ni'], 1 / 15], [['Cr', 'Mo', 'Nb', 'V'], 1 / 5], [['B'], 5],
];
const CSA_GROUPS: Groups = [
  [['Mn'], 1 / 6], [['Si'], 1 / 24], [['Cu'], 1 / 15], [['Ni'], 1 / 20], [['Cr', 'Mo', 'V', 'Nb'], 1 / 5], [['B'], 5],
];

/** CEN of a composition in % by symbol. Throws RangeError naming the elements that are missing, or not finite, or below 0. */
export function carbonEquivalentCen(composition: ReadonlyMap<string, number>): EquivalentNumber {
  return sumOf(composition, CEN_GROUPS, (carbon) => 0.75 + 0.25 * Math.tanh(20 * (carbon - 0.12)));
}

/**
 * The CSA Z662 form of a composition in % by symbol, with the factor F that the code gives for the carbon content.
 * Throws RangeError as `carbonEquivalentCen` does, and unless F is over 0.
 */
export function carbonEquivalentCsa(composition: ReadonlyMap<string, number>, factorF: number): EquivalentNumber {
  if (!(factorF > 0 && Number.isFinite(factorF))) throw new RangeError(`F must be over 0: ${factorF}`);
  return sumOf(composition, CSA_GROUPS, () => factorF);
}

function sumOf(composition: ReadonlyMap<string, number>, groups: Groups, factorAt: (carbonPercent: number) => number): EquivalentNumber {
  const percentOf = massFractions(composition, ['C', ...groups.flatMap(([elements]) => elements)]);
  const terms = groups.map(([elements, multiplier]) => {
    const sum = elements.reduce((total, element) => total + percentOf(element), 0);
    return { elements, percent: sum * multiplier };
  });
  const factor = factorAt(percentOf('C'));
  const percent = percentOf('C') + factor * terms.reduce((total, one) => total + one.percent, 0);
  return { percent, factor, terms };
}

/** The composition as a function of the symbol, once all that is asked of it is there. */
function massFractions(composition: ReadonlyMap<string, number>, elements: readonly string[]): (element: string) => number {
  const missing = elements.filter((element) => !composition.has(element));
  if (missing.length > 0) throw new RangeError(`not reported, which is not 0: ${missing.join(', ')}`);
  return (element) => {
    const percent = composition.get(element) ?? Number.NaN;
    if (!(percent >= 0 && Number.isFinite(percent))) throw new RangeError(`${element}: not a mass fraction in %: ${percent}`);
    return percent;
  };
}
