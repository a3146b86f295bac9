import { VERDICTS, type Verdict } from '#libs/conformity';
import { Choice, Computed, Id, Part, Parts, Sha256, Text, Whole } from '../http/fields.js';

const MOST = Number.MAX_SAFE_INTEGER;

/** Something wrong in the file: where, what stands there, what would be taken. */
export class CsvFaultPart {
  @Whole({ description: 'The line, from 1; the header is line 1.', example: 12, min: 1, max: MOST, unit: '' })
  line!: number;

  @Whole({ description: 'The column, from 1; null for the line or file as a whole.', example: 15, min: 1, max: 1000, unit: '', optional: true })
  column!: number | null;

  @Text({ description: 'The name of the column.', example: 'C [%]', max: 200, optional: true })
  header!: string | null;

  @Text({ description: 'What stands there.', example: '0,085', max: 200, optional: true })
  value!: string | null;

  @Text({ description: 'What is wrong, and what would be taken.', example: 'decimal comma: write 0.085', max: 1000 })
  fault!: string;
}

/** A coil of the file that does not plainly conform. */
export class ReadLineVerdict {
  @Whole({ description: 'The line of the file.', example: 12, min: 1, max: MOST, unit: '' })
  line!: number;

  @Text({ description: 'The certificate.', example: 'TS-2026-00417', max: 60 })
  certificate!: string;

  @Text({ description: 'The coil; null on a line about a heat.', example: 'LM-02', max: 60, optional: true })
  coil!: string | null;

  @Text({ description: 'What is limited.', example: 'C, heat analysis', max: 200 })
  name!: string;

  @Text({ description: 'The limits.', example: 'at most 0.12 %', max: 300 })
  limits!: string;

  @Text({ description: 'The value as printed.', example: '0.13 %', max: 200, optional: true })
  printed!: string | null;

  @Choice({ description: 'The verdict.', example: 'does-not-conform', of: VERDICTS })
  verdict!: Verdict;

  @Text({ description: 'Why.', example: null, max: 1000, optional: true })
  reason!: string | null;
}

/** How many lines of the file have each verdict; the verdict of a line is that of its worst value. */
export class VerdictCounts {
  @Computed({ description: 'Lines that conform.', example: 12 })
  conforms!: number;

  @Computed({ description: 'Lines inside the guard band.', example: 0 })
  'inside-guard-band'!: number;

  @Computed({ description: 'Lines that cannot be compared.', example: 0 })
  'not-comparable'!: number;

  @Computed({ description: 'Lines on which something asked for is not reported.', example: 0 })
  'not-reported'!: number;

  @Computed({ description: 'Lines that do not conform.', example: 1 })
  'does-not-conform'!: number;

  @Computed({ description: 'Lines for which no specification follows from the order printed.', example: 0 })
  'not-evaluated'!: number;
}

/** What a file says, and what would come of it. */
export class CertificateFileAnswer {
  @Sha256({ description: 'SHA-256 of the file.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  fileSha256!: string;

  @Whole({ description: 'Its size.', example: 4096, min: 0, max: MOST, unit: 'bytes' })
  sizeBytes!: number;

  @Whole({ description: 'Lines read, the header among them.', example: 13, min: 0, max: MOST, unit: '' })
  lines!: number;

  @Whole({ description: 'Certificates without fault.', example: 3, min: 0, max: MOST, unit: '' })
  certificates!: number;

  @Whole({ description: 'Values on them.', example: 168, min: 0, max: MOST, unit: '' })
  values!: number;

  @Parts({ description: 'What is wrong, in the order of the lines, at most 100. With any of it nothing is imported.', of: () => CsvFaultPart, max: 100, example: [] })
  faults!: CsvFaultPart[];

  @Text({ description: 'Why the rest of the file was not read; null when all of it was.', example: null, max: 500, optional: true })
  stopped!: string | null;

  @Parts({ description: 'Values that are possible but unlikely, at most 100.', of: () => CsvFaultPart, max: 100, example: [] })
  questions!: CsvFaultPart[];

  @Whole({ description: 'Unlikely values in all.', example: 0, min: 0, max: MOST, unit: '' })
  questionCount!: number;

  @Text({ description: 'To import a file with unlikely values, send this code in `confirm`: it says that they are what the papers print.', example: null, max: 64, optional: true })
  confirm!: string | null;

  @Part({ description: 'The lines by verdict.', of: () => VerdictCounts })
  verdicts!: VerdictCounts;

  @Parts({ description: 'Values that do not plainly conform, in the order of the lines, at most 200.', of: () => ReadLineVerdict, max: 200, example: [] })
  notConforming!: ReadLineVerdict[];

  @Whole({ description: 'Such values in all.', example: 0, min: 0, max: MOST, unit: '' })
  notConformingCount!: number;
}

/** A file imported: a certificate and a keying for each paper in it. */
export class CertificateImportAnswer extends CertificateFileAnswer {
  @Id({ description: 'The import, as sent.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b26' })
  id!: string;

  @Whole({ description: 'Certificates that were not on record before.', example: 3, min: 0, max: MOST, unit: '' })
  newCertificates!: number;
}
