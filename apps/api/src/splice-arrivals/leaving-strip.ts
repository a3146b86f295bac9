/** What of a coil is still to become pipe, as the records say it: the strip that its last splice is predicted from. */
import { knownCoilLength } from '../reconciliation/known-coil-length.js';
import { formingElongation, type UsedCoil, type UsedSegment } from '../reconciliation/strip-use.js';
import { UNKNOWN_RATIO, type FormingRatio, type StripAhead } from './gate.js';

/** A splice as far as its coils and its place go. */
export interface PlacedSplice {
  readonly number: string;
  readonly leavingCoilId: string;
  readonly enteringCoilId: string;
  readonly span: { readonly fromMm: number; readonly toMm: number };
  readonly fromUMm: string;
  readonly confirmed: boolean;
  readonly predicted: boolean;
  readonly pipeLengthMm: number;
}

/** The segments of two coils meet in the middle of their weld, along the middle of the strip; a splice's place is where its weld begins. */
export type RunSegment = UsedSegment & { readonly predicted: boolean };

/** Pipe of one coil in one piece. */
export interface CoilRun {
  readonly coilId: string;
  readonly segments: readonly [RunSegment, ...RunSegment[]];
}

export interface StringStrip {
  /** In order of footage. */
  readonly segments: readonly RunSegment[];
  readonly runs: readonly CoilRun[];
  readonly coils: ReadonlyMap<string, UsedCoil & { readonly number: string }>;
  /** Of all its coils, on all strings. */
  readonly coilSegments: readonly UsedSegment[];
  readonly scaleRelativeU: number;
}

/** A prediction's inputs, and in words what they rest on. */
export interface StripFound {
  readonly strip: StripAhead;
  readonly restsOn: readonly string[];
}

/** Its place was seen on the pipe: said so, and not given by a station upstream. */
export const isConfirmed = ({ confirmed, predicted }: Pick<PlacedSplice, 'confirmed' | 'predicted'>): boolean => confirmed && !predicted;

/** The runs of coil on a string: a coil that was fed, taken back and fed again is two. Segments in order of footage. */
export function coilRuns(segments: readonly RunSegment[]): CoilRun[] {
  const runs: { coilId: string; segments: [RunSegment, ...RunSegment[]] }[] = [];
  for (const segment of segments) {
    const last = runs.at(-1);
    if (last?.coilId === segment.coilId) last.segments.push(segment);
    else runs.push({ coilId: segment.coilId, segments: [segment] });
  }
  return runs;
}

/**
 * The strip of a coil that ends at a splice, or at the next one to come: from where the coil's pipe begins (the splice into it
 * if that is confirmed, else its segment), less crops, rest and what other pieces took. In words why it cannot be told.
 * @param end the splice at which the coil ends, with the splices before it; null for the next one to come
 */
export function leavingStrip(string: StringStrip, coilId: string, before: readonly PlacedSplice[], end: PlacedSplice | null): StripFound | string {
  const coil = string.coils.get(coilId);
  if (coil === undefined) return 'the coil that ends here is not known';
  const begin = beginningOf(string, coilId, before, end);
  if (typeof begin === 'string') return begin;
  const known = knownCoilLength(coil);
  const elsewhereMm = stripElsewhereMm(string, coilId, begin.run);
  const stripMm = known.mm - coil.cropMm - coil.restMm - elsewhereMm;
  if (stripMm <= 0) {
    return `of the ${Math.round(known.mm)} mm of coil ${coil.number}, ${known.basis}, nothing is left after crops of ${coil.cropMm} mm, a rest of ${coil.restMm} mm and ${elsewhereMm} mm in other pieces`;
  }
  const { forming, words } = formingKnownBefore(string, begin);
  return {
    strip: {
      beginMm: begin.beginMm, uBeginMm: begin.uBeginMm, beginWeldMm: begin.beginWeldMm, stripMm, uStripMm: known.uMm, forming,
      endWeldMm: end?.pipeLengthMm ?? begin.weldBeforeMm, scaleRelativeU: string.scaleRelativeU,
    },
    restsOn: [
      `coil ${coil.number} begins at ${begin.beginMm} mm, by ${begin.by}`,
      `${Math.round(stripMm)} mm of strip: ${Math.round(known.mm)} mm ${known.basis}, less ${coil.cropMm} mm of crops, ${coil.restMm} mm of rest and ${elsewhereMm} mm in other pieces, as on record`,
      words,
      ...(end === null ? ['the weld to come is taken to need as much pipe as the one before'] : []),
    ],
  };
}

