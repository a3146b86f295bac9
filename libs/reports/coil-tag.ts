/**
 * A label of 148 by 105 mm to be read from two metres: number, state and heat stand in capitals of at least 5 mm, a
 * 400th of that distance, unless they are too long for it. Common practice, no published source.
 */
import { type Box, type Canvas, lineHeightPt, PT_PER_MM } from './canvas.js';
import { checkCoilTagData } from './check-coil-data.js';
import { ReportDataError } from './check-fields.js';
import type { CoilTagData } from './coil-data.js';
import { drawFitted, type FittedText, fitText } from './fit-text.js';
import { formatInstant } from './instants-and-lengths.js';
import { drawQrCode } from './qr-code.js';
import { reportCanvas, type TagOptions } from './report-canvas.js';
import { orNone } from './shared-sections.js';
import { drawTagState } from './tag-state.js';

/** Label printers leave about 3 mm blank. Common practice, no published source. */
const MARGIN_PT = 4 * PT_PER_MM;
const GAP_PT = 4;
const COLUMN_GAP_PT = 8;
const NUMBER = { largestPt: 35, smallestPt: 9, isBold: true };
const NUMBER_PT = lineHeightPt({ sizePt: NUMBER.largestPt, isBold: true });
const STATE_PT = 82;
/** At most 65 modules, quiet zone included, share this side: a module measures at least 0.8 mm. */
const QR_SIDE_PT = 52 * PT_PER_MM;
const LABEL = { largestPt: 7.5, smallestPt: 7.5, isBold: false };
const LABEL_PT = 34;
const SMALLEST_VALUE_PT = 6.5;
const LINK = { largestPt: 6.5, smallestPt: 6.5, isBold: false };
const LINK_PT = 5 * lineHeightPt({ sizePt: LINK.largestPt, isBold: false });
const NOTE = { largestPt: 6.5, smallestPt: 5.5, isBold: false };

interface TagField {
  readonly label: string;
  readonly text: string;
  readonly sizePt: number;
}

/** A part of an identifier could be taken for the whole, so it is refused rather than cut. */
function requireWhole(path: string, fitted: FittedText): void {
  if (fitted.isCut) throw new ReportDataError(path, 'is too long for a tag');
}

function drawNumber(canvas: Canvas, number: string, box: Box): void {
  const fitted = fitText(canvas, number, box, NUMBER);
  requireWhole('number', fitted);
  drawFitted(canvas, fitted, { ...box, yPt: box.yPt + (box.heightPt - fitted.heightPt) / 2 });
  canvas.drawRule(box.xPt, box.yPt + box.heightPt, box.xPt + box.widthPt, box.yPt + box.heightPt, { widthPt: 1.5 });
}

/** A small label on the baseline of its value. */
function drawField(canvas: Canvas, { label, text, sizePt }: TagField, box: Box): FittedText {
  const valueBox = { ...box, xPt: box.xPt + LABEL_PT, widthPt: box.widthPt - LABEL_PT };
  const value = fitText(canvas, text, valueBox, { largestPt: sizePt, smallestPt: SMALLEST_VALUE_PT, isBold: true });
  const name = fitText(canvas, label, { ...box, widthPt: LABEL_PT }, LABEL);
  drawFitted(canvas, name, { ...box, yPt: box.yPt + Math.max(0, value.style.sizePt - LABEL.largestPt) });
  drawFitted(canvas, value, valueBox);
  return value;
}

function drawFields(canvas: Canvas, data: CoilTagData, column: Omit<Box, 'heightPt'>): void {
  const fields: readonly TagField[] = [
    { label: 'Heat', text: data.heat, sizePt: 20 },
    { label: 'Size', text: orNone(data.size), sizePt: 18 },
    { label: 'Grade', text: orNone(data.grade), sizePt: 16 },
    { label: 'Mass', text: orNone(data.mass), sizePt: 14 },
    { label: 'Length', text: orNone(data.length), sizePt: 14 },
    { label: 'Order', text: orNone(data.order), sizePt: 7.5 },
    { label: 'Spec.', text: orNone(data.specification), sizePt: 7.5 },
  ];
  let { yPt } = column;
  for (const field of fields) {
    const heightPt = lineHeightPt({ sizePt: field.sizePt, isBold: true });
    const value = drawField(canvas, field, { ...column, yPt, heightPt });
    if (field.label === 'Heat') requireWhole('heat', value);
    yPt += heightPt;
  }
}

/** The code, its link in letters, and which print this is. */
function drawCode(canvas: Canvas, data: CoilTagData, column: Omit<Box, 'heightPt'>): void {
  drawQrCode(canvas, data.link, { xPt: column.xPt, yPt: column.yPt, sidePt: QR_SIDE_PT });
  const linkPt = column.yPt + QR_SIDE_PT;
  drawFitted(canvas, fitText(canvas, data.link, { ...column, heightPt: LINK_PT }, LINK), { ...column, yPt: linkPt });
  const notes = [
    data.stateSince === null ? 'State since: none recorded' : `State since ${formatInstant(data.stateSince)}`,
    `Version ${data.version}, printed ${formatInstant(data.printedAt)}`,
    data.isKnownOtherwise ? 'KNOWN OTHERWISE SINCE: LOOK IT UP.' : 'A tag ages: the code leads to what holds now.',
  ];
  const notePt = lineHeightPt({ sizePt: NOTE.largestPt, isBold: false });
  notes.forEach((note, i) => {
    const yPt = canvas.heightPt - MARGIN_PT - (notes.length - i) * notePt;
    drawFitted(canvas, fitText(canvas, note, { ...column, heightPt: notePt }, NOTE), { ...column, yPt });
  });
}

/**
 * The tag of a coil: a label of 148 by 105 mm, landscape, in black and white, as a PDF in a stream. The same data and
 * options give the same bytes. Its QR code leads to the coil. What has no room is cut and ends in an ellipsis, except
 * the numbers of coil and heat.
 * @throws ReportDataError for data that cannot be drawn truthfully, or a number or heat too long for the label.
 */
export function coilTag(data: CoilTagData, options: TagOptions = {}): PDFKit.PDFDocument {
  checkCoilTagData(data);
  const canvas = reportCanvas('label', `Coil tag ${data.number}, version ${data.version}`, data.printedAt, options);
  canvas.addPage();
  const widthPt = canvas.widthPt - 2 * MARGIN_PT;
  drawNumber(canvas, data.number, { xPt: MARGIN_PT, yPt: MARGIN_PT, widthPt, heightPt: NUMBER_PT });
  const yPt = MARGIN_PT + NUMBER_PT + GAP_PT;
  const leftPt = widthPt - QR_SIDE_PT - COLUMN_GAP_PT;
  drawTagState(canvas, data.state, { xPt: MARGIN_PT, yPt, widthPt: leftPt, heightPt: STATE_PT });
  drawFields(canvas, data, { xPt: MARGIN_PT, yPt: yPt + STATE_PT + GAP_PT, widthPt: leftPt });
  drawCode(canvas, data, { xPt: MARGIN_PT + leftPt + COLUMN_GAP_PT, yPt, widthPt: QR_SIDE_PT });
  canvas.document.end();
  return canvas.document;
}
