import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import { Las } from 'las-js';
import { v7 as uuidv7 } from 'uuid';
import type { PressureIntegrityAnswer, RatedIntervalAnswer, RatingAnswer, WallPressureAnswer } from '../../apps/api/src/pressure-integrity/pressure-integrity.dto.js';
import { startTestApi, type Answer, type TestApi } from '../setup/api.js';
import { readLas, valueOf, type LasFile } from '../fixtures/las-reader.js';
import { atHour, certified, ended, hung, inspected, LAMBDA_ABOVE_TIE, pressureString, SHOE_MD_MM, TIE_FOOTAGE_MM, type PressureString } from './pressure-integrity.factory.js';
import { fieldsRefused } from './line.factory.js';

let api: TestApi;
let made: PressureString;
let papersKnown: string;

beforeAll(async () => {
  api = await startTestApi();
  made = await pressureString(api);
  papersKnown = String((await made.bench.get(`certificate-transcriptions/${made.transcriptionIds.b}`)).body['recordedAt']);
}, 60_000);
afterAll(() => api.close());

const path = (query: string, kind = '', of = made.stringId): string => `/api/casing-strings/${of}/pressure-integrity${kind}${query}`;

async function asked(query = '', of = made.stringId): Promise<Record<'outer' | 'inner', WallPressureAnswer> & { readonly answer: PressureIntegrityAnswer }> {
  const { status, body } = await made.bench.who.send<PressureIntegrityAnswer>('GET', path(query, '', of));
  expect(status).toBe(200);
  const [outer, inner] = body.walls;
  return { outer: outer!, inner: inner!, answer: body };
}

const refused = async (query: string, kind = ''): Promise<Answer> => made.bench.who.send('GET', path(query, kind));

/** The interval of a wall that holds a footage. */
function at({ intervals }: WallPressureAnswer, footageMm: number): RatedIntervalAnswer {
  const found = intervals.filter(({ footage }) => footageMm >= footage.fromMm && footageMm < footage.toMm);
  expect(found).toHaveLength(1);
  return found[0]!;
}

/** API Bull. 5C3 as printed in the check values, written out again here: Y and p in psi, x = D/t. */
const PSI_PER_MPA = 1 / 0.006894757293168361;
function collapseByHand(yieldMpa: number, x: number): { readonly regime: string; readonly mpa: number } {
  const y = yieldMpa * PSI_PER_MPA;
  const a = 2.8762 + 0.10679e-5 * y + 0.21301e-10 * y ** 2 - 0.53132e-16 * y ** 3;
  const b = 0.026233 + 0.50609e-6 * y;
  const c = -465.93 + 0.030867 * y - 0.10483e-7 * y ** 2 + 0.36989e-13 * y ** 3;
  const r = ((3 * b) / a) / (2 + b / a);
  const f = (46.95e6 * r ** 3) / (y * (r - b / a) * (1 - r) ** 2);
  const g = (f * b) / a;
  const xYield = (Math.sqrt((a - 2) ** 2 + 8 * (b + c / y)) + (a - 2)) / (2 * (b + c / y));
  const xPlastic = (y * (a - f)) / (c + y * (b - g));
  const xTransition = (2 + b / a) / ((3 * b) / a);
  const [regime, psi] = x <= xYield ? ['yield', (2 * y * (x - 1)) / x ** 2] as const : x <= xPlastic ? ['plastic', y * (a / x - b) - c] as const
    : x <= xTransition ? ['transition', y * (f / x - g)] as const : ['elastic', 46.95e6 / (x * (x - 1) ** 2)] as const;
  return { regime, mpa: psi / PSI_PER_MPA };
}

function expectRated(row: RatedIntervalAnswer, { yieldMpa, wallMm, diameterMm }: { readonly yieldMpa: number; readonly wallMm: number; readonly diameterMm: number }): void {
  // All of a measured wall counts: p = 2 Y t / D.
  expect(row.internalYield.pressureMpa).toBeCloseTo((2 * yieldMpa * wallMm) / diameterMm, 6);
  const bore = diameterMm - 2 * wallMm;
  expect(row.triaxialInternalYield.pressureMpa).toBeCloseTo((yieldMpa * (diameterMm ** 2 - bore ** 2)) / Math.sqrt(3 * diameterMm ** 4 + bore ** 4), 6);
  const byHand = collapseByHand(yieldMpa, diameterMm / wallMm);
  expect(row.collapse.regime).toBe(byHand.regime);
  expect(row.collapse.pressureMpa).toBeCloseTo(byHand.mpa, 5);
  expect(row.collapse.dOverT).toBeCloseTo(diameterMm / wallMm, 6);
}

