import { Canvas, type CanvasOptions, type Paper, type Sheet } from './canvas.js';
import { codeOf } from './visible-text.js';

export interface TagOptions {
  /** BCP 47 tag of the main language; English when left out. */
  readonly language?: string;
  readonly isCompressed?: boolean;
  readonly record?: CanvasOptions['record'];
}

export interface ReportOptions extends TagOptions {
  readonly paper: Paper;
}

/** A document title has one line and no characters that steer a reader's screen. */
function documentTitle(title: string): string {
  return title.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, codeOf);
}

/** A canvas whose document carries a title and the instant at which its data were put together, not that of drawing. */
export function reportCanvas(sheet: Sheet, title: string, generatedAt: string, options: TagOptions): Canvas {
  return new Canvas({
    sheet,
    title: documentTitle(title),
    language: options.language ?? 'en',
    createdAt: new Date(generatedAt),
    isCompressed: options.isCompressed,
    record: options.record,
  });
}
