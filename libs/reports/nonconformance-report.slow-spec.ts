import { describe, expect, jest, test } from '@jest/globals';
import { draw, marksOutside, PAPERS } from './drawn-report.reference.js';
import { nonconformanceReport } from './nonconformance-report.js';
import { oneReport } from './nonconformance-report.factory.js';
import { ReportTooLongError } from './page-frame.js';

// These tests draw hundreds of pages, and the cores are shared with other suites.
jest.setTimeout(60_000);

const SECTIONS = ['Requirement', 'Found', 'Containment', 'Disposition', 'Note', 'Amendments', 'Cautions', 'This print'];

describe.each(PAPERS)('a long nonconformance report on %s', (paper) => {
  test('leaves no heading alone at the foot of a page, wherever the page ends', async () => {
    for (let lines = 0; lines < 40; lines += 4) {
      const title = Array.from({ length: lines + 1 }, (_, i) => `line ${i}`).join('\n');
      const { marks } = await draw(oneReport({ identity: { ...oneReport().identity, title } }), paper);
      const footerTopPt = Math.max(...marks.filter((mark) => mark.text.startsWith('Data cut-off 2031-04-05 00:00:00 UTC')).map((mark) => mark.yPt));
      for (const heading of marks.filter((mark) => SECTIONS.includes(mark.text) && mark.heightPt > 15)) {
        const below = marks.filter((mark) => {
          return mark.kind === 'text' && mark.pageIndex === heading.pageIndex && mark.yPt > heading.yPt + 1 && mark.yPt < footerTopPt - 10;
        });
        expect(below.length).toBeGreaterThan(0);
      }
    }
  });

  test('prints a text of 20,000 characters in full, with and without spaces', async () => {
    const words = Array.from({ length: 2_500 }, (_, i) => `word${String(i).padStart(4, '0')}`.slice(1)).join(' ');
    const unbroken = 'abcdefghij'.repeat(2_000);
    const disposition = { kind: words, text: unbroken, approvals: [] };
    const { pages, marks } = await draw(oneReport({ disposition }), paper);
    const body = marks.filter((mark) => mark.kind === 'text').map((mark) => mark.text).join('').replace(/\s/g, '');
    expect(words.length).toBeGreaterThanOrEqual(19_999);
    expect(body).toContain(words.replace(/\s/g, ''));
    expect(body).toContain(unbroken);
    expect(pages.length).toBeGreaterThan(5);
    expect(marksOutside(marks, paper)).toEqual([]);
  });
});

describe('the drawing of a position', () => {
  test('the bars of one extent stand on one page', async () => {
    for (let lines = 0; lines < 30; lines += 5) {
      const title = 'line\n'.repeat(lines + 1);
      const { marks } = await draw(oneReport({ identity: { ...oneReport().identity, title } }));
      const titles = ['Extent 1: strip of coil C-014, from its head, m', 'Extent 1: inner wall, measured depth, m'];
      const pageIndexes = marks.filter((mark) => titles.includes(mark.text)).map((mark) => mark.pageIndex);
      expect(pageIndexes).toHaveLength(2);
      expect(new Set(pageIndexes).size).toBe(1);
    }
  });
});

describe('a report beyond all use', () => {
  test('is refused once it passes 400 pages', () => {
    const identity = { ...oneReport().identity, title: 'a\n'.repeat(30_000) };
    expect(() => nonconformanceReport(oneReport({ identity }), { paper: 'A4' })).toThrow(ReportTooLongError);
  });
});
