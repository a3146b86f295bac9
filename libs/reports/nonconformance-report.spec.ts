import { describe, expect, test } from '@jest/globals';
import type { Paper } from './canvas.js';
import { collectBytes } from './collect-bytes.js';
import { collisions, draw, marksOutside, PAPER_PT, PAPERS, squeeze } from './drawn-report.reference.js';
import { nonconformanceReport } from './nonconformance-report.js';
import { oneAmendment, oneExtent, oneReport } from './nonconformance-report.factory.js';

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
      string: { ...oneExtent().string!, name: 'N'.repeat(80), hangOffDepthMm: 1_149_000 },
      outerWall: [
        { depth: { fromMm: 1_149_800, toMm: 1_149_900 }, uncertaintyMm: 2_000_000 },
        { depth: { fromMm: 1_149_900, toMm: 1_150_000 }, uncertaintyMm: 2_000_000 },
      ],
      innerWall: [{ depth: { fromMm: 8_000, toMm: 8_000 }, uncertaintyMm: 0 }],
      marks: ['unconfirmed splice '.repeat(40)],
    }),
    oneExtent({ string: null, footage: null, outerWall: [], marks: [] }),
  ],
  amendments: Array.from({ length: 24 }, (_, i) => oneAmendment((i % 20) + 2)),
});

const plain = draw(oneReport());
const onPapers = { A4: draw(crowded, 'A4'), Letter: draw(crowded, 'Letter') };
const crowdedOn = (paper: Paper) => onPapers[paper];

describe.each(PAPERS)('a nonconformance report on %s', (paper) => {
  test('has the size of its paper', async () => {
    const { source } = await crowdedOn(paper);
    expect(source).toContain(`/MediaBox [0 0 ${PAPER_PT[paper].join(' ')}]`);
  });

  test('says on every page what it is, which page of how many, when, up to when, and its fingerprint', async () => {
    const { pages } = await draw(oneReport({ amendments: Array.from({ length: 8 }, (_, i) => oneAmendment(i + 2)) }), paper);
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
    const { marks } = await crowdedOn(paper);
    expect(marks.length).toBeGreaterThan(500);
    expect(marksOutside(marks, paper)).toEqual([]);
    expect(collisions(marks)).toEqual([]);
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
    const { pages } = await plain;
    const text = pages.map(squeeze).join('');
    for (const part of [
      'Seam procedure P-12',
      '≤ 250 HV10',
      '268 ± 6 HV10 (k = 2)',
      '2031-04-02 10:11:12.123456 UTC',
      'coil C-014, 120.310 to 158.870 m',
      '1,204.310 to 1,244.870 m ± 1.250 m (k = 2)',
      '496.200 to 534.700 m ± 12.000 m (k = 2), measured depth; datum: rotary table',
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
    const { pages } = await draw(oneReport({ amendments: Array.from({ length: 36 }, (_, i) => oneAmendment((i % 20) + 2)) }));
    const texts = pages.map(squeeze);
    const reached = texts.filter((text) => text.includes('found.value266268'));
    expect(reached.length).toBeGreaterThan(2);
    for (const text of reached) expect(text).toContain('Version,when,byReasonFieldWasIsnow');
  });

  test('two stretches of one wall are both drawn and written, and no depth at all says why', async () => {
    const places = [500_000, 520_000].map((fromMm) => ({ depth: { fromMm, toMm: fromMm + 4_000 }, uncertaintyMm: 900 }));
    const split = oneExtent({ innerWall: places });
    const unknown = oneExtent({ outerWall: [], depthsUnknown: 'the string does not hang yet' });
    const { pages, marks } = await draw(oneReport({ extents: [split, unknown] }));
    const text = pages.map(squeeze).join('');
    for (const part of ['500.000 to 504.000 m ± 0.900 m', '520.000 to 524.000 m ± 0.900 m']) {
      expect(marks.filter((mark) => mark.text.startsWith(part)).length).toBeGreaterThanOrEqual(2);
    }
    expect(text).toContain('notknown:thestringdoesnothangyet');
    expect(marks.filter((mark) => mark.text === 'depth not known')).toHaveLength(2);
    expect(collisions(marks)).toEqual([]);
  });

  test('strip in no string has a strip bar and no other; words stand where no value was read', async () => {
    const found = { ...oneReport().found!, valueText: null, uncertaintyText: null, words: 'Edge crack, open to the touch' };
    const { pages, marks } = await draw(oneReport({ found, note: 'Coil set aside', extents: [oneExtent({ string: null })] }));
    expect(marks.filter((mark) => mark.text.startsWith('Extent 1: '))).toMatchObject([{ text: 'Extent 1: strip of coil C-014, from its head, m' }]);
    const text = pages.map(squeeze).join('');
    expect(text).toContain('Valuenonerecorded');
    expect(text).toContain('InwordsEdgecrack,opentothetouch');
    expect(text).toContain('NoteCoilsetaside');
  });

  test('a very short extent is hatched three points wide', async () => {
    const extent = oneExtent({ strips: [], outerWall: [], footageUncertaintyMm: null, footage: { fromMm: 1_000_000, toMm: 1_000_001 } });
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
    chinese: '焊缝硬度超过极限，钢带边缘有裂纹。',
    latin: 'Größe, naïve, đường, ﬁ',
  };

  const inAll = draw(oneReport({ identity: { ...oneReport().identity, title: Object.values(sentences).join('\n') } }));

  test.each(Object.entries(sentences))('%s can be read back', async (_script, sentence) => {
    const { pages } = await inAll;
    expect(squeeze(pages[0] ?? [])).toContain(sentence.replace(/\s/g, ''));
  });

  const shaped = draw(oneReport({ identity: { ...oneReport().identity, title: 'שלום עולם\nدرجة\nकि' } }));

  test('Hebrew and Arabic are laid from right to left, letter by letter', async () => {
    const { pages } = await shaped;
    const text = squeeze(pages[0] ?? []);
    expect(text).toContain(Array.from('שלוםעולם').reverse().join(''));
    expect(text).toContain(Array.from('درجة').reverse().join(''));
  });

  test('Devanagari is shaped: the short i stands before its consonant', async () => {
    const { pages } = await shaped;
    expect(squeeze(pages[0] ?? [])).toContain('िक');
  });

  test('what no font has, and what would steer the text, is written as its code', async () => {
    const title = 'a\u0e01b \u202egnp.exe \u0007 \u{1f9ff} \ud800';
    const { pages, marks } = await draw(oneReport({ identity: { ...oneReport().identity, title } }));
    expect(squeeze(pages[0] ?? [])).toContain('a[U+0E01]b[U+202E]gnp.exe[U+0007][U+1F9FF][U+D800]');
    expect(marks.some((mark) => /[\p{Cc}\u202a-\u202e\u2066-\u2069]/u.test(mark.text))).toBe(false);
  });

  test('no glyph on any page is missing from its font', async () => {
    const { pages } = await inAll;
    expect(pages.flat().some((run) => /[\ufffd\p{Cc}]/u.test(run))).toBe(false);
  });
});

describe('the file', () => {
  test('is the same, byte for byte, when printed again', async () => {
    const again = await draw(oneReport());
    expect(again.bytes.equals((await plain).bytes)).toBe(true);
  });

  test('changes when a figure changes', async () => {
    const found = { ...oneReport().found!, valueText: '269' };
    const other = await draw(oneReport({ found }));
    expect(other.bytes.equals((await plain).bytes)).toBe(false);
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
