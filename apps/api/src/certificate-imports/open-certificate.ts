import type { Paper, PaperLine, SourcedValue } from '#libs/strip';
import type { FixedName } from './certificate-template.js';
import type { CsvQuestion } from './csv-fault.js';
import { HeatAnalysis } from './heat-analysis.js';

/** A certificate read from a file. */
export interface ReadCertificate {
  readonly paper: Paper<SourcedValue>;
  readonly firstLine: number;
  readonly lastLine: number;
  /** Line of the file for each line of the paper. */
  readonly lineNumbers: readonly number[];
  /** Values outside what is usual, the heat analysis of a heat asked about once. */
  readonly questions: readonly CsvQuestion[];
  /** Questions beyond those listed. */
  readonly questionsLeftOut: number;
}

/** What is the same on each line of a certificate. */
export const HEADER_NAMES = ['issuer', 'type', 'issued', 'order', 'specification'] as const satisfies readonly FixedName[];
export type HeaderName = (typeof HEADER_NAMES)[number];

/** The certificate whose lines are being read. */
export class OpenCertificate {
  /** Set once anything of it, or that may be of it, is at fault: it is then not given out. */
  spoilt = false;
  lastLine: number;
  lineCount = 0;
  valueCount = 0;
  private readonly lines: PaperLine<SourcedValue>[] = [];
  private readonly lineNumbers: number[] = [];
  private readonly questions: CsvQuestion[] = [];
  private questionsLeftOut = 0;
  private readonly lineOfCoil = new Map<string, number>();
  private readonly lineOfHeatAlone = new Map<string, number>();
  private readonly heats = new Map<string, HeatAnalysis>();

  constructor(
    readonly number: string,
    readonly header: Readonly<Record<HeaderName, string>>,
    readonly firstLine: number,
    private readonly mostQuestions: number,
  ) {
    this.lastLine = firstLine;
  }

  /** The line on which this coil, or this heat without a coil, came before; null when it is new, and is then known. */
  earlierLineOf(coil: string, heat: string, line: number): number | null {
    const known = coil === '' ? this.lineOfHeatAlone : this.lineOfCoil;
    const key = coil === '' ? heat : coil;
    const earlier = known.get(key);
    if (earlier !== undefined) return earlier;
    known.set(key, line);
    return null;
  }

  /** What was said so far of the melt of a heat. */
  heat(number: string): HeatAnalysis {
    const known = this.heats.get(number) ?? new HeatAnalysis();
    this.heats.set(number, known);
    return known;
  }

  ask(question: CsvQuestion): void {
    if (this.questions.length < this.mostQuestions) this.questions.push(question);
    else this.questionsLeftOut += 1;
  }

  add(line: PaperLine<SourcedValue>, lineNumber: number): void {
    this.lines.push(line);
    this.lineNumbers.push(lineNumber);
  }

  /** What was read; null when something of it was at fault. */
  close(): ReadCertificate | null {
    if (this.spoilt) return null;
    const { issuer, type, issued, order, specification } = this.header;
    const paper: Paper<SourcedValue> = {
      number: this.number, issuer, documentType: type, issuedOn: issued,
      orderNumber: order === '' ? null : order,
      specification: specification === '' ? null : specification,
      lines: this.lines,
    };
    const { firstLine, lastLine, lineNumbers, questions, questionsLeftOut } = this;
    return { paper, firstLine, lastLine, lineNumbers, questions, questionsLeftOut };
  }
}