describe('ratings of both walls as built', () => {
  test('of the inner wall are those of the pipe as formed, worked by hand', async () => {
    const { inner } = await asked();
    // At 50,200 the channel read 4.70; the head half of coil B has Rp0.2 = 440 by its tensile test, below the 450 of its paper; D = 127.0 as stated.
    // Barlow: 2 · 440 · 4.7 / 127 = 32.566929 MPa.
    const pit = at(inner, 50_200);
    expect(pit.internalYield.pressureMpa).toBeCloseTo(32.566929, 6);
    expectRated(pit, { yieldMpa: 440, wallMm: 4.7, diameterMm: 127 });
    expect(pit).toMatchObject({
      footage: { fromMm: 50_000, toMm: 60_000 }, md: { fromMm: 22_000, toMm: 32_000 }, coil: { id: made.coilIds.b, label: 'LM-B' }, splices: [], folded: null, assumed: ['The outside diameter is the nominal one.'],
      inputs: {
        outsideDiameterMm: { value: '127.0', basis: 'stated for the string', record: { kind: 'casing-string', id: made.stringId } },
        wallThicknessMm: { value: '4.7', unit: 'mm', basis: 'measured minimum', record: { kind: 'channel', id: made.wall }, readAt: { fromMm: 50_200, toMm: 50_201 } },
        yieldMpa: { value: '440', unit: 'MPa', basis: 'tested', what: 'Rp0.2', record: { kind: 'destructive-test', id: made.testIds.head, label: 'B1/1' } }, kappa: null, lambda: null,
      },
      internalYield: { formula: 'p = k · 2 Y t / D', because: null, source: expect.stringContaining('API Bull. 5C3') }, collapse: { formula: 'p = Y (F/x − G)', regime: 'transition' },
    });
    // A measured diameter that is greater than the nominal one counts in its window.
    expectRated(at(inner, 45_000), { yieldMpa: 440, wallMm: 5, diameterMm: 127.4 });
    expect(at(inner, 45_000).inputs.outsideDiameterMm).toMatchObject({ value: '127.4', basis: 'measured', record: { id: made.inspectionIds.diameter }, readAt: { fromMm: 45_000, toMm: 45_010 } });
    // The tail half of coil B: 470 tested, 450 certified; the lower counts, whichever it is.
    expect(at(inner, 68_000).inputs.yieldMpa).toMatchObject({ value: '450', basis: 'certified', what: 'ReH', record: { kind: 'certificate-transcription', id: made.transcriptionIds.b } });
  });

  test('of the outer wall go through the fold, with λ between ties and past them', async () => {
    const { outer } = await asked();
    // Above the tie λ = 19.8/20.2 = 0.98019802: t = 4.6/(1.16 · 0.98019802) = 4.045629 mm, D = 1.16 · (127 − 4.6) + t = 146.029629 mm.
    const pit = at(outer, 10_500);
    const wallMm = 4.6 / (1.16 * LAMBDA_ABOVE_TIE);
    expect(wallMm).toBeCloseTo(4.045629, 6);
    expect(pit.folded).toMatchObject({ wallThicknessMm: expect.closeTo(wallMm, 6), outsideDiameterMm: expect.closeTo(1.16 * 122.4 + wallMm, 6) });
    expectRated(pit, { yieldMpa: 480, wallMm, diameterMm: 1.16 * 122.4 + wallMm });
    // 2 · 480 · 4.0456287 / 146.0296287 = 26.595997 MPa.
    expect(pit.internalYield.pressureMpa).toBeCloseTo(26.595997, 5);
    expect(pit.inputs).toMatchObject({ lambda: { value: '0.980198020', basis: 'between ties', record: { kind: 'shoe-tie', id: made.tieId } }, kappa: { value: '1.16' }, yieldMpa: { value: '480', what: 'Rt0.5' } });
    // Past the tie λ is the string's 1.0 ± 0.01: t = 4.8/1.16; U = 2 t √((0.01/1.16)² + (0.01/1)²).
    const past = at(outer, 35_000);
    const thinMm = 4.8 / 1.16;
    expectRated(past, { yieldMpa: 440, wallMm: thinMm, diameterMm: 1.16 * 122.2 + thinMm });
    expect(past.folded?.wallPlusMinusMm).toBeCloseTo(2 * thinMm * Math.hypot(0.01 / 1.16, 0.01), 6);
    expect(past.folded?.diameterPlusMinusMm).toBeCloseTo(2 * Math.hypot((122.2 - thinMm / 1.16) * 0.01, thinMm * 0.01), 6);
    expect(past.assumed).toEqual(['The outside diameter is the nominal one.', 'λ is the ratio that the string states: no shoe tie lies below.', 'The yield strength is that of the pipe before the fold.']);
    expect(pit.assumed).not.toContain(past.assumed[1]);
  });

  test('are cut where the wall, the coil, the splice, the test unit, λ or the window changes, and cover each wall once', async () => {
    const { outer, inner } = await asked();
    expect(outer.intervals.map(({ footage }) => footage.fromMm)).toEqual([2_000, 10_000, 14_000, 15_000, 20_000, TIE_FOOTAGE_MM, 29_950, 30_000, 30_050, 40_000]);
    expect(inner.intervals.map(({ footage }) => footage.fromMm)).toEqual([80_000, 75_000, 72_010, 72_000, 70_000, 65_000, 60_000, 50_000, 42_200]);
    for (const { intervals } of [outer, inner]) {
      expect([intervals[0]!.md.fromMm, intervals.at(-1)!.md.toMm]).toEqual([0, SHOE_MD_MM]);
      intervals.slice(1).forEach(({ md }, index) => { expect(md.fromMm).toBe(intervals[index]!.md.toMm); });
      for (const { md } of intervals) expect(md.plusMinusMm).toBeGreaterThan(0);
    }
    expect(at(outer, 29_960).splices).toMatchObject([{ kind: 'splice', label: 'S-1' }]);
    expect([at(outer, 29_960).coil?.label, at(outer, 30_010).coil?.label, at(outer, 30_060).splices]).toEqual(['LM-A', 'LM-B', []]);
  });

  test('leave out pipe that no valid reading speaks of, and say why', async () => {
    const { outer, inner } = await asked();
    // Marked as not valid: the 2.00 that was read there counts for nothing.
    const blind = at(outer, 14_500);
    expect([blind.footage, blind.inputs.wallThicknessMm, blind.folded]).toEqual([{ fromMm: 14_000, toMm: 15_000 }, null, null]);
    for (const rating of [blind.internalYield, blind.triaxialInternalYield, blind.collapse]) {
      expect(rating).toMatchObject({ pressureMpa: null, tablePsi: null, because: 'not computable for the outer wall, because no validly read wall thickness is on record for this pipe' });
    }
    // Nothing was sent of 70 to 75 m, and 10 mm of it were read by hand; that reading stands for the measured pipe of its window.
    expect(at(inner, 71_000).collapse.because).toContain('for the inner wall, because no validly read wall thickness');
    expect(at(inner, 72_005).inputs.wallThicknessMm).toMatchObject({ value: '4.55', record: { kind: 'inspection', id: made.inspectionIds.wall }, readAt: { fromMm: 72_000, toMm: 72_010 } });
    expect(at(inner, 76_000).inputs.wallThicknessMm?.value).toBe('4.55');
  });

  test('name the weakest of each wall and kind, and the records it rests on', async () => {
    const { outer, inner } = await asked();
    const lowest = ({ intervals }: WallPressureAnswer, of: (row: RatedIntervalAnswer) => RatingAnswer): number => Math.min(...intervals.flatMap((row) => of(row).pressureMpa ?? []));
    for (const wall of [outer, inner]) {
      expect(wall.weakest.internalYield.pressureMpa).toBe(lowest(wall, (row) => row.internalYield));
      expect(wall.weakest.triaxialInternalYield.pressureMpa).toBe(lowest(wall, (row) => row.triaxialInternalYield));
      expect(wall.weakest.collapse.pressureMpa).toBe(lowest(wall, (row) => row.collapse));
    }
    // Of the outer wall, internal yield is weakest where the steel is, and collapse where the wall is.
    expect(outer.weakest.internalYield.where).toMatchObject([{ footage: { fromMm: 30_050, toMm: 40_000 } }]);
    expect(outer.weakest.collapse).toMatchObject({
      where: [{ footage: { fromMm: 10_000, toMm: 14_000 } }, { footage: { fromMm: 15_000, toMm: 20_000 } }], unratedMm: 1_000, words: expect.stringContaining('1000 mm are not rated and may be weaker'),
    });
    expect(outer.weakest.collapse.restsOn.map(({ input, value, record, readAt }) => [input, value, record?.id, readAt?.fromMm])).toEqual([
      ['outside diameter', '127.0', made.stringId, undefined], ['wall thickness', '4.6', made.wall, 10_500], ['yield strength', '480', made.transcriptionIds.a, undefined],
      ['κ (diameter ratio)', '1.16', made.stringId, undefined], ['λ (length ratio)', '0.980198020', made.tieId, undefined],
    ]);
  });

  test('carry every caution, the rules by which inputs were chosen, and no percentage', async () => {
    const { outer, inner, answer } = await asked();
    for (const part of ['Computed ratings are advisory. The responsible engineer decides.', 'round, uniform, unfolded pipe', 'walls\' ratings do not simply add', 'Depth is an estimate', 'Sour service, temperature and cyclic load']) {
      expect(answer.cautions.join(' ')).toContain(part);
    }
    expect(outer.cautions.join(' ')).toContain('The fold strains the wall');
    expect(inner.cautions.join(' ')).not.toContain('The fold strains the wall');
    expect(answer.rules.join(' ')).toContain('uncertainty of a measured wall or diameter is not taken off');
    expect(JSON.stringify(answer)).not.toContain('%');
  });

  test('explain each step where that is asked', async () => {
    const { outer } = await asked('?fromM=8&toM=9&explain=true');
    const [row] = outer.intervals;
    expect(row?.collapse.explanation?.map(({ what }) => what)).toEqual([
      'wall after the fold', 'mean diameter after the fold', 'outside diameter after the fold', 'slenderness', 'regime of collapse', 'collapse pressure, Y and p in psi', 'collapse pressure', 'as a table of ratings would print it',
    ]);
    expect((await asked('?fromM=8&toM=9')).outer.intervals[0]?.collapse.explanation).toBeNull();
  });
});

