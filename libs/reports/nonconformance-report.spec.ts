import { describe, expect, jest, test } from '@jest/globals';
import type { DrawnMark, Paper } from './canvas.js';
import { collectBytes } from './collect-bytes.js';
import { nonconformanceReport } from './nonconformance-report.js';
import { oneAmendment, oneExtent, oneReport } from './nonconformance-report.factory.js';
import type { NonconformanceReportData } from './nonconformance-data.js';
import { ReportTooLongError } from './page-frame.js';
import { readPdf } from './pdf-text.reference.js';

// Some of these tests draw hundreds of pages, and the cores are shared with other suites.
jest.setTimeout(60_000);

const PAPERS: Paper[] = ['A4', 'Letter'];
const SIZE_PT = { A4: [595.28, 841.89], Letter: [612, 792] } as const;
const MARGIN_PT = 42;
const SECTIONS = ['Requirement', 'Found', 'Containment', 'Disposition', 'Amendments', 'Cautions', 'This print'];

const squeeze = (runs: readonly string[]) => runs.join('').replace(/\s/g, '');

async function draw(data: NonconformanceReportData, paper: Paper = 'A4') {
  const marks: DrawnMark[] = [];
  const stream = nonconformanceReport(data, { paper, isCompressed: false, record: (mark) => marks.push(mark) });
  const bytes = await collectBytes(stream);
  return { bytes, marks, ...readPdf(bytes) };
}

function textsOutside(marks: readonly DrawnMark[], paper: Paper): DrawnMark[] {
  const [widthPt, heightPt] = SIZE_PT[paper];
  const slackPt = 0.01;
  return marks.filter((mark) => {
    const isInside =
      mark.xPt >= MARGIN_PT - slackPt &&
      mark.yPt >= MARGIN_PT - slackPt &&
      mark.xPt + mark.widthPt <= widthPt - MARGIN_PT + slackPt &&
      mark.yPt + mark.heightPt <= heightPt - MARGIN_PT + slackPt;
    return !isInside;
  });
}

/** Pairs of texts whose boxes share more than a sliver. */
function collisions(marks: readonly DrawnMark[]): [string, string][] {
  const texts = marks.filter((mark) => mark.kind === 'text' && mark.text.trim() !== '');
  const pairs: [string, string][] = [];
  texts.forEach((a, i) => {
    for (const b of texts.slice(i + 1)) {
      const acrossPt = Math.min(a.xPt + a.widthPt, b.xPt + b.widthPt) - Math.max(a.xPt, b.xPt);
      const downPt = Math.min(a.yPt + a.heightPt, b.yPt + b.heightPt) - Math.max(a.yPt, b.yPt);
      if (a.pageIndex === b.pageIndex && acrossPt > 0.1 && downPt > 0.1) pairs.push([a.text, b.text]);
    }
  });
  return pairs;
}

const crowded = oneReport({
  identity: { ...oneReport().identity, well: 'W'.repeat(200), string: 'نص طويل جدا '.repeat(30) },
  extents: [
    oneExtent(),
    oneExtent({
      strips: [
        { coil: 'C'.repeat(150), coilLengthMm: 354_000, interval: { fromMm: 353_000, toMm: 354_000 } },
        { coil: 'C-015', coilLengthMm: 0, interval: { fromMm: 0, toMm: 0 } },
      ],
      footage: { fromMm: 2_399_999, toMm: 2_400_000 },
      lastKnownGoodFootageMm: 2_399_998,
      firstKnownGoodFootageMm: 2_400_000,
      outerWall: { depth: { fromMm: 1_149_900, toMm: 1_150_000 }, uncertaintyMm: 2_000_000 },
      innerWall: { depth: { fromMm: 8_000, toMm: 8_000 }, uncertaintyMm: 0 },
      marks: ['unconfirmed splice '.repeat(40)],
    }),
    oneExtent({ strips: [], footage: null, outerWall: null, marks: [] }),
  ],
  geometry: { lengthMm: 2_400_000, depthDatum: 'rotary table', hangOffDepthMm: 1_149_000, shoeDepthMm: 1_150_000 },
  amendments: Array.from({ length: 40 }, (_, i) => oneAmendment((i % 20) + 2)),
});

