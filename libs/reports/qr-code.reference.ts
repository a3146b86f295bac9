/** Reads a QR code from what was drawn: paints the squares as pixels and gives them to a decoder of another origin. */
import jsQrModule from 'jsqr';
import type { Box, DrawnMark } from './canvas.js';

const PIXELS_PER_MODULE = 4;
const QUIET_MODULES = 4;

export function modulesOf(marks: readonly DrawnMark[]): DrawnMark[] {
  return marks.filter((mark) => mark.kind === 'module');
}

/** The smallest box around some marks. */
export function boundsOf(marks: readonly DrawnMark[]): Box {
  const xPt = Math.min(...marks.map((mark) => mark.xPt));
  const yPt = Math.min(...marks.map((mark) => mark.yPt));
  const widthPt = Math.max(...marks.map((mark) => mark.xPt + mark.widthPt)) - xPt;
  const heightPt = Math.max(...marks.map((mark) => mark.yPt + mark.heightPt)) - yPt;
  return { xPt, yPt, widthPt, heightPt };
}

/** The text of the code that the marks of one page draw, or null when it cannot be read. */
export function readQrCode(marks: readonly DrawnMark[]): string | null {
  const modules = modulesOf(marks);
  const [first] = modules;
  if (first === undefined) return null;
  const bounds = boundsOf(modules);
  const pixelsPerPt = PIXELS_PER_MODULE / first.widthPt;
  const quiet = QUIET_MODULES * PIXELS_PER_MODULE;
  const width = Math.round(bounds.widthPt * pixelsPerPt) + 2 * quiet;
  const height = Math.round(bounds.heightPt * pixelsPerPt) + 2 * quiet;
  const pixels = new Uint8ClampedArray(4 * width * height).fill(255);
  for (const { xPt, yPt, widthPt, heightPt } of modules) {
    const left = quiet + (xPt - bounds.xPt) * pixelsPerPt;
    const top = quiet + (yPt - bounds.yPt) * pixelsPerPt;
    for (let y = Math.round(top); y < Math.round(top + heightPt * pixelsPerPt); y += 1) {
      for (let x = Math.round(left); x < Math.round(left + widthPt * pixelsPerPt); x += 1) pixels.fill(0, 4 * (y * width + x), 4 * (y * width + x) + 3);
    }
  }
  return jsQrModule.default(pixels, width, height, { inversionAttempts: 'dontInvert' })?.data ?? null;
}
