/**
 * QR codes (ISO/IEC 18004) with error correction level Q, which restores about a quarter of a soiled code. The symbol
 * comes from the package qrcode; it is drawn as squares, so that it is sharp at any size.
 */
import { create } from 'qrcode';
import type { Box, Canvas } from './canvas.js';
import { ReportDataError } from './check-fields.js';

/** What a symbol of version 10, 57 modules a side, holds at level Q in byte mode. */
export const LINK_CHARACTERS_MAX = 151;
const WEB_ADDRESS = /^https?:\/\/[\x21-\x7e]+$/;
/** Blank modules that must surround a symbol. */
const QUIET_MODULES = 4;

/**
 * Refuses a link that the code could not carry as it is printed.
 * @throws ReportDataError for what is not an http or https address in ASCII, or is longer than `LINK_CHARACTERS_MAX`.
 */
export function checkLink(path: string, link: string): void {
  if (!WEB_ADDRESS.test(link) || !URL.canParse(link)) throw new ReportDataError(path, 'is not a web address in ASCII, http or https');
  if (link.length > LINK_CHARACTERS_MAX) throw new ReportDataError(path, `is longer than ${LINK_CHARACTERS_MAX} characters, the most a QR code has room for here`);
}

/** Draws a checked link as a code that fills a square, quiet zone included; modules measure at least a 65th of its side. */
export function drawQrCode(canvas: Canvas, link: string, square: { readonly xPt: number; readonly yPt: number; readonly sidePt: number }): void {
  const { modules } = create(link, { errorCorrectionLevel: 'Q' });
  const modulePt = square.sidePt / (modules.size + 2 * QUIET_MODULES);
  const squares: Box[] = [];
  for (let row = 0; row < modules.size; row += 1) {
    for (let column = 0; column < modules.size; column += 1) {
      if (modules.get(row, column) === 0) continue;
      const xPt = square.xPt + (QUIET_MODULES + column) * modulePt;
      const yPt = square.yPt + (QUIET_MODULES + row) * modulePt;
      squares.push({ xPt, yPt, widthPt: modulePt, heightPt: modulePt });
    }
  }
  canvas.drawModules(squares);
}
