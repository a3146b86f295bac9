import { CertificateGatherer } from './certificate-gatherer.js';
import { parseHeader } from './certificate-template.js';
import { type CsvFault, type CsvLimits, fileFault, shownText } from './csv-fault.js';
import type { LineBlock } from './csv-lines.js';
import { LineReader } from './line-reader.js';
import { headerShapeFault, isBlank, lineShapeFault, type ShapeFault } from './line-shape.js';
import type { ReadCertificate } from './open-certificate.js';

/** How reading a file ended. */
export interface CsvEnd {
  /** Lines read, the header and blank lines included. */
  readonly lines: number;
  /** Certificates without fault. */
  readonly certificates: number;
  readonly faults: number;
  /** Why the rest of the file was not read; null when all of it was. */
  readonly stopped: string | null;
}

/** What reading a file brings, one after the other; the end comes last, and once. */
export type CsvReading =
  | { readonly kind: 'certificate'; readonly certificate: ReadCertificate }
  | { readonly kind: 'fault'; readonly fault: CsvFault }
  | { readonly kind: 'end'; readonly end: CsvEnd };

interface Table {
  readonly reader: LineReader;
  readonly gatherer: CertificateGatherer;
}

const LINE_FEED = 0x0a;

/** Reads the records of a file, its header first. */
export class FileReader {
  private table: Table | null = null;
  private lines = 0;
  private certificates = 0;
  private faults = 0;
  private stopped: string | null = null;
  /** Blank lines since the last that was not. At the end of the file they do not matter. */
  private blankLines = 0;
  private hasData = false;

  constructor(private readonly limits: CsvLimits) {}

  get hasStopped(): boolean {
    return this.stopped !== null;
  }

  /** Reads one record for each line of the block. */
  *read(block: LineBlock, records: readonly (readonly string[])[]): Generator<CsvReading> {
    for (const [index, cells] of records.entries()) {
      const line = block.firstLine + index;
      const broken = block.faults.get(line) ?? null;
      this.lines = line;
      if (this.table === null) yield* this.readHeader(cells, broken, records.length === 1 && !block.bytes.includes(LINE_FEED));
      else if (broken === null && isBlank(cells)) this.blankLines += 1;
      else yield* this.readLine(this.table, line, cells, broken);
      if (this.stopped !== null) return;
    }
  }

  /** Tells why nothing from here on can be read. */
  *refuseRest(fault: CsvFault): Generator<CsvReading> {
    this.lines = Math.max(this.lines, fault.line);
    yield* this.report([fault]);
    this.stopped ??= fault.line === 1 ? 'The file cannot be read.' : `From line ${fault.line} on the file cannot be read.`;
  }

  /** The last certificate and how reading ended. */
  *end(): Generator<CsvReading> {
    if (this.stopped === null && this.table !== null) {
      if (!this.hasData) yield* this.report([fileFault('The file has a header and no line below it. Each line below it speaks of a coil or a heat.')]);
      yield* this.give(this.table.gatherer.close());
    }
    const { lines, certificates, faults, stopped } = this;
    yield { kind: 'end', end: { lines, certificates, faults, stopped } };
  }

  private *readHeader(cells: readonly string[], broken: CsvFault | null, isWholeFile: boolean): Generator<CsvReading> {
    const shape = broken === null ? headerShapeFault(cells) : null;
    const header = parseHeader(cells, this.limits.columns);
    if (broken === null && shape === null && 'columns' in header) {
      const reader = new LineReader(header.columns);
      this.table = { reader, gatherer: new CertificateGatherer(reader, this.limits) };
      return;
    }
    if (isWholeFile) yield* this.report([fileFault('The file has no line end: a header and, below it, lines are taken.', cells.join(','))]);
    if (broken !== null) yield* this.report([broken]);
    else if (shape !== null) yield* this.report([placed(1, shape)]);
    else if ('faults' in header) yield* this.report(header.faults);
    this.stopped ??= 'The lines below the header were not read: without it nobody knows what their cells mean.';
  }

  private *readLine({ reader, gatherer }: Table, line: number, cells: readonly string[], broken: CsvFault | null): Generator<CsvReading> {
    this.hasData = true;
    if (this.blankLines > 0) {
      gatherer.skip();
      yield* this.report(blanksBefore(line, this.blankLines, this.limits.faults));
      this.blankLines = 0;
    }
    const shape = broken === null ? lineShapeFault(cells, reader.columns.length) : null;
    const fault = broken ?? (shape === null ? null : placed(line, shape));
    if (fault !== null) {
      gatherer.skip();
      yield* this.report([{ ...fault, header: reader.columns[(fault.column ?? 0) - 1]?.header ?? null }]);
      return;
    }
    const { finished, faults } = gatherer.take(reader.read(line, cells));
    yield* this.give(finished);
    yield* this.report(faults);
  }

  private *give(certificate: ReadCertificate | null): Generator<CsvReading> {
    if (certificate === null || this.stopped !== null) return;
    this.certificates += 1;
    yield { kind: 'certificate', certificate };
  }

  private *report(faults: readonly CsvFault[]): Generator<CsvReading> {
    for (const fault of faults) {
      if (this.stopped !== null) return;
      this.faults += 1;
      if (this.faults >= this.limits.faults) {
        this.stopped = `Reading stopped after ${this.faults} faults, on line ${fault.line}. What follows was not read.`;
      }
      yield { kind: 'fault', fault };
    }
  }
}

const placed = (line: number, { column, value, fault }: ShapeFault): CsvFault => ({ line, column, header: null, value: shownText(value), fault });

const blanksBefore = (line: number, count: number, most: number): CsvFault[] =>
  Array.from({ length: Math.min(count, most) }, (_, index) => ({
    line: line - count + index, column: null, header: null, value: null,
    fault: 'A blank line between others. Blank lines are taken at the end of the file only.',
  }));