describe('what is asked of them', () => {
  test('by depth, by footage, and at an earlier shoe', async () => {
    const byDepth = await asked('?fromM=30&toM=45');
    expect(byDepth.outer.intervals.map(({ md: { fromMm, toMm } }) => [fromMm, toMm])).toEqual([[30_000, 37_600], [37_600, 39_800]]);
    expect(byDepth.inner.intervals.map(({ footage: { fromMm, toMm } }) => [fromMm, toMm])).toEqual([[50_000, 52_000], [42_200, 50_000]]);
    expect(byDepth.outer.beyond).toEqual([{ md: { fromMm: 39_800, toMm: 45_000 }, why: 'below-the-shoe' }]);
    const byFootage = await asked('?by=footage&fromM=41&toM=44');
    expect([byFootage.outer.intervals, byFootage.inner.intervals].map((all) => all.map(({ footage: { fromMm, toMm } }) => [fromMm, toMm]))).toEqual([[[41_000, 42_200]], [[42_200, 44_000]]]);
    // With the shoe at the tie, 19.8 m, all pipe from 22.2 m on is inner wall.
    const early = await asked('?shoeMdM=19.8');
    expect([early.outer.intervals.at(-1)?.footage.toMm, early.inner.intervals.at(-1)?.footage.fromMm]).toEqual([22_200, 22_200]);
  });

  test('shorter windows leave a pit to its own pipe; the answer says how long they are', async () => {
    const { outer, answer } = await asked('?windowM=1');
    expect(answer.asked.windowMm).toBe(1_000);
    expect(at(outer, 10_500)).toMatchObject({ footage: { fromMm: 10_000, toMm: 11_000 }, inputs: { wallThicknessMm: { value: '4.6' } } });
    expect(at(outer, 12_000).inputs.wallThicknessMm?.value).toBe('5');
  });

  test('as known before the tensile tests, the papers count', async () => {
    const { inner, answer } = await asked(`?shoeMdM=39.8&asKnownAt=${encodeURIComponent(papersKnown)}`);
    expect(answer.knownAt).toBe(papersKnown);
    expect(at(inner, 50_200).inputs.yieldMpa).toMatchObject({ value: '450', basis: 'certified' });
    expect(at(inner, 50_200).collapse.because).toContain('no validly read wall thickness');
  });

  test.each([
    ['?fromM=5', '', ['toM']], ['?toM=5', '', ['fromM']], ['?fromM=5&toM=5', '', ['toM']], ['?by=tvd', '', ['by']], ['?windowM=0.05', '', ['windowM']], ['?windowM=2000', '', ['windowM']],
    ['?at=2026-03-02T12:00:00Z&shoeMdM=10', '', ['shoeMdM']], ['?colour=red', '', ['colour']], ['', '.las', ['wall']], ['?wall=middle', '.las', ['wall']], ['?paper=A5', '.pdf', ['paper']], ['?explain=true', '.csv', ['explain']],
    ['?by=footage&fromM=-1&toM=5&asKnownAt=yesterday', '.svg', ['fromM', 'asKnownAt']],
  ])('%s of pressure-integrity%s is refused field by field', async (query, kind, fields) => {
    const answer = await refused(query, kind);
    expect([answer.status, fieldsRefused(answer)]).toEqual([400, fields]);
  });

  test('of a string without a hang-off, or without readings, is refused with the reason', async () => {
    const bare = await made.bench.string();
    expect(await made.bench.who.send('GET', path('', '', bare))).toMatchObject({ status: 422, body: { detail: expect.stringContaining('no counter reading') } });
    expect((await made.bench.who.send('GET', path('', '', uuidv7()))).status).toBe(404);
  });

  test('in more windows than one answer tells is refused, with the window that would do', async () => {
    const long = await made.bench.string({ lengthRatio: '1.0', lengthRatioU: '0.01' });
    await hung(made.bench, long);
    await ended(made.bench, long, '1100000');
    // D = (1100000 − 2000 − 18000)/2 = 540 m: 5,400 windows of 0.1 m, and 5,000 of 0.108 m.
    const answer = await made.bench.who.send('GET', path('?windowM=0.1', '', long));
    expect(answer).toMatchObject({ status: 422, body: { errors: [{ field: 'windowM', value: 0.1, limit: expect.stringContaining('at least 0.108 m for 540 m of wall') }] } });
    expect((await made.bench.who.send('GET', path('?windowM=0.108', '', long))).status).toBe(200);
  });

  test('nothing of a wall there: an empty list, no curve, and no drawing', async () => {
    const { outer, inner } = await asked('?fromM=50&toM=60');
    expect([outer.intervals, inner.intervals, outer.weakest.collapse.pressureMpa]).toEqual([[], [], null]);
    expect(await refused('?fromM=50&toM=60&wall=outer', '.las')).toMatchObject({ status: 422, body: { detail: expect.stringContaining('no curve to write') } });
    expect((await refused('?fromM=50&toM=60', '.svg')).status).toBe(422);
  });
});

