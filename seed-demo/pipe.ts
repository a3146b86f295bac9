import { SPLICE_STATION, STATIONS } from './line.js';
import { CUTS, readingOf, RESET, RUNS, timeOf } from './runs.js';
import { entered, later, type Fields, type Step } from './step.js';

/** Pipe of one coil between two true footages at the weld point, with the strip it took and what was cropped. */
export interface Segment {
  readonly coil: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly stripFromMm: number;
  readonly stripToMm: number;
  readonly runs: 'head-first' | 'tail-first';
  readonly note?: string;
}

export const SEGMENTS: readonly Segment[] = [
  { coil: 'LM-01', fromMm: 0, toMm: 92_400, stripFromMm: 119_500, stripToMm: 211_789, runs: 'head-first', note: 'Rest from Lindmoor 1.' },
  { coil: 'LM-02', fromMm: 92_400, toMm: 216_500, stripFromMm: 600, stripToMm: 124_551, runs: 'head-first' },
  { coil: 'LM-03', fromMm: 216_500, toMm: 368_900, stripFromMm: 600, stripToMm: 152_817, runs: 'head-first' },
  { coil: 'LM-04', fromMm: 368_900, toMm: 536_700, stripFromMm: 650, stripToMm: 168_249, runs: 'tail-first', note: 'Coiled the other way round by the slitter.' },
  { coil: 'LM-05', fromMm: 536_700, toMm: 610_642, stripFromMm: 600, stripToMm: 74_453, runs: 'head-first', note: 'To where the counter was reset.' },
  { coil: 'LM-05', fromMm: 610_642, toMm: 668_200, stripFromMm: 74_453, stripToMm: 131_943, runs: 'head-first', note: 'From where the counter was reset.' },
  { coil: 'LM-06', fromMm: 668_200, toMm: 823_600, stripFromMm: 600, stripToMm: 155_814, runs: 'head-first' },
  { coil: 'LM-07', fromMm: 823_600, toMm: 1_008_900, stripFromMm: 700, stripToMm: 185_778, runs: 'head-first' },
  { coil: 'LM-08', fromMm: 1_008_900, toMm: 1_159_700, stripFromMm: 600, stripToMm: 151_219, runs: 'head-first' },
  { coil: 'LM-09', fromMm: 1_159_700, toMm: 1_231_847, stripFromMm: 600, stripToMm: 72_661, runs: 'head-first', note: 'The rest stays on the uncoiler.' },
];

/** Coil, strip cropped, strip left over: filled in when its last strip had passed the weld point. */
const RUN_OUT: readonly (readonly [string, number, number])[] = [
  ['LM-01', 3_911, 0], ['LM-02', 1_299, 0], ['LM-03', 1_323, 0], ['LM-04', 1_301, 0], ['LM-05', 677, 0],
  ['LM-06', 1_286, 0], ['LM-07', 1_322, 0], ['LM-08', 1_281, 0], ['LM-09', 600, 70_539],
];

interface Splice {
  readonly number: string;
  readonly leaving: string;
  readonly entering: string;
  readonly weldMm: number;
  readonly verdict: 'accepted' | 'in-doubt' | 'open';
  readonly doubt?: string;
  readonly note?: string;
}

const SPLICES: readonly Splice[] = [
  { number: 'S-1', leaving: 'LM-01', entering: 'LM-02', weldMm: 92_400, verdict: 'accepted' },
  { number: 'S-2', leaving: 'LM-02', entering: 'LM-03', weldMm: 216_500, verdict: 'accepted', note: 'Planished on both sides.' },
  { number: 'S-3', leaving: 'LM-03', entering: 'LM-04', weldMm: 368_900, verdict: 'open' },
  { number: 'S-4', leaving: 'LM-04', entering: 'LM-05', weldMm: 536_700, verdict: 'accepted' },
  {
    number: 'S-5', leaving: 'LM-05', entering: 'LM-06', weldMm: 668_200, verdict: 'in-doubt',
    doubt: 'Hardness of the heat-affected zone was read with a block whose certificate had run out.',
  },
  { number: 'S-6', leaving: 'LM-06', entering: 'LM-07', weldMm: 823_600, verdict: 'accepted' },
  { number: 'S-8', leaving: 'LM-08', entering: 'LM-09', weldMm: 1_159_700, verdict: 'accepted' },
];

const STRING = { stringId: '@string 2' };

/** Seen at the weld point while the line ran; where it stood, the reading is as good as the counter. */
const seen = (weldMm: number, counterReading = readingOf(weldMm)): Fields =>
  RUNS.some(({ fromMm, toMm }) => weldMm === fromMm || weldMm === toMm) ? { counterReading } : { counterReading, uMm: '20' };

