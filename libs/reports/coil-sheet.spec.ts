import { describe, expect, jest, test } from '@jest/globals';
import type { Paper } from './canvas.js';
import { COIL_CAUTIONS } from './cautions.js';
import { COIL_VERDICTS, type CoilSheetData, type CoilVerdict } from './coil-data.js';
import { COIL_LINK, oneCoilSheet, oneDecision, oneLine } from './coil-papers.factory.js';
import { coilSheet } from './coil-sheet.js';
import { collisions, drawn, type DrawnReport, marksOutside, PAPER_PT, PAPERS, squeeze } from './drawn-report.reference.js';
import { readQrCode } from './qr-code.reference.js';

// These tests draw many papers, and the cores are shared with other suites.
jest.setTimeout(30_000);

const drawSheet = (overrides: Partial<CoilSheetData> = {}, paper: Paper = 'A4'): Promise<DrawnReport> =>
  drawn((options) => coilSheet(oneCoilSheet(overrides), { ...options, paper }));
const textOf = ({ pages }: DrawnReport): string => pages.map(squeeze).join('');
const solid = (text: string): string => text.replace(/\s/g, '');

const { identity } = oneCoilSheet();
const crowded: Partial<CoilSheetData> = {
  identity: { ...identity, number: 'C'.repeat(150), state: 'نص طويل جدا '.repeat(30), certificates: Array.from({ length: 30 }, (_, i) => `TS-${i} ${'W'.repeat(80)}`) },
  lines: [
    oneLine({ characteristic: 'W'.repeat(80), limits: '焊缝硬度'.repeat(30), printed: '9'.repeat(90), margin: '9'.repeat(60) }),
    oneLine({ verdict: 'does-not-conform', reason: 'very long reasons '.repeat(60), source: 'نص طويل جدا '.repeat(30), rule: 'W'.repeat(200) }),
  ],
  checks: [{ severity: 'warning', what: 'W'.repeat(300), detail: 'x '.repeat(900) }],
  decisions: [oneDecision({ statement: 'long '.repeat(2500), roles: Array.from({ length: 20 }, (_, i) => `role ${i}`) })],
  link: 'https://records.example/'.padEnd(151, 'x'),
};
const plain = drawSheet();

describe.each(PAPERS)('a coil sheet on %s', (paper) => {
  test('has the size of its paper, and says on every page what it is, of when, and which page of how many', async () => {
    const { pages, source } = await drawSheet({}, paper);
    expect(source).toContain(`/MediaBox [0 0 ${PAPER_PT[paper].join(' ')}]`);
    expect(pages.length).toBeGreaterThan(2);
    pages.forEach((runs, i) => {
      const text = squeeze(runs);
      for (const part of [
        'Coil sheet C-014', 'Version 3, accepted under concession', 'Heat H40711, grade S420MC', 'Verdict: does not conform',
        `Page ${i + 1} of ${pages.length}`, 'Generated 2031-04-05 07:08:09 UTC', 'Data cut-off 2031-04-05 00:00:00 UTC', 'SHA-256 0123456789abcdef…',
      ]) {
        expect(text).toContain(solid(part));
      }
    });
  });

  test('keeps everything within the margins and no text on another, however crowded', async () => {
    const { marks } = await drawSheet(crowded, paper);
    expect(marks.length).toBeGreaterThan(1500);
    expect(marksOutside(marks, paper)).toEqual([]);
    expect(collisions(marks)).toEqual([]);
  });

  test('its code leads to the coil, and the link stands in letters under it', async () => {
    for (const link of [COIL_LINK, crowded.link!]) {
      const report = await drawSheet({ link }, paper);
      expect(report.marks.filter(({ kind }) => kind === 'module').every(({ pageIndex }) => pageIndex === 0)).toBe(true);
      expect(readQrCode(report.marks)).toBe(link);
      expect(squeeze(report.pages[0] ?? [])).toContain(link);
    }
  });
});