describe('each missing input says so by itself', () => {
  let other: string;
  let rows: Awaited<ReturnType<typeof asked>>;

  beforeAll(async () => {
    const { bench } = made;
    other = await bench.string({ lengthRatio: '1.0', lengthRatioU: '0.01' });
    await hung(bench, other);
    const certificate = (number: string): Promise<string> => bench.made('certificates', { number, issuer: 'Tarnwick Steelworks', documentType: '3.1', issuedOn: '2026-01-22' });
    const [doubtful, weak] = [await certificate('TS-C'), await certificate('TS-D')];
    const coils = [await bench.coil({ number: 'LM-N' }), await bench.coil({ number: 'LM-C', certificateId: doubtful }), await bench.coil({ number: 'LM-D', certificateId: weak })];
    for (const [index, coilId] of coils.entries()) {
      await bench.made('coil-segments', { stringId: other, coilId, from: { footageMm: 10_000 * index }, to: { footageMm: 10_000 * (index + 1) }, stripFromMm: 0, stripToMm: 10_000, runs: 'head-first' });
    }
    await certified(bench, 'LM-C', doubtful, [{ characteristic: 'ReH', printed: '461', unit: 'MPa' }]);
    const second = await api.signIn('materials-engineer');
    const keyedAgain = { id: uuidv7(), observedAt: atHour('08:00'), certificateId: doubtful, keying: 2, lines: [{ coilNumber: 'LM-C', heatNumber: 'H40711', values: [{ characteristic: 'ReH', printed: '416', unit: 'MPa' }] }] };
    expect(await second.send('POST', '/api/certificate-transcriptions', { body: keyedAgain })).toMatchObject({ status: 201 });
    await certified(bench, 'LM-D', weak, [{ characteristic: 'ReH', printed: '235', unit: 'MPa' }]);
    await inspected(bench, other, [[0, 60_000]], (mm) => (mm === 25_500 ? 3 : 5), { saturatesAt: { high: null, low: '3' } });
    await bench.made('channels', { stringId: other, name: 'wall-2', measures: 'wall-thickness', unit: 'counts', zone: 'body', sampling: { per: 'length', everyMm: '1' }, required: false, repeats: 'best' });
    const repair = (fromMm: number, remainingWallMm: string | null): Promise<string> => bench.made('repairs', {
      stringId: other, observedAt: atHour('10:00'), from: { footageMm: fromMm }, to: { footageMm: fromMm + 500 }, method: 'grinding', found: 'Scratch', depthRemovedMm: '0.35', remainingWallMm, readings: [], chosen: [], photoSha256s: [],
    });
    await repair(26_000, null);
    await repair(27_000, '4.62');
    await ended(bench, other, '70000');
    rows = await asked('?windowM=0.5', other);
  }, 60_000);

  const because = (wall: 'outer' | 'inner', footageMm: number, of: 'internalYield' | 'collapse' = 'collapse'): string | null => at(rows[wall], footageMm)[of].because;

  test('κ: the outer wall, and it alone', () => {
    expect(because('outer', 22_000)).toBe('not computable for the outer wall, because no κ (diameter ratio) is on record for the string');
    expect(at(rows.outer, 22_000)).toMatchObject({ folded: null, inputs: { wallThicknessMm: { value: '5' }, yieldMpa: { value: '235' } } });
  });

  test('yield strength: none on record, in doubt, and no coil', () => {
    expect(because('outer', 5_000)).toBe('not computable for the outer wall, because no yield strength of coil LM-N is on record, and no tensile test stands for this pipe; and no κ (diameter ratio) is on record for the string');
    expect(because('outer', 15_000)).toContain('because ReH of coil LM-C is in doubt: the two keyings differ: 461 MPa against 416 MPa, and no tensile test stands for this pipe');
    // n_h = 2000, x = 18000, F = 70000: D = (70000 − 2000 − 18000)/2 = 25000, and pipe from 27,000 to 52,000 is inner wall.
    expect(because('inner', 45_000)).toBe('not computable for the inner wall, because no coil, and so no yield strength, is on record for this pipe');
  });

  test('a yield strength for which the collapse constants are not checked leaves internal yield', () => {
    const row = at(rows.inner, 28_000);
    expect(row.internalYield.pressureMpa).toBeCloseTo((2 * 235 * 5) / 127, 6);
    expect(row.collapse.because).toBe('not computable for the inner wall, because a yield strength of 235 MPa is outside 275.8 to 1034.2 MPa (40000 to 150000 psi), for which the collapse constants are checked');
  });

  test('wall: below what the channel can show, repaired since it was read, and read again after the repair', () => {
    expect(because('outer', 25_500)).toContain('because channel wall-1 read a wall below the least that it can show');
    expect(because('outer', 26_100)).toContain('because this pipe was repaired, and no wall thickness was read on it since');
    expect(at(rows.inner, 27_100).inputs.wallThicknessMm).toMatchObject({ value: '4.62', what: 'wall left by a repair', record: { kind: 'repair' } });
    expect(rows.answer.rules.join(' ')).toContain('Channel wall-2 measures the wall in "counts", which is no unit of length known here: it counts for nothing.');
  });

  test('and what nothing could be rated of has no weakest', () => {
    expect(rows.outer.weakest.collapse).toMatchObject({ pressureMpa: null, where: [], restsOn: [], words: 'collapse of the outer wall: nothing could be rated' });
  });
});

