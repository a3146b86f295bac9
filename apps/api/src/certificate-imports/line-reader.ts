import type { SourcedValue } from '#libs/strip';
import type { CertificateColumn, FixedColumn, FixedName } from './certificate-template.js';
import { type CsvFault, shownText } from './csv-fault.js';
import { fixedCellFault } from './fixed-cell.js';
import { ValueReader } from './value-reader.js';

/** What one line says, by itself. */
export interface LineReading {
  readonly line: number;
  /** Text of each fixed column; empty where the file has no such column. */
  readonly fixed: Readonly<Record<FixedName, string>>;
  readonly values: readonly SourcedValue[];
  /** Index of the column of each value. */
  readonly columns: readonly number[];
  /** Questions by index of the column. */
  readonly questions: ReadonlyMap<number, CsvFault>;
  readonly faults: readonly CsvFault[];
}

interface FixedReader {
  readonly index: number;
  readonly column: FixedColumn;
  /** The last text that was found to be in order: most columns repeat it line after line. */
  lastGood: string;
}

const NO_QUESTIONS: ReadonlyMap<number, CsvFault> = new Map();

/** Reads lines cell by cell, each in full, by the columns of the header. */
export class LineReader {
  private readonly fixedReaders: FixedReader[];
  private readonly valueReaders: { readonly index: number; readonly reader: ValueReader }[];

  constructor(readonly columns: readonly CertificateColumn[]) {
    this.fixedReaders = columns.flatMap((column, index) => (column.kind === 'fixed' ? { index, column: column.fixed, lastGood: '' } : []));
    this.valueReaders = columns.flatMap((column, index) => (column.kind === 'value' ? { index, reader: new ValueReader(column.value) } : []));
  }

  /** The reading of a line with a cell for each column. */
  read(line: number, cells: readonly string[]): LineReading {
    const faults: CsvFault[] = [];
    const fixed: Record<FixedName, string> = { certificate: '', issuer: '', type: '', issued: '', order: '', specification: '', coil: '', heat: '' };
    for (const one of this.fixedReaders) {
      const text = cells[one.index] ?? '';
      fixed[one.column.name] = text;
      if (text !== '' && text === one.lastGood) continue;
      const fault = fixedCellFault(one.column, text);
      if (fault === null) one.lastGood = text;
      else faults.push(this.finding(line, one.index, text, fault));
    }
    const values: SourcedValue[] = [];
    const columns: number[] = [];
    let questions: Map<number, CsvFault> | null = null;
    for (const { index, reader } of this.valueReaders) {
      const text = cells[index] ?? '';
      if (text === '') continue;
      const { value, question, fault } = reader.read(text);
      if (fault !== null) faults.push(this.finding(line, index, text, fault));
      if (question !== null) (questions ??= new Map()).set(index, this.finding(line, index, text, question));
      if (value === null) continue;
      values.push(value);
      columns.push(index);
    }
    return { line, fixed, values, columns, questions: questions ?? NO_QUESTIONS, faults };
  }

  /** A finding about a cell. */
  finding(line: number, index: number, text: string, fault: string): CsvFault {
    return { line, column: index + 1, header: this.columns[index]?.header ?? null, value: shownText(text), fault };
  }

  /** A finding about the cell of a fixed column, or about the line where the file has no such column. */
  findingIn(name: FixedName, { line, fixed }: LineReading, fault: string): CsvFault {
    const found = this.fixedReaders.find(({ column }) => column.name === name);
    return found === undefined ? { line, column: null, header: name, value: null, fault } : this.finding(line, found.index, fixed[name], fault);
  }
}
