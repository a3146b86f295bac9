import { describe, expect, jest, test } from '@jest/globals';
import { PT_PER_MM } from './canvas.js';
import { COIL_TAG_STATES, type CoilTagData, type CoilTagState } from './coil-data.js';
import { COIL_LINK, oneCoilTag } from './coil-papers.factory.js';
import { coilTag } from './coil-tag.js';
import { collisions, drawn, type DrawnReport, marksOutside, squeeze } from './drawn-report.reference.js';
import { boundsOf, modulesOf, readQrCode } from './qr-code.reference.js';

// These tests draw many papers, and the cores are shared with other suites.
jest.setTimeout(30_000);

const drawTag = (overrides: Partial<CoilTagData> = {}): Promise<DrawnReport> => drawn((options) => coilTag(oneCoilTag(overrides), options));
/** Height of a capital in the bold face, in parts of its size: 1493 of 2048 units of DejaVu Sans Bold. */
const CAPITAL = 1493 / 2048;
/** Type size of the text that starts so, from its line height of 1.4, or 1.1 for the state. */
const capitalMm = ({ marks }: DrawnReport, start: string, leading = 1.4): number => {
  const mark = marks.find(({ text }) => text.startsWith(start));
  return ((mark?.heightPt ?? 0) / leading) * CAPITAL / PT_PER_MM;
};
const longest = 'https://records.example/'.padEnd(151, 'x');
const crowded: Partial<CoilTagData> = {
  number: 'C-2031-0417-A/03-0099-слиток-焊缝'.padEnd(60, 'W'),
  heat: 'W'.repeat(60),
  grade: 'W'.repeat(200),
  size: '५'.repeat(200),
  mass: 'long words and more '.repeat(20),
  length: 'نص طويل جدا '.repeat(30),
  order: 'W'.repeat(200),
  specification: 'specification '.repeat(40),
  link: longest,
  version: 123456,
};
const plain = drawTag();
const inState = new Map(COIL_TAG_STATES.map((state) => [state, drawTag({ state })]));
const ofState = async (state: CoilTagState): Promise<DrawnReport> => (await inState.get(state))!;

describe('a coil tag', () => {
  test('is one page of 148 by 105 mm', async () => {
    const { source, pages } = await plain;
    expect(pages).toHaveLength(1);
    const [widthPt = 0, heightPt = 0] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(source)?.slice(1).map(Number) ?? [];
    expect(widthPt / PT_PER_MM).toBeCloseTo(148, 1);
    expect(heightPt / PT_PER_MM).toBeCloseTo(105, 1);
  });

  test('prints every field', async () => {
    const { pages } = await plain;
    const text = squeeze(pages[0] ?? []);
    for (const part of [
      'C-014', 'HOLD', 'Heat H40711', 'Size 383.0 × 5.00 mm', 'Grade S420MC', 'Mass 5,330 kg', 'Length 354.2 m ± 3.5 m', 'Order PO-0231 line 4',
      'Spec. Strip specification 12, revision 3', COIL_LINK, 'State since 2031-04-02 10:11:12.123456 UTC', 'Version 3, printed 2031-04-05 07:08:09 UTC',
    ]) {
      expect(text).toContain(part.replace(/\s/g, ''));
    }
  });

  test('says when its state was signed on other knowledge than there is now', async () => {
    const said = squeeze((await drawTag({ isKnownOtherwise: true })).pages[0] ?? []);
    expect(said).toContain('KNOWNOTHERWISESINCE:LOOKITUP.');
    expect(squeeze((await plain).pages[0] ?? [])).not.toContain('KNOWNOTHERWISE');
  });

  test('says what is not known', async () => {
    const { pages } = await drawTag({ length: null, order: ' ', specification: null, stateSince: null });
    const text = squeeze(pages[0] ?? []);
    expect(text.split('nonerecorded')).toHaveLength(5);
    expect(text).toContain('Statesince:nonerecorded');
  });

  test('keeps everything within the margins and no text on another, in any state and however crowded', async () => {
    for (const { marks } of [...(await Promise.all(COIL_TAG_STATES.map(ofState))), await drawTag(crowded)]) {
      expect(marks.length).toBeGreaterThan(500);
      expect(marksOutside(marks, 'label')).toEqual([]);
      expect(collisions(marks)).toEqual([]);
    }
  });

  test('prints long numbers in full, cuts other long texts visibly, and refuses numbers beyond all room', async () => {
    const { pages } = await drawTag(crowded);
    const text = squeeze(pages[0] ?? []);
    expect(text).toContain(crowded.number);
    expect(text).toContain(crowded.heat);
    expect(text).toContain(longest);
    expect(text.split('…')).toHaveLength(7);
    expect(() => coilTag(oneCoilTag({ number: 'C'.repeat(300) }))).toThrow('number is too long for a tag');
    expect(() => coilTag(oneCoilTag({ heat: 'H'.repeat(300) }))).toThrow('heat is too long for a tag');
  });

  test('can be read from two metres: number, state and heat in capitals of at least 5 mm', async () => {
    const report = await drawTag({ number: '26-0417-A/03-11', heat: '40711-B-2231' });
    expect(capitalMm(report, '26-')).toBeGreaterThan(8);
    expect(capitalMm(report, '40711')).toBeGreaterThan(5);
    expect(capitalMm(report, '383.0')).toBeGreaterThan(4);
    const firstWord: Record<CoilTagState, string> = {
      HOLD: 'HOLD', ACCEPTED: 'ACCEPTED', 'ACCEPTED UNDER CONCESSION': 'ACCEPTED', REJECTED: 'REJECTED', RETURN: 'RETURN', 'NOT DECIDED': 'NOT',
    };
    for (const state of COIL_TAG_STATES) expect(capitalMm(await ofState(state), firstWord[state], 1.1)).toBeGreaterThan(5);
  });
});