describe('the least readings of a channel', () => {
  const NOTCHES: Readonly<Record<number, number>> = { 29_999: 3.1, 30_000: 3.2, 44_999: 3.3, 45_000: 3.4, 12_345: 3.5 };
  const wallAt = (mm: number): number => Math.fround(NOTCHES[mm] ?? 5 + Math.sin(mm / 3_000) / 10 + (mm % 13) / 1_000);
  const CELL_MM = 256;

  test('are those of the samples: to the millimetre at coils and gaps, and never higher than in the window elsewhere', async () => {
    const { bench } = made;
    const other = await bench.string({ lengthRatio: '1.0', lengthRatioU: '0.01', diameterRatio: '1.16' });
    await hung(bench, other);
    const coilIds = [await bench.coil(), await bench.coil()];
    for (const [index, coilId] of coilIds.entries()) {
      await bench.made('coil-segments', { stringId: other, coilId, from: { footageMm: index === 0 ? 0 : 30_000 }, to: { footageMm: index === 0 ? 30_000 : 90_000 }, stripFromMm: 0, stripToMm: index === 0 ? 30_000 : 60_000, runs: 'head-first' });
    }
    const { runId, wall } = await inspected(bench, other, [[0, 90_000]], wallAt, { sampling: { per: 'length', everyMm: '1' } }, 1);
    await bench.made('signal-marks', { stringId: other, runId, channelIds: [wall], effect: 'not-valid', cause: 'review', note: null, from: { footageMm: 44_000 }, to: { footageMm: 45_000 } });
    await ended(bench, other, '100000');
    // n_h = 2000, x = 18000: D = 40000, the shoe at footage 42,000.
    const { outer, inner } = await asked('?windowM=0.7', other);
    const read = [...outer.intervals, ...inner.intervals].filter(({ inputs }) => inputs.wallThicknessMm !== null);
    const least = (fromMm: number, toMm: number): number => Math.min(...Array.from({ length: Math.max(0, toMm - fromMm) }, (_, index) => fromMm + index).map(wallAt));
    let blunt = 0;
    for (const { footage: { fromMm, toMm }, inputs: { wallThicknessMm } } of read) {
      const found = Math.fround(Number(wallThicknessMm!.value));
      const isValid = (mm: number): boolean => (mm < 44_000 || mm >= 45_000) && mm < 90_000;
      const within = (mm: number, end: number): number => (mm < 30_000 ? Math.min(end, 30_000) : mm < 44_000 ? Math.min(end, 44_000) : end);
      const reach = [Math.max(fromMm - CELL_MM, fromMm >= 45_000 ? 45_000 : fromMm >= 42_000 ? 42_000 : fromMm >= 30_000 ? 30_000 : 2_000), within(fromMm, toMm + CELL_MM)] as const;
      expect([fromMm, isValid(fromMm)]).toEqual([fromMm, true]);
      expect(found).toBeLessThanOrEqual(least(fromMm, toMm));
      expect(found).toBeGreaterThanOrEqual(least(...reach));
      if (found !== least(fromMm, toMm)) blunt += 1;
      // The footage that is told holds a sample of that value.
      const { readAt } = wallThicknessMm!;
      expect(Array.from({ length: readAt!.toMm - readAt!.fromMm }, (_, index) => wallAt(readAt!.fromMm + index))).toContain(found);
    }
    expect(read.length).toBeGreaterThan(100);
    // A window of 700 samples mostly shares a summary of 256 with each neighbour.
    expect(blunt).toBeLessThan(read.length);
    // Beside the coil's end and the mark: 3.1 belongs to the one coil, 3.2 to the other, 3.3 to nothing, 3.4 behind the mark.
    const told = (wallAnswer: WallPressureAnswer, mm: number): string | undefined => at(wallAnswer, mm).inputs.wallThicknessMm?.value;
    expect([told(outer, 29_999), told(outer, 30_000), told(inner, 44_999), told(inner, 45_000), told(outer, 12_345)]).toEqual(['3.1', '3.2', undefined, '3.4', '3.5']);
  }, 60_000);
});