describe('sections', () => {
  test('print everything as it was given', async () => {
    const text = textOf(await plain);
    for (const part of [
      'Coil number C-014', 'Mill Sample mill', 'Order PO-0231 line 4', 'Specification Strip specification 12, revision 3',
      'TS-2031-00417 (3.1), verified by second keying', 'Width 383.0 mm', 'Thickness 5.00 mm', 'Mass 5330 kg',
      '355 m: stated by the mill', '354.2 m ± 3.5 m: computed from mass', 'Received 2031-04-01 09:30:00 UTC', 'bay 3, row 2', 'strapping sound',
      'One value does not conform: width at the tail.',
      'Lines judged 7: conforms: 3, inside the guard band: 1, not comparable: 1, not reported: 1, does not conform: 1',
      'Rounding Values are judged as printed', 'Decision rule Simple acceptance, except tensile values',
      'WARNING mass against size Stated length and mass give 4.96 mm', 'NOTE heat number',
      '1 of 2: hold', 'this decision no longer stands', '2 of 2: acceptance under concession', 'this decision stands',
      'Signed by M. Engineer', 'Roles materials engineer, QC lead', 'Signed at 2031-04-03 08:00:00 UTC',
      'Method electronic signature, not a qualified one: secret entered again', `SHA-256 ${'fedcba9876543210'.repeat(4)}`,
      'Each signature here is an electronic signature, not a qualified one',
      'K-0003 Width at the tail this coil, inner wall, last 2 m cropped For string S-1, until 2031-06-01 00:00:00 UTC. D. Authority 2031-04-03 07:45:00 UTC',
      `SHA-256 ${'0123456789abcdef'.repeat(4)}`, 'End of coil sheet',
      ...COIL_CAUTIONS,
    ]) {
      expect(text).toContain(solid(part));
    }
  });

  test('stand in their order', async () => {
    const text = textOf(await plain);
    const places = ['Coilnumber', 'Linesjudged', 'Exceptions:', 'Valuesagainstlimits', 'Cross-checks', 'Decisionandsignatures', 'Permitsandconcessions', 'Cautions1.', 'Thisprint']
      .map((heading) => text.indexOf(heading));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(places[0]).toBeGreaterThan(0);
  });

  test('say none when they are empty', async () => {
    const text = textOf(await drawSheet({ verdict: 'not-reported', lines: [], checks: [], decisions: [], permits: [], roundingText: null, decisionText: ' ' }));
    for (const part of [
      'Lines judged none', 'in doubt none: no value was judged', 'Rounding none recorded', 'Decision rule none recorded none Cross-checks none',
      'stands with it. none Permits and concessions none Cautions 1.',
    ]) {
      expect(text).toContain(solid(part));
    }
  });

  test('say none recorded for what is not known of the coil', async () => {
    const nothing = { mill: null, order: null, specification: null, certificates: [], widthMm: null, thicknessMm: null, massKg: null, lengths: [], receivedAt: null, place: null, condition: ' ' };
    const text = textOf(await drawSheet({ identity: { ...identity, ...nothing } }));
    for (const name of ['Mill', 'Order', 'Specification', 'Certificates', 'Width', 'Thickness', 'Mass', 'Length', 'Received', 'Place', 'Condition']) {
      expect(text).toContain(`${name}nonerecorded`);
    }
  });
});

describe('the decision that stands', () => {
  test.each([[true, false, 'Standing this decision stands Statement'], [true, true, 'this decision stands, but what is known of the coil is no longer what was signed: see above'], [false, false, 'this decision no longer stands']])(
    'stands: %s, known otherwise: %s', async (isStanding, isKnownOtherwise, said) => {
      expect(textOf(await drawSheet({ decisions: [oneDecision({ isStanding, isKnownOtherwise })] }))).toContain(solid(said));
    },
  );
});

describe('verdicts', () => {
  test('exceptions stand before the table of all values, which keeps its order and their numbers', async () => {
    const text = textOf(await plain);
    const exceptions = text.slice(text.indexOf('Exceptions:'), text.indexOf('Valuesagainstlimits'));
    const values = text.slice(text.indexOf('Valuesagainstlimits'), text.indexOf('Cross-checks'));
    const rows = ['1C(heat', '2Mn(heat', '3N(product', '4Rt0.5', '5A2in', '6KV2at', '7width'];
    expect(rows.map((row) => exceptions.includes(row))).toEqual([false, false, false, true, true, true, true]);
    for (const within of [exceptions, values]) {
      const places = rows.map((row) => within.indexOf(row)).filter((place) => place >= 0);
      expect(places).toEqual([...places].sort((a, b) => a - b));
    }
    expect(rows.every((row) => values.includes(row))).toBe(true);
    expect(exceptions).toContain(solid('7 width 382.6 mm 383.0 to 385.0 mm does not conform below the lower limit by 0.4 mm'));
    expect(values).toContain(solid('KV2 at −20 °C ≥ 40 J none recorded not reported no paper and no check gives it none none recorded rule 5'));
    expect(values).toContain(solid('Rules that decided Rule In words'));
    expect(values).toContain(solid('5 clause 6.4'));
  });

  test('a coil without exceptions says none', async () => {
    const text = textOf(await drawSheet({ verdict: 'conforms', lines: [oneLine(), oneLine()] }));
    expect(text).toContain(solid('in doubt none Values against limits'));
    expect(text).toContain(solid('Lines judged 2: conforms: 2'));
  });

  test('each has words and a drawing of its own', async () => {
    const shapes = new Map<CoilVerdict, string>();
    for (const verdict of COIL_VERDICTS) {
      const { marks } = await drawSheet({ verdict, verdictText: '', lines: [oneLine({ verdict })], checks: [], decisions: [], permits: [] });
      const words = verdict.replace(/-/g, ' ').replace('inside', 'inside the');
      const title = marks.find(({ text, heightPt }) => text === words && heightPt > 20);
      const drawing = marks.filter(({ kind, pageIndex, xPt, yPt }) =>
        (kind === 'area' || kind === 'solid' || kind === 'rule') && pageIndex === 0 && title !== undefined &&
        xPt > title.xPt - 25 && xPt < title.xPt && yPt >= title.yPt && yPt < title.yPt + title.heightPt);
      expect(drawing.length).toBeGreaterThan(0);
      shapes.set(verdict, JSON.stringify(drawing.map(({ kind, xPt, yPt, widthPt, heightPt }) => [kind, xPt, yPt, widthPt, heightPt])));
    }
    expect(new Set(shapes.values()).size).toBe(COIL_VERDICTS.length);
  });

  test('only what is not reported has a broken outline', async () => {
    for (const verdict of COIL_VERDICTS) {
      const { source } = await drawSheet({ verdict, lines: [oneLine({ verdict })] });
      expect([verdict, /\[[\d.]+ [\d.]+\] 0 d\s/.test(source)]).toEqual([verdict, verdict === 'not-reported']);
    }
  });

  test('the drawing stands before the words in both tables and among the fields', async () => {
    const { marks } = await plain;
    const words = marks.filter(({ kind, text, heightPt }) => kind === 'text' && /^(conforms|inside the|not comparable|not reported|does not)/.test(text) && heightPt < 20);
    expect(words).toHaveLength(1 + 4 + 7);
    const unmarked = words.filter((word) => !marks.some(({ kind, pageIndex, xPt, widthPt, yPt, heightPt }) =>
      (kind === 'area' || kind === 'solid') && pageIndex === word.pageIndex && xPt < word.xPt && xPt + widthPt <= word.xPt && word.xPt - xPt < 15 &&
      yPt >= word.yPt && yPt + heightPt <= word.yPt + word.heightPt));
    expect(unmarked).toEqual([]);
  });
});

