declare module 'linebreak' {
  interface Break {
    readonly position: number;
    readonly required: boolean;
  }
  /** Line-break opportunities of Unicode Standard Annex 14, one after another; null at the end. */
  export default class LineBreaker {
    constructor(text: string);
    nextBreak(): Break | null;
  }
}
