/**
 * What can still be done to pipe where it is. Source: the project's own reading of how this pipe is made, since no published
 * one speaks of it: strip is cut out and spliced again; on the line it is stopped for, repaired, or cut out and re-joined; the
 * inner wall allows what the project has proven it can withdraw; the outer wall nothing but to live with it.
 */
import type { LineMoment, PartOfPlace, Where } from './line-moment.js';

/** In the words that nonconformances are disposed of with. */
export type DispositionKind = 'rework' | 'repair' | 'use-as-is-under-concession' | 'regrade' | 'reject' | 'return-to-supplier' | 'further-inspection';

export interface FeasibleDisposition {
  readonly kind: DispositionKind;
  /** What it comes to at this place. */
  readonly how: string;
  /** What has to be so for it to be feasible, which no record here says; null where nothing has. */
  readonly provided: string | null;
}

const unconditional = (kind: DispositionKind, how: string): FeasibleDisposition => ({ kind, how, provided: null });

const CONCESSION = unconditional('use-as-is-under-concession', 'accept it as it is, under a concession by the authority that the place demands');
const DERATED = unconditional('regrade', 'restrict its use or derate the pipe');
const REMEDY = unconditional('repair', 'remediate the well; the pipe itself is out of reach');

const OF_STRIP: readonly FeasibleDisposition[] = [
  unconditional('further-inspection', 'look again while it is flat strip: the last chance for radiography of a splice'), unconditional('rework', 'put the strip right before it is formed'),
  unconditional('reject', 'cut the strip out and splice it again'), unconditional('return-to-supplier', 'cut the strip out, and send it back'), CONCESSION, DERATED,
];
const OF_LINE: readonly FeasibleDisposition[] = [
  unconditional('further-inspection', 'stop the line and prove it up'), unconditional('rework', 'stop the line and put it right'), unconditional('repair', 'stop the line and repair it'),
  unconditional('reject', 'stop the line, cut it out and re-join'), CONCESSION, DERATED,
];
const OF_LEAD_END: readonly FeasibleDisposition[] = [
  unconditional('further-inspection', 'look again: it stands above the hang-off'), unconditional('reject', 'cut it off above the hang-off'), CONCESSION, DERATED,
];

const BY_PLACE: Readonly<Record<Exclude<Where, 'inner-wall'>, readonly FeasibleDisposition[]>> = {
  'not-made': OF_STRIP, strip: OF_STRIP, 'on-the-line': OF_LINE, 'lead-end': OF_LEAD_END, 'outer-wall': [CONCESSION, DERATED, REMEDY], 'cut-out': [], 'not-known': [],
};

/** What is feasible for all of a place: its parts allow no more than the one that went furthest. Nothing where it is not known where one is. */
export function feasibleDispositions(moment: LineMoment, parts: readonly PartOfPlace[]): readonly FeasibleDisposition[] {
  const [furthest] = parts.filter(({ where }) => where !== 'cut-out').sort((one, other) => RANK[other.where] - RANK[one.where] || one.fromMm - other.fromMm);
  if (furthest === undefined) return [];
  return furthest.where === 'inner-wall' ? ofInnerWall(moment, furthest) : BY_PLACE[furthest.where];
}

/** The greater, the less can be done. */
const RANK: Readonly<Record<Where, number>> = { 'cut-out': 0, 'not-made': 1, strip: 2, 'lead-end': 3, 'on-the-line': 4, 'inner-wall': 5, 'outer-wall': 6, 'not-known': 7 };

function ofInnerWall(moment: LineMoment, { fromMm }: PartOfPlace): readonly FeasibleDisposition[] {
  const path = moment.hangOff?.path;
  const back = path === undefined ? 'it' : `${(Math.ceil(moment.pathMm(fromMm) - path.minMm) / 1000).toFixed(3)} m of inner pipe`;
  const provided = `the project has proven that ${back} can be withdrawn to the line`;
  const withdrawn = (kind: DispositionKind, how: string): FeasibleDisposition => ({ kind, how: `withdraw it to the line, and ${how}`, provided });
  return [withdrawn('further-inspection', 'prove it up'), withdrawn('repair', 'repair it'), withdrawn('reject', 'cut it out and re-join'), CONCESSION, DERATED, REMEDY];
}
