/** Which places of the rows of flags are taken, found by halving: a channel may have thousands of indications. */

export interface FlagPlace {
  readonly row: number;
  readonly leftPt: number;
  readonly widthPt: number;
  /** The pole, from the foot of all rows up to its own. */
  readonly atPt: number;
}

/** In rising order, apart from each other. */
interface Row {
  /** Texts with their poles. */
  readonly spans: (readonly [leftPt: number, rightPt: number])[];
  readonly texts: (readonly [leftPt: number, rightPt: number])[];
  readonly poles: number[];
}

/** Texts of one row keep `textGapPt` between them, a text and the pole of a higher row `poleGapPt`. */
export class FlagRows {
  private readonly rows: readonly Row[];

  constructor(count: number, private readonly textGapPt: number, private readonly poleGapPt: number) {
    this.rows = Array.from({ length: count }, () => ({ spans: [], texts: [], poles: [] }));
  }

  isFree({ row, leftPt, widthPt, atPt }: FlagPlace): boolean {
    const rightPt = leftPt + widthPt;
    return this.rows.every(({ spans, texts, poles }, other) => {
      if (other === row) return isClear(spans, Math.min(leftPt, atPt) - this.textGapPt, Math.max(rightPt, atPt) + this.textGapPt);
      if (other < row) return isClear(texts, atPt - this.poleGapPt, atPt + this.poleGapPt);
      const first = countBelow(poles.length, (index) => (poles[index] ?? 0) <= leftPt - this.poleGapPt);
      return (poles[first] ?? Infinity) >= rightPt + this.poleGapPt;
    });
  }

  take({ row, leftPt, widthPt, atPt }: FlagPlace): void {
    const taken = this.rows[row];
    if (taken === undefined) throw new RangeError(`there is no row ${row}`);
    const rightPt = leftPt + widthPt;
    insert(taken.spans, [Math.min(leftPt, atPt), Math.max(rightPt, atPt)] as const, ([left]) => left < leftPt);
    insert(taken.texts, [leftPt, rightPt] as const, ([left]) => left < leftPt);
    insert(taken.poles, atPt, (pole) => pole < atPt);
  }
}

/** How many of the first elements, which come before all others, are below. */
function countBelow(length: number, isBelow: (index: number) => boolean): number {
  let [low, high] = [0, length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (isBelow(middle)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Whether no span reaches between the two; one that only touches does not. */
function isClear(spans: readonly (readonly [number, number])[], fromPt: number, toPt: number): boolean {
  const first = countBelow(spans.length, (index) => (spans[index]?.[1] ?? 0) <= fromPt);
  return (spans[first]?.[0] ?? Infinity) >= toPt;
}

function insert<Element>(elements: Element[], element: Element, isBefore: (other: Element) => boolean): void {
  elements.splice(countBelow(elements.length, (index) => isBefore(elements[index] as Element)), 0, element);
}