describe.each(PAPERS)('a nonconformance report on %s', (paper) => {
  test('has the size of its paper', async () => {
    const { source } = await draw(oneReport(), paper);
    expect(source).toContain(`/MediaBox [0 0 ${SIZE_PT[paper].join(' ')}]`);
  });

  test('says on every page what it is, which page of how many, when, up to when, and its fingerprint', async () => {
    const { pages } = await draw(oneReport({ amendments: Array.from({ length: 20 }, (_, i) => oneAmendment(i + 2)) }), paper);
    expect(pages.length).toBeGreaterThan(2);
    pages.forEach((runs, i) => {
      const text = squeeze(runs);
      for (const part of [
        'Nonconformance report NC-0007',
        'Version 3',
        'Well Sample 1',
        'String S-1',
        `Page ${i + 1} of ${pages.length}`,
        'Generated 2031-04-05 07:08:09 UTC',
        'Data cut-off 2031-04-05 00:00:00 UTC',
        'SHA-256 0123456789abcdef…',
        'Marked: past the last tie: depth rests on an assumed length ratio',
      ]) {
        expect(text).toContain(part.replace(/\s/g, ''));
      }
    });
  });

  test('keeps everything within the margins and no text on another, however crowded', async () => {
    const { marks } = await draw(crowded, paper);
    expect(marks.length).toBeGreaterThan(500);
    expect(textsOutside(marks, paper)).toEqual([]);
    expect(collisions(marks)).toEqual([]);
  });

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
    expect(textsOutside(marks, paper)).toEqual([]);
  });
});

describe('sections', () => {
  test('an empty record says none recorded in each section', async () => {
    const empty = { requirement: null, found: null, extents: [], containment: [], disposition: null, amendments: [], cautions: [] };
    const { pages } = await draw(oneReport(empty));
    const text = pages.map(squeeze).join('');
    for (const section of ['Requirement', 'Found', 'Extent and position', 'Containment', 'Disposition', 'Amendments', 'Cautions']) {
      expect(text).toContain(`${section.replace(/\s/g, '')}nonerecorded`);
    }
  });

  test('a full record prints its figures as they were read', async () => {
    const { pages } = await draw(oneReport());
    const text = pages.map(squeeze).join('');
    for (const part of [
      'Seam procedure P-12',
      '≤ 250 HV10',
      '268 ± 6 HV10',
      '2031-04-02 10:11:12.123456 UTC',
      'coil C-014, 120.310 to 158.870 m',
      '1,204.310 to 1,244.870 m ± 1.250 m (k = 2)',
      '496.200 to 534.700 m ± 12.000 m (k = 2), measured depth below rotary table',
      'not on the inner wall',
      'hang-off 8.000',
      'shoe 1,150.000',
      'bracketed',
      'Line stopped, hold placed',
      'use as is, under concession',
      'D. Authority, design authority',
      'found.value266268',
      'Hatched: the extent',
      'A depth is an estimate.',
      '0123456789abcdef'.repeat(4),
    ]) {
      expect(text).toContain(part.replace(/\s/g, ''));
    }
  });

  test('the amendments table repeats its header on each page it reaches', async () => {
    const { pages } = await draw(oneReport({ amendments: Array.from({ length: 60 }, (_, i) => oneAmendment((i % 20) + 2)) }));
    const texts = pages.map(squeeze);
    const reached = texts.filter((text) => text.includes('found.value266268'));
    expect(reached.length).toBeGreaterThan(2);
    for (const text of reached) expect(text).toContain('Version,when,byReasonFieldWasIsnow');
  });

  test('the bars of one extent stand on one page', async () => {
    for (let lines = 0; lines < 30; lines += 5) {
      const title = 'line\n'.repeat(lines + 1);
      const { marks } = await draw(oneReport({ identity: { ...oneReport().identity, title } }));
      const titles = ['Extent 1: strip of coil C-014, from its leading end, m', 'Extent 1: inner wall, measured depth, m'];
      const pageIndexes = marks.filter((mark) => titles.includes(mark.text)).map((mark) => mark.pageIndex);
      expect(pageIndexes).toHaveLength(2);
      expect(new Set(pageIndexes).size).toBe(1);
    }
  });

  test('a very short extent is hatched three points wide', async () => {
    const extent = oneExtent({ strips: [], outerWall: null, footageUncertaintyMm: null, footage: { fromMm: 1_000_000, toMm: 1_000_001 } });
    const { marks } = await draw(oneReport({ extents: [extent] }));
    const areas = marks.filter((mark) => mark.kind === 'area' && mark.heightPt === 13 && mark.widthPt < 100);
    expect(areas.map((area) => area.widthPt)).toEqual([3]);
  });
});