interface Beginning {
  readonly beginMm: number;
  readonly uBeginMm: number;
  /** Pipe of the weld that lies past `beginMm`: none where that is the middle of the weld, as a segment has it. */
  readonly beginWeldMm: number;
  readonly weldBeforeMm: number;
  readonly by: string;
  readonly run: CoilRun | null;
}

function beginningOf({ runs, coils }: StringStrip, coilId: string, before: readonly PlacedSplice[], end: PlacedSplice | null): Beginning | string {
  const own = runs.filter((run) => run.coilId === coilId);
  const entering = before.findLast((splice) => splice.enteringCoilId === coilId) ?? null;
  const weldBeforeMm = entering?.pipeLengthMm ?? 0;
  if (entering !== null && isConfirmed(entering)) {
    const run = own.find(({ segments: pieces }) => (pieces.at(-1)?.span.toMm ?? 0) > entering.span.fromMm) ?? null;
    return { beginMm: entering.span.fromMm, uBeginMm: Number(entering.fromUMm), beginWeldMm: weldBeforeMm, weldBeforeMm, by: `splice ${entering.number}, confirmed`, run };
  }
  const run = own.findLast(({ segments: [first] }) => end === null || first.span.fromMm < end.span.toMm);
  if (run === undefined) {
    const why = entering === null ? 'no splice into it is on record' : `the place of splice ${entering.number} into it is not confirmed`;
    return `where coil ${coils.get(coilId)?.number ?? ''} begins is not known: ${why}, and it has no segment`;
  }
  const [{ span, fromUMm }] = run.segments;
  return { beginMm: span.fromMm, uBeginMm: Number(fromUMm), beginWeldMm: 0, weldBeforeMm, by: 'its segment', run };
}

/** Strip of the coil in pieces other than this run, on any string. */
function stripElsewhereMm({ coilSegments }: StringStrip, coilId: string, run: CoilRun | null): number {
  const own = new Set(run?.segments.map(({ id }) => id));
  return sum(coilSegments.filter((segment) => segment.coilId === coilId && !own.has(segment.id)).map(lengthOfStrip));
}

/** The forming elongation of the pipe made before, as far as into the weld: a coil is not predicted from its own segment. */
function formingKnownBefore({ segments, coils }: StringStrip, { beginMm, beginWeldMm, run }: Beginning): { forming: FormingRatio; words: string } {
  const earlier = segments.filter((segment) => segment.span.toMm <= beginMm + beginWeldMm && !segment.predicted && run?.segments.includes(segment) !== true);
  const elongation = formingElongation(earlier);
  if (elongation === null) {
    return { forming: UNKNOWN_RATIO, words: 'forming elongation taken as 1, usually 0.98 to 1.02: no earlier segment of this string says otherwise' };
  }
  const byCoil = new Map<string, number>();
  for (const piece of earlier) byCoil.set(piece.coilId, (byCoil.get(piece.coilId) ?? 0) + lengthOfStrip(piece));
  const stripMm = sum(earlier.map(lengthOfStrip));
  // Strip positions are as uncertain as the lengths of their coils: all pieces of one coil together, each coil for itself.
  const uOfStrip = Math.hypot(...[...byCoil].map(([coilId, ofCoilMm]) => relativeUOf(coils.get(coilId)) * ofCoilMm)) / stripMm;
  const forming = { ratio: elongation.ratio, u: Math.hypot(elongation.u, elongation.ratio * uOfStrip) };
  return { forming, words: `forming elongation ${forming.ratio.toFixed(5)}, by the earlier segments of this string, ${earlier.length} of them` };
}

function relativeUOf(coil: UsedCoil | undefined): number {
  if (coil === undefined) return 0;
  const { mm, uMm } = knownCoilLength(coil);
  return uMm / mm;
}

const lengthOfStrip = ({ stripSpan }: UsedSegment): number => stripSpan.toMm - stripSpan.fromMm;

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
