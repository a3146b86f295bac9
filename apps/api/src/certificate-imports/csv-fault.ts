/** Something wrong with a CSV file: where it stands, what stands there, and what would be taken instead. */
export interface CsvFault {
  /** Counted from 1; the header is line 1. A fault of the file as a whole is told of line 1. */
  readonly line: number;
  /** Counted from 1; null where the fault is of the line or of the file as a whole. */
  readonly column: number | null;
  /** Name of the column, once the header is read; null for a fault of a line or the file. */
  readonly header: string | null;
  /** What stands there, cut to 100 characters, with marks that cannot be shown replaced; null where nothing stands. */
  readonly value: string | null;
  /** A sentence with the limit. */
  readonly fault: string;
}

/** A value that is possible but unlikely: taken once somebody says that it is what the paper prints. */
export interface CsvQuestion extends CsvFault {
  readonly tier: 'implausible';
}

export interface CsvLimits {
  /** Bytes of a line, without its line end. */
  readonly lineBytes: number;
  readonly columns: number;
  /** Reading stops after so many faults. */
  readonly faults: number;
  readonly linesOfCertificate: number;
  /** A certificate is one record, read and answered whole. */
  readonly valuesOfCertificate: number;
  /** Certificates of one file: the names of those gone by are held, to notice one that comes again. */
  readonly certificates: number;
  /** Questions listed for one certificate; those beyond are counted. */
  readonly questions: number;
}

export const CSV_LIMITS: CsvLimits = {
  lineBytes: 64 * 1024,
  columns: 200,
  faults: 100,
  linesOfCertificate: 1000,
  valuesOfCertificate: 20_000,
  certificates: 100_000,
  questions: 1000,
};

const LONGEST_SHOWN = 100;
const UNSHOWABLE = /[\p{Cc}\p{Bidi_Control}\u2028\u2029\uFEFF]/gu;

/** `text` fit for a report of faults: at most 100 characters, nothing in it that hides or turns what stands around it. */
export function shownText(text: string): string {
  return text.slice(0, LONGEST_SHOWN).toWellFormed().replace(UNSHOWABLE, '\uFFFD');
}

/** A fault of the file as a whole. */
export const fileFault = (fault: string, value: string | null = null): CsvFault => ({
  line: 1, column: null, header: null, value: value === null ? null : shownText(value), fault,
});