describe('text of any script', () => {
  const sentences = {
    greek: 'Η σκληρότητα υπερβαίνει',
    cyrillic: 'Твёрдость шва',
    japanese: '溶接部の硬さ',
    korean: '용접부 경도',
    latin: 'Größe, naïve, đường, ﬁ',
  };

  test.each(Object.entries(sentences))('%s can be read back', async (_script, sentence) => {
    const { pages } = await draw(oneReport({ identity: { ...oneReport().identity, title: sentence } }));
    expect(squeeze(pages[0] ?? [])).toContain(sentence.replace(/\s/g, ''));
  });

  test('Hebrew and Arabic are laid from right to left, letter by letter', async () => {
    const { pages } = await draw(oneReport({ identity: { ...oneReport().identity, title: 'שלום עולם\nدرجة' } }));
    const text = squeeze(pages[0] ?? []);
    expect(text).toContain(Array.from('שלוםעולם').reverse().join(''));
    expect(text).toContain(Array.from('درجة').reverse().join(''));
  });

  test('Devanagari is shaped: the short i stands before its consonant', async () => {
    const { pages } = await draw(oneReport({ identity: { ...oneReport().identity, title: 'कि' } }));
    expect(squeeze(pages[0] ?? [])).toContain('िक');
  });

  test('what no font has, and what would steer the text, is written as its code', async () => {
    const title = 'a\u0e01b \u202egnp.exe \u0007 \u{1f9ff} \ud800';
    const { pages, marks } = await draw(oneReport({ identity: { ...oneReport().identity, title } }));
    expect(squeeze(pages[0] ?? [])).toContain('a[U+0E01]b[U+202E]gnp.exe[U+0007][U+1F9FF][U+D800]');
    expect(marks.some((mark) => /[\p{Cc}\u202a-\u202e\u2066-\u2069]/u.test(mark.text))).toBe(false);
  });

  test('no glyph on any page is missing from its font', async () => {
    const title = Object.values(sentences).join('\n');
    const { pages } = await draw(oneReport({ identity: { ...oneReport().identity, title } }));
    expect(pages.flat().some((run) => /[\ufffd\p{Cc}]/u.test(run))).toBe(false);
  });
});

describe('a report beyond all use', () => {
  test('is refused once it passes 400 pages', () => {
    const identity = { ...oneReport().identity, title: 'a\n'.repeat(30_000) };
    expect(() => nonconformanceReport(oneReport({ identity }), { paper: 'A4' })).toThrow(ReportTooLongError);
  });
});

describe('the file', () => {
  test('is the same, byte for byte, when printed again', async () => {
    const print = () => collectBytes(nonconformanceReport(crowded, { paper: 'A4' }));
    const first = await print();
    expect((await print()).equals(first)).toBe(true);
  });

  test('changes when a figure changes', async () => {
    const a = await collectBytes(nonconformanceReport(oneReport(), { paper: 'A4' }));
    const found = { ...oneReport().found!, valueText: '269' };
    const b = await collectBytes(nonconformanceReport(oneReport({ found }), { paper: 'A4' }));
    expect(b.equals(a)).toBe(false);
  });

  test('carries a title, a language and its date, but no author and no link', async () => {
    const title = 'see https://example.invalid/ now';
    const stream = nonconformanceReport(oneReport({ identity: { ...oneReport().identity, title } }), {
      paper: 'A4',
      language: 'el',
      isCompressed: false,
    });
    const source = (await collectBytes(stream)).toString('latin1');
    expect(source).toContain('(Nonconformance report NC-0007, version 3)');
    expect(source).toContain('/Lang (el)');
    expect(source).toContain('(D:20310405070809Z)');
    expect(source).not.toMatch(/\/Author|\/URI|\/Annots|\/JavaScript/);
  });
});