const segments: readonly Step[] = SEGMENTS.map((segment) => {
  const { coil, fromMm, toMm, stripFromMm, stripToMm, runs, note = null } = segment;
  return entered('ilka', 'coil-segments', `segment ${coil} from ${stripFromMm}`, {
    observedAt: timeOf(toMm), ...STRING, coilId: `@${coil}`, from: seen(fromMm, fromMm === RESET.weldMm ? '0' : readingOf(fromMm)), to: seen(toMm),
    stripFromMm, stripToMm, runs, note,
  });
});

const runOut: readonly Step[] = RUN_OUT.map(([coil, cropMm, restMm]) => ({
  step: 'amendment', by: 'rasmus', kind: 'coils', of: coil, changes: { cropMm, restMm }, reason: 'Crops and rest, now that it has run out.',
  recordedAt: later(timeOf(SEGMENTS.findLast((segment) => segment.coil === coil)?.toMm ?? 0), 15),
}));

const splices: readonly Step[] = SPLICES.map(({ number, leaving, entering, weldMm, ...asJudged }) =>
  entered('ilka', 'splices', number, {
    observedAt: timeOf(weldMm), ...STRING, number, leavingCoilId: `@${leaving}`, enteringCoilId: `@${entering}`,
    from: seen(weldMm), angleDeg: '60', hand: 'left', confirmed: true, ...asJudged,
  }),
);

/** Nobody saw S-7 pass the weld point: it is where the strip splice station says, give or take what the accumulator held. */
const UNSEEN_MM = 1_008_900;
const unseen = (): Step => {
  const weldMm = UNSEEN_MM + (SPLICE_STATION.pathMinMm + SPLICE_STATION.pathMaxMm) / 2;
  return entered('piet', 'splices', 'S-7', {
    observedAt: timeOf(weldMm), ...STRING, number: 'S-7', leavingCoilId: '@LM-07', enteringCoilId: '@LM-08',
    from: { counterReading: readingOf(weldMm), station: 'strip splice' }, angleDeg: '60', hand: 'left', confirmed: false,
    verdict: 'accepted', note: 'Predicted when it was welded; not seen at the weld point.',
  });
};

/** Where each splice came to lie, by true footage at the weld point. */
export const SPLICE_PLACES: readonly { readonly number: string; readonly weldMm: number }[] = [
  ...SPLICES.map(({ number, weldMm }) => ({ number, weldMm })), { number: 'S-7', weldMm: UNSEEN_MM },
];

const judged: Step = {
  step: 'amendment', by: 'ilka', kind: 'splices', of: 'S-3', recordedAt: '2026-03-03T14:55:00Z', reason: 'Seen at the viewing station.',
  changes: { verdict: 'rejected', note: 'One strip edge rode over the other.' },
};

const bench = (mm: number): Fields => ({ counterReading: readingOf(mm + STATIONS['cutting bench']), station: 'cutting bench', uMm: '5' });
const [firstCut, secondCut] = CUTS;

const cutOuts: readonly Step[] = [
  entered('ilka', 'cut-outs', 'cut-out 1', {
    observedAt: firstCut.at, ...STRING, from: bench(firstCut.fromMm), to: bench(firstCut.toMm), cause: 'Lapped edges at splice S-3', piece: 'LM-P1',
  }),
  entered('ilka', 'rejoins', 're-join 1', {
    observedAt: later(firstCut.at, 40), ...STRING, cutOutId: '@cut-out 1', procedure: 'Pipe weld procedure PW-2 rev 1', verdict: 'accepted',
    examination: 'Radiography of the whole girth, no indication', note: 'Outside bead dressed flush.',
  }),
  entered('ilka', 'cut-outs', 'cut-out 2', {
    observedAt: secondCut.at, ...STRING, from: bench(secondCut.fromMm), to: bench(secondCut.toMm), cause: 'Open seam over 40 mm', piece: 'LM-P2',
  }),
  entered('piet', 'rejoins', 're-join 2', {
    observedAt: later(secondCut.at, 35), ...STRING, cutOutId: '@cut-out 2', procedure: 'Pipe weld procedure PW-2 rev 1', verdict: 'open',
    examination: 'Film 3 of 4 is fogged between 90 and 140 mm; to be read again',
  }),
];

/** What the pipe is made of, and what was taken out of it. */
export const PIPE: readonly Step[] = [...splices, unseen(), judged, ...segments, ...runOut, ...cutOuts];
