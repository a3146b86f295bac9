/** Puts texts along a line without letting two touch or one leave the line. */

export interface Label {
  readonly text: string;
  readonly centrePt: number;
  readonly widthPt: number;
}

export interface PlacedLabel {
  readonly text: string;
  readonly leftPt: number;
  readonly rowIndex: number;
}

const LABEL_GAP_PT = 6;

interface Span {
  readonly leftPt: number;
  readonly rightPt: number;
}

function spanWithin(label: Label, fromPt: number, toPt: number): Span {
  const leftPt = Math.max(fromPt, Math.min(label.centrePt - label.widthPt / 2, toPt - label.widthPt));
  return { leftPt, rightPt: leftPt + label.widthPt };
}

function isFree(span: Span, taken: readonly Span[]): boolean {
  return taken.every((other) => span.leftPt >= other.rightPt + LABEL_GAP_PT || span.rightPt + LABEL_GAP_PT <= other.leftPt);
}

/** One row of labels in order of importance; a label that would touch one before it is left out. */
export function placeImportantFirst(labels: readonly Label[], fromPt: number, toPt: number): PlacedLabel[] {
  const taken: Span[] = [];
  const placed: PlacedLabel[] = [];
  for (const label of labels) {
    const span = spanWithin(label, fromPt, toPt);
    if (!isFree(span, taken)) continue;
    taken.push(span);
    placed.push({ text: label.text, leftPt: span.leftPt, rowIndex: 0 });
  }
  return placed;
}

/** Every label, each in the first row where it touches no other. */
export function placeInRows(labels: readonly Label[], fromPt: number, toPt: number): PlacedLabel[] {
  const rows: Span[][] = [];
  return labels.map((label) => {
    const span = spanWithin(label, fromPt, toPt);
    const found = rows.findIndex((row) => isFree(span, row));
    const rowIndex = found === -1 ? rows.length : found;
    (rows[rowIndex] ??= []).push(span);
    return { text: label.text, leftPt: span.leftPt, rowIndex };
  });
}
