import type { PrintedValue } from '#libs/strip';
import { type CsvFault, type CsvLimits, shownText } from './csv-fault.js';
import type { Said } from './heat-analysis.js';
import type { LineReader, LineReading } from './line-reader.js';
import { HEADER_NAMES, OpenCertificate, type ReadCertificate } from './open-certificate.js';

/** What one more line brought to light. */
export interface Gathered {
  /** The certificate before, whole now that another has begun. */
  readonly finished: ReadCertificate | null;
  readonly faults: readonly CsvFault[];
}

/**
 * Puts lines together to certificates, one at a time, and finds what is wrong between lines. A certificate with a fault, or
 * next to a line that could not be read and may be its own, is not given out.
 */
export class CertificateGatherer {
  private open: OpenCertificate | null = null;
  /** Last line of each certificate gone by, by number and issuer. */
  private readonly ended = new Map<string, number>();
  private besideUnreadable = false;

  constructor(private readonly reader: LineReader, private readonly limits: CsvLimits) {}

  take(reading: LineReading): Gathered {
    if (isFaulty('certificate', reading)) {
      this.skip();
      return { finished: null, faults: reading.faults };
    }
    const faults = [...reading.faults];
    const continues = this.open?.number === reading.fixed.certificate;
    const finished = continues ? null : this.close();
    const open = continues && this.open !== null ? this.open : this.begin(reading, faults);
    if (continues) this.checkHeader(open, reading, faults);
    open.lastLine = reading.line;
    open.lineCount += 1;
    if (this.besideUnreadable) open.spoilt = true;
    this.besideUnreadable = false;
    if (open.lineCount === this.limits.linesOfCertificate + 1) {
      faults.push(this.reader.findingIn('certificate', reading, `More than ${this.limits.linesOfCertificate} lines in one certificate, which is the most that is taken.`));
    }
    const { valuesOfCertificate } = this.limits;
    const isPast = open.valueCount > valuesOfCertificate;
    open.valueCount += reading.values.length;
    if (!isPast && open.valueCount > valuesOfCertificate) {
      faults.push(this.reader.findingIn('certificate', reading, `More than ${valuesOfCertificate.toLocaleString('en')} values in one certificate, which is the most that is taken.`));
    }
    if (open.lineCount <= this.limits.linesOfCertificate && open.valueCount <= valuesOfCertificate) this.gather(open, reading, faults);
    if (faults.length > 0) open.spoilt = true;
    return { finished, faults };
  }

  /** A line that cannot be read may belong to the certificate before it or to the one after. */
  skip(): void {
    this.besideUnreadable = true;
    if (this.open !== null) this.open.spoilt = true;
  }

  /** The certificate that is open, if any and without fault; nothing more comes of it. */
  close(): ReadCertificate | null {
    const { open } = this;
    if (open === null) return null;
    this.open = null;
    if (this.ended.size < this.limits.certificates) this.ended.set(keyOf(open.number, open.header.issuer), open.lastLine);
    return open.close();
  }

  private begin(reading: LineReading, faults: CsvFault[]): OpenCertificate {
    const { line, fixed: { certificate, issuer, type, issued, order, specification } } = reading;
    const open = new OpenCertificate(certificate, { issuer, type, issued, order, specification }, line, this.limits.questions);
    const endedAt = this.ended.get(keyOf(certificate, issuer));
    if (endedAt !== undefined) {
      faults.push(this.reader.findingIn('certificate', reading, `Certificate ${shownText(certificate)} of ${shownText(issuer)} goes on here, after others; it ended on line ${endedAt}. The lines of one certificate stand together.`));
    }
    if (this.ended.size >= this.limits.certificates) {
      faults.push(this.reader.findingIn('certificate', reading, `More than ${this.limits.certificates.toLocaleString('en')} certificates in one file, which is the most that is taken.`));
    }
    this.open = open;
    return open;
  }

  private checkHeader(open: OpenCertificate, reading: LineReading, faults: CsvFault[]): void {
    for (const name of HEADER_NAMES) {
      const [before, here] = [open.header[name], reading.fixed[name]];
      if (before === here || isFaulty(name, reading)) continue;
      const was = before === '' ? 'empty' : `“${shownText(before)}”`;
      faults.push(this.reader.findingIn(name, reading, `Differs within certificate ${open.number}: ${was} on line ${open.firstLine}. It is the same on each of its lines.`));
    }
  }

  private gather(open: OpenCertificate, reading: LineReading, faults: CsvFault[]): void {
    const { line, fixed: { coil, heat }, values, columns } = reading;
    const earlier = heat === '' ? null : open.earlierLineOf(coil, heat, line);
    if (earlier !== null) {
      const what = coil === '' ? `Heat ${shownText(heat)}, without a coil,` : `Coil ${shownText(coil)}`;
      faults.push(this.reader.findingIn(coil === '' ? 'heat' : 'coil', reading, `${what} stands on line ${earlier} of this certificate already. It comes once.`));
    }
    const analysis = open.heat(heat);
    const hasQuestions = reading.questions.size > 0;
    for (const [at, value] of values.entries()) {
      const index = columns[at] ?? 0;
      const noted = value.analysis === 'heat' && heat !== '' ? analysis.note(index, value, line) : 'first';
      if (typeof noted === 'object') faults.push(this.reader.finding(line, index, value.printed, otherAnalysis(heat, value, noted)));
      const question = hasQuestions && noted === 'first' ? reading.questions.get(index) : undefined;
      if (question !== undefined) open.ask({ ...question, tier: 'implausible' });
    }
    open.add({ coilNumber: coil === '' ? null : coil, heatNumber: heat, values }, line);
  }
}

/** As certificates are told apart on record: capitals make no difference. */
const keyOf = (number: string, issuer: string): string => `${number.toUpperCase()}\n${issuer.toUpperCase()}`;

const isFaulty = (header: string, { faults }: LineReading): boolean => faults.some((fault) => fault.header === header);

const otherAnalysis = (heat: string, { characteristic, printed }: PrintedValue, before: Said): string =>
  `Heat ${shownText(heat)} has another heat analysis on line ${before.line}: ${characteristic} is ${before.printed} there and ${printed} here. One heat has one heat analysis; a product analysis has columns of its own.`;
