/** What a chart is made of, for any paper or screen: lengths in points from the top left corner, rightwards and downwards. */
import type { Box, Point } from '../canvas.js';

export type Ink = 'black' | 'dark' | 'grey' | 'pale' | 'faint' | 'white';

/** Shares of white, in steps that stay apart on a copy; but for faint, which nothing rests on. */
export const INK_COLOURS: Readonly<Record<Ink, string>> = { black: '#000000', dark: '#555555', grey: '#b4b4b4', pale: '#dedede', faint: '#efefef', white: '#ffffff' };

/** The type size that widths and dashes of pens are given for; they grow and shrink with it. */
export const PEN_EM_PT = 12;

export interface Pen {
  readonly ink: Ink;
  readonly widthPt: number;
  /** Length of a dash and of the gap after it; a full line when left out. */
  readonly dashPt?: number;
}

export type Segment = readonly [fromX: number, fromY: number, toX: number, toY: number];

export interface StrokesShape {
  readonly kind: 'strokes';
  readonly segments: readonly Segment[];
  readonly pen: Pen;
}

export interface LineShape {
  readonly kind: 'line';
  readonly points: readonly Point[];
  readonly pen: Pen;
}

export interface AreaShape {
  readonly kind: 'area';
  readonly points: readonly Point[];
  readonly fill: Ink | null;
  readonly pen: Pen | null;
}

export interface TextShape {
  readonly kind: 'text';
  readonly text: string;
  /** Left end of the text as the ruler measures it. */
  readonly xPt: number;
  readonly baselinePt: number;
  readonly widthPt: number;
  readonly sizePt: number;
  readonly isBold: boolean;
  /** Which point stays where it is when the font turns out narrower than the ruler. */
  readonly hold: 'start' | 'middle' | 'end';
  /** Black when left out. */
  readonly ink?: 'black' | 'white';
}

export type Shape = StrokesShape | LineShape | AreaShape | TextShape;

/** Shapes that belong together, from 0 down to their height. */
export interface Block {
  readonly heightPt: number;
  readonly shapes: readonly Shape[];
}

export const stroke = (fromX: number, fromY: number, toX: number, toY: number, pen: Pen): StrokesShape =>
  ({ kind: 'strokes', segments: [[fromX, fromY, toX, toY]], pen });

export const box = ({ xPt, yPt, widthPt, heightPt }: Box, fill: Ink | null, pen: Pen | null = null): AreaShape => ({
  kind: 'area', fill, pen, points: [[xPt, yPt], [xPt + widthPt, yPt], [xPt + widthPt, yPt + heightPt], [xPt, yPt + heightPt]],
});

/** The same shapes further down. */
export const shifted = (shapes: readonly Shape[], downPt: number): Shape[] => shapes.map((shape) => moved(shape, downPt));

function moved(shape: Shape, downPt: number): Shape {
  switch (shape.kind) {
    case 'strokes':
      return { ...shape, segments: shape.segments.map(([fromX, fromY, toX, toY]) => [fromX, fromY + downPt, toX, toY + downPt] as const) };
    case 'text':
      return { ...shape, baselinePt: shape.baselinePt + downPt };
    case 'line':
    case 'area':
      return { ...shape, points: shape.points.map(([xPt, yPt]) => [xPt, yPt + downPt] as const) };
  }
}

/** Blocks one under the other. */
export function stacked(blocks: readonly Block[]): Block {
  let heightPt = 0;
  const shapes: Shape[] = [];
  for (const block of blocks) {
    shapes.push(...shifted(block.shapes, heightPt));
    heightPt += block.heightPt;
  }
  return { heightPt, shapes };
}