describe('exports', () => {
  test('as CSV, read back by a general reader: every interval of both walls, and why where nothing is rated', async () => {
    const answer = await made.bench.who.send<string>('GET', path('', '.csv'));
    expect([answer.status, answer.headers['content-type'], answer.headers['content-disposition']]).toEqual([200, 'text/csv', 'attachment; filename="pressure-integrity.csv"']);
    const lines = parse<Record<string, string>>(answer.body, { columns: true });
    const { outer, inner } = await asked();
    const rows = [...outer.intervals.map((row) => ['outer', row] as const), ...inner.intervals.map((row) => ['inner', row] as const)];
    expect(lines).toHaveLength(rows.length);
    rows.forEach(([wall, row], index) => {
      const line = lines[index]!;
      expect([line['wall'], line['md_from_m'], line['footage_to_m'], line['coil'], line['yield_mpa'], line['pipe_least_wall_mm']]).toEqual([
        wall, (row.md.fromMm / 1000).toFixed(3), (row.footage.toMm / 1000).toFixed(3), row.coil?.label, row.inputs.yieldMpa?.value, row.inputs.wallThicknessMm?.value ?? '',
      ]);
      expect([line['collapse_mpa'], line['internal_yield_barlow_mpa']]).toEqual([row.collapse, row.internalYield].map(({ pressureMpa }) => pressureMpa?.toFixed(3) ?? ''));
      expect([line['collapse_because'], line['collapse_regime']]).toEqual([row.collapse.because ?? '', row.collapse.regime ?? '']);
      expect(line['cautions']).toContain('Computed ratings are advisory. The responsible engineer decides.');
    });
    expect(lines[0]?.['yield_mpa_record']).toContain(made.transcriptionIds.a);
  });

  const lasOf = async (wall: 'outer' | 'inner', query = ''): Promise<{ readonly text: string; readonly file: LasFile }> => {
    const answer = await made.bench.who.send<string>('GET', path(`?wall=${wall}${query}`, '.las'));
    expect([answer.status, answer.headers['content-disposition']]).toEqual([200, `attachment; filename="pressure-integrity-${wall}.las"`]);
    return { text: answer.body, file: readLas(answer.body) };
  };

  test.each(['outer', 'inner'] as const)('the %s wall as LAS 2.0, read back by a strict reader and by one from the registry', async (wall) => {
    const { text, file } = await lasOf(wall);
    expect([valueOf(file.well, 'NULL'), valueOf(file.well, 'WELL'), valueOf(file.parameters, 'WALLSIDE'), valueOf(file.parameters, 'DATUM')]).toEqual(['-999.25', 'Lindmoor Geothermal 2', wall, 'Top of the guide frame']);
    expect(valueOf(file.parameters, 'KNOWNAT')).toMatch(/^\d{4}-\d\d-\d\dT.*Z$/);
    expect(file.other.join(' ')).toContain('Computed ratings are advisory. The responsible engineer decides.');
    expect(file.other.join(' ')).toContain(`Null where not computable for the ${wall} wall, because no validly read wall thickness is on record for this pipe.`);
    const { [wall]: answer } = await asked();
    const expected = answer.intervals.flatMap(({ md, internalYield, triaxialInternalYield, collapse, inputs, folded }) => {
      const figures = [internalYield, triaxialInternalYield, collapse].map(({ pressureMpa }) => pressureMpa);
      const sizes = wall === 'outer' ? [folded?.wallThicknessMm, folded?.outsideDiameterMm] : inputs.wallThicknessMm === null ? [undefined, Number(inputs.outsideDiameterMm?.value)] : [inputs.wallThicknessMm, inputs.outsideDiameterMm].map((one) => Number(one?.value));
      return [md.fromMm, md.toMm - 1].map((mm) => [mm / 1000, ...[...figures, ...sizes, Number(inputs.yieldMpa?.value)].map((value) => (value == null ? -999.25 : Math.round(value * 1000) / 1000))]);
    });
    expect(file.rows.map((row) => row.slice(0, 7).map(Number))).toEqual(expected);
    const las = new Las(text, { loadFile: false });
    expect(await las.header()).toEqual(['DEPT', 'PYBAR', 'PYTRI', 'PCOLL', 'WALL', 'OD', 'YIELD', 'FOOT']);
    expect((await las.data()).map((row) => row.slice(0, 7).map(Number))).toEqual(expected);
    expect((await las.column('FOOT')).map(Number).slice(0, 2)).toEqual(wall === 'outer' ? [2, 10] : [82, 80]);
  });

  test('of one millimetre is one row', async () => {
    const { file } = await lasOf('outer', '&fromM=5&toM=5.001');
    expect(file.rows.map(([depth]) => depth)).toEqual(['5.000']);
  });

  test('drawn as SVG and on paper, with cautions and the instant', async () => {
    const svg = await made.bench.who.send<string>('GET', path('', '.svg'));
    expect(svg).toMatchObject({ status: 200, headers: { 'content-type': 'image/svg+xml' } });
    for (const part of ['As-built pressure integrity, advisory', 'As known at', 'weakest known', '(1) 11.762 to 12.743 m: not computable for the outer wall', 'Computed ratings are advisory.', 'λ is assumed']) expect(svg.body).toContain(part);
    for (const paper of ['A4', 'Letter']) {
      const pdf = await made.bench.who.send<string>('GET', path(`?paper=${paper}`, '.pdf'));
      expect([pdf.status, pdf.headers['content-type'], pdf.body.slice(0, 5)]).toEqual([200, 'application/pdf', '%PDF-']);
    }
  });
});