describe('a sheet of 200 lines', () => {
  const lines = Array.from({ length: 200 }, (_, i) => oneLine({
    characteristic: `ch-${String(i + 1).padStart(3, '0')}`,
    verdict: i % 50 === 0 ? 'not-reported' : 'conforms',
  }));

  test('prints each line once among the values, under a header on each page they reach', async () => {
    const { pages } = await drawSheet({ verdict: 'not-reported', lines });
    const texts = pages.map(squeeze);
    const reached = texts.filter((text) => /ch-\d{3}≤0\.12%/.test(text));
    expect(reached.length).toBeGreaterThan(5);
    expect(pages.length).toBeLessThan(25);
    for (const text of reached) expect(text).toContain('LineCharacteristicLimitsValueVerdictMarginSource;rule');
    const printed = [...texts.join('').matchAll(/(ch-\d{3})≤0\.12%/g)].map(([, name]) => name);
    expect(printed).toEqual(lines.map(({ characteristic }) => characteristic));
    const doubted = [...texts.join('').matchAll(/(ch-\d{3})0\.085%≤0\.12%notreported/g)].map(([, name]) => name);
    expect(doubted).toEqual(['ch-001', 'ch-051', 'ch-101', 'ch-151']);
  });
});

describe('text of any script', () => {
  test('can be read back, and what has no glyph or steers the text is written as its code', async () => {
    const place = ['Η σκληρότητα', 'Твёрдость шва', '溶接部の硬さ', '용접부 경도', '焊缝硬度', 'a\u0e01 \u202egnp'].join('\n');
    const { pages } = await drawSheet({ identity: { ...identity, place } });
    const text = squeeze(pages[0] ?? []);
    for (const part of ['Ησκληρότητα', 'Твёрдостьшва', '溶接部の硬さ', '용접부경도', '焊缝硬度', 'a[U+0E01][U+202E]gnp']) expect(text).toContain(part);
    expect(pages.flat().some((run) => /[\ufffd\p{Cc}]/u.test(run))).toBe(false);
  });
});

describe('the file', () => {
  test('is the same, byte for byte, when printed again, and another when a figure changes', async () => {
    const { bytes } = await plain;
    expect((await drawSheet()).bytes.equals(bytes)).toBe(true);
    expect((await drawSheet({ lines: oneCoilSheet().lines.map((line, i) => (i === 0 ? { ...line, printed: '0.086 %' } : line)) })).bytes.equals(bytes)).toBe(false);
  });

  test('carries a title, a language and its date, but no author and no active link', async () => {
    const { source } = await drawn((options) => coilSheet(oneCoilSheet(), { ...options, paper: 'A4', language: 'el' }));
    expect(source).toContain('(Coil sheet C-014, version 3)');
    expect(source).toContain('/Lang (el)');
    expect(source).toContain('(D:20310405070809Z)');
    expect(source).not.toMatch(/\/Author|\/URI|\/Annots|\/JavaScript/);
  });

  test('is not made from data that contradict themselves', () => {
    expect(() => coilSheet(oneCoilSheet({ fingerprintSha256: 'abc' }), { paper: 'A4' })).toThrow('fingerprintSha256 is not 64 hexadecimal digits');
    expect(() => coilSheet(oneCoilSheet({ verdict: 'conforms' }), { paper: 'A4' })).toThrow('verdict is conforms, but lines[6] does not conform');
  });
});
