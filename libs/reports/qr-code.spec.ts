import { describe, expect, test } from '@jest/globals';
import { create } from 'qrcode';
import type { DrawnMark } from './canvas.js';
import { ReportDataError } from './check-fields.js';
import { collectBytes } from './collect-bytes.js';
import { checkLink, drawQrCode, LINK_CHARACTERS_MAX } from './qr-code.js';
import { boundsOf, modulesOf, readQrCode } from './qr-code.reference.js';
import { reportCanvas } from './report-canvas.js';

const START = 'https://records.example/coils/';
const linkOf = (length: number): string => START + 'x'.repeat(length - START.length);

async function drawnCode(link: string, sidePt = 150): Promise<DrawnMark[]> {
  const marks: DrawnMark[] = [];
  const canvas = reportCanvas('label', 'code', '2031-04-05T07:08:09Z', { record: (mark) => marks.push(mark) });
  canvas.addPage();
  drawQrCode(canvas, link, { xPt: 100, yPt: 50, sidePt });
  canvas.document.end();
  await collectBytes(canvas.document);
  return marks;
}

function problemOf(link: string): string {
  try {
    checkLink('link', link);
  } catch (error) {
    if (error instanceof ReportDataError) return error.message;
    throw error;
  }
  return 'accepted';
}

describe('a QR code', () => {
  test.each([
    'http://a.example',
    `${START}0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07`,
    `${START}C-014?asKnownAt=2031-04-05T00:00:00Z&x=%C3%A9#sheet`,
    'HTTPS://RECORDS.EXAMPLE/1234567890123456789012345678901234567890'.toLowerCase(),
    linkOf(LINK_CHARACTERS_MAX),
  ])('is read back from its squares: %s', async (link) => {
    expect(problemOf(link)).toBe('accepted');
    expect(readQrCode(await drawnCode(link))).toBe(link);
  });

  test('leaves four blank modules on every side of its square', async () => {
    const modules = modulesOf(await drawnCode(START));
    const modulePt = modules[0]!.widthPt;
    const { xPt, yPt, widthPt, heightPt } = boundsOf(modules);
    expect([xPt - 100, yPt - 50, 250 - xPt - widthPt, 200 - yPt - heightPt].map((quietPt) => quietPt / modulePt)).toEqual(
      Array.from({ length: 4 }, () => expect.closeTo(4, 6)),
    );
  });

  test('can still be read when an eighth of it in the middle is soiled, which level Q allows', async () => {
    const marks = await drawnCode(START);
    const { xPt, yPt, widthPt, heightPt } = boundsOf(modulesOf(marks));
    const isSoiled = (mark: DrawnMark): boolean =>
      Math.abs(mark.xPt - xPt - widthPt / 2) < Math.sqrt(1 / 8) * widthPt / 2 && Math.abs(mark.yPt - yPt - heightPt / 2) < Math.sqrt(1 / 8) * heightPt / 2;
    const left = marks.filter((mark) => !isSoiled(mark));
    expect(left.length).toBeLessThan(marks.length - 40);
    expect(readQrCode(left)).toBe(START);
  });

  test('is not read when half of it is gone', async () => {
    const marks = await drawnCode(START);
    const { xPt, widthPt } = boundsOf(modulesOf(marks));
    expect(readQrCode(marks.filter((mark) => mark.xPt < xPt + widthPt / 2))).toBeNull();
  });

  test('of the longest link has 57 modules a side, of a longer one more', () => {
    const sideOf = (length: number): number => create(linkOf(length), { errorCorrectionLevel: 'Q' }).modules.size;
    expect(sideOf(LINK_CHARACTERS_MAX)).toBe(57);
    expect(sideOf(LINK_CHARACTERS_MAX + 1)).toBe(61);
  });
});

describe('a link', () => {
  test('one character too long is refused', () => {
    expect(problemOf(linkOf(LINK_CHARACTERS_MAX))).toBe('accepted');
    expect(problemOf(linkOf(LINK_CHARACTERS_MAX + 1))).toBe('link is longer than 151 characters, the most a QR code has room for here');
  });

  test.each(['', '/coils/7', 'javascript:alert(1)', 'https://', 'https://a b.example', 'https://bücher.example', 'https://a.example\n', 'https://[', 'ftp://a.example'])(
    'that is no web address is refused: %j', (link) => {
      expect(problemOf(link)).toBe('link is not a web address in ASCII, http or https');
    },
  );
});