describe('the state on a tag', () => {
  /** Kinds and places of everything but text and code. */
  const shapeOf = ({ marks }: DrawnReport): string =>
    JSON.stringify(marks.filter(({ kind }) => kind !== 'text' && kind !== 'module').map(({ kind, xPt, yPt, widthPt, heightPt }) => [kind, xPt, yPt, widthPt, heightPt]));

  test('is written in words, and each has a shape of its own', async () => {
    const shapes = new Set<string>();
    for (const state of COIL_TAG_STATES) {
      const report = await ofState(state);
      expect(squeeze(report.pages[0] ?? [])).toContain(state.replace(/\s/g, ''));
      shapes.add(shapeOf(report));
    }
    expect(shapes.size).toBe(COIL_TAG_STATES.length);
  });

  test('only what is not decided has a broken frame', async () => {
    for (const state of COIL_TAG_STATES) {
      const { source } = await ofState(state);
      expect([state, /\[[\d.]+ [\d.]+\] 0 d\s/.test(source)]).toEqual([state, state === 'NOT DECIDED']);
    }
  });

  test('uses black, white and greys only', async () => {
    for (const state of COIL_TAG_STATES) {
      const { source } = await ofState(state);
      const colours = [...source.matchAll(/([\d.]+) ([\d.]+) ([\d.]+) (?:scn|SCN)/g)].map(([, ...parts]) => parts);
      expect(colours.length).toBeGreaterThan(5);
      expect(colours.filter(([red, green, blue]) => red !== green || green !== blue)).toEqual([]);
    }
  });

  test('rejected is white on solid black', async () => {
    const { source, marks } = await ofState('REJECTED');
    const [ink] = /1 1 1 scn[^]*?ET/.exec(source) ?? [];
    expect(ink).toContain('BT');
    expect(marks.filter(({ kind }) => kind === 'solid')).toHaveLength(1);
  });
});

describe('the code on a tag', () => {
  test.each([COIL_LINK, longest])('leads to the coil, in modules of at least 0.8 mm: %s', async (link) => {
    const { marks } = await drawTag({ link });
    expect(readQrCode(marks)).toBe(link);
    for (const { widthPt, heightPt } of modulesOf(marks)) {
      expect(widthPt / PT_PER_MM).toBeGreaterThanOrEqual(0.8 - 1e-9);
      expect(heightPt).toBe(widthPt);
    }
  });

  test.each([['plain', {}], ['crowded', crowded]])('has nothing in its quiet zone: %s', async (_what, overrides) => {
    const { marks } = await drawTag(overrides);
    const { xPt, yPt, widthPt, heightPt } = boundsOf(modulesOf(marks));
    const quietPt = 4 * modulesOf(marks)[0]!.widthPt - 0.01;
    const near = marks.filter((mark) =>
      mark.kind !== 'module' &&
      mark.xPt < xPt + widthPt + quietPt && mark.xPt + mark.widthPt > xPt - quietPt &&
      mark.yPt < yPt + heightPt + quietPt && mark.yPt + mark.heightPt > yPt - quietPt);
    expect(near).toEqual([]);
  });
});

describe('the file', () => {
  test('is the same, byte for byte, when drawn again, and another when the coil is', async () => {
    const { bytes } = await plain;
    expect((await drawTag()).bytes.equals(bytes)).toBe(true);
    expect((await drawTag({ state: 'ACCEPTED' })).bytes.equals(bytes)).toBe(false);
    expect((await drawTag({ link: `${COIL_LINK}8` })).bytes.equals(bytes)).toBe(false);
  });

  test('carries a title and its date, but no author and no active link', async () => {
    const { source } = await plain;
    expect(source).toContain('(Coil tag C-014, version 3)');
    expect(source).toContain('(D:20310405070809Z)');
    expect(source).not.toMatch(/\/Author|\/URI|\/Annots|\/JavaScript/);
  });
});
