/** What every report says in the same way: absent values, cautions, and which print of which data this is. */
import { lineHeightPt } from './canvas.js';
import { checkInstant, checkPresent, checkSha256 } from './check-fields.js';
import { formatInstant } from './instants-and-lengths.js';
import { BODY, BODY_BOLD, type PageFrame, type PageFrameText } from './page-frame.js';
import { drawFields, fieldsHeightPt } from './table.js';

/** Which data a report was drawn from, and when. */
export interface PrintDetails {
  /** Nothing recorded after this instant is in the report. */
  readonly dataCutOff: string;
  readonly generatedAt: string;
  readonly fingerprintSha256: string;
}

export const NONE_RECORDED = 'none recorded';
const FINGERPRINT_START = 16;

/** A value the record does not hold is said to be absent, so that no field looks overlooked. */
export function orNone(text: string | null): string {
  return text === null || text.trim() === '' ? NONE_RECORDED : text;
}

/** @throws ReportDataError where it is not said of which string it is, or which data it was drawn from and when. */
export function checkPrint({ well, string, dataCutOff, generatedAt, fingerprintSha256 }: PrintDetails & { readonly well: string; readonly string: string }): void {
  checkPresent('well', well);
  checkPresent('string', string);
  checkInstant('dataCutOff', dataCutOff);
  checkInstant('generatedAt', generatedAt);
  checkSha256('fingerprintSha256', fingerprintSha256);
}

/** The footer of every page. */
export function printFooter({ generatedAt, dataCutOff, fingerprintSha256 }: PrintDetails): PageFrameText['footer'] {
  return [
    [`Generated ${formatInstant(generatedAt)}`, `Data cut-off ${formatInstant(dataCutOff)}`],
    [`Fingerprint SHA-256 ${fingerprintSha256.slice(0, FINGERPRINT_START)}…`, ''],
  ];
}

export function drawCautions(frame: PageFrame, cautions: readonly string[]): void {
  frame.heading('Cautions');
  if (cautions.length === 0) frame.paragraph(NONE_RECORDED);
  cautions.forEach((caution, i) => {
    frame.paragraph(`${i + 1}. ${caution}`);
  });
}

/** The last section of a report; `ending` is its last line. */
export function drawThisPrint(frame: PageFrame, print: PrintDetails, ending: string): void {
  const fields = [
    ['Generated', formatInstant(print.generatedAt)],
    ['Data cut-off', `${formatInstant(print.dataCutOff)}; nothing recorded later is in this report`],
    ['Fingerprint', `SHA-256 ${print.fingerprintSha256}`],
  ] as const;
  frame.heading('This print', fieldsHeightPt(frame, fields) + 4 * lineHeightPt(BODY));
  drawFields(frame, fields);
  frame.gap();
  frame.paragraph('A character that no font here can draw, or that would be invisible, is printed as its Unicode code in brackets.', BODY);
  frame.paragraph(ending, BODY_BOLD);
}
