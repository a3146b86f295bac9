import { IntervalSet } from '#libs/intervals';
import { instantOf } from '#libs/persistence';
import type { Look } from '#libs/reference-checks';
import { proofWithin, type ProvenChannel, type ProvenCheck, type ProvenRun } from '../inspection-proof/channel-proof.js';
import { CHANNELS, INSPECTION_RUNS, linkOf } from '../recall/record-kinds.js';
import type { ReadAgainAnswer, RepeatedLookAnswer } from './line-events.dto.js';

/** Pipe that a channel read validly more than once, with the look that counts by its rule; by footage. */
export function readAgain(proven: ProvenChannel): ReadAgainAnswer[] {
  const { channel } = proven.known;
  const all = IntervalSet.from(proven.runs.flatMap(({ valid }) => valid.intervals));
  return proofWithin(proven, all).stretches.flatMap(({ fromMm, toMm, counts, others }) => (counts === null || others.length === 0 ? [] : [{
    channel: linkOf(CHANNELS, channel), interval: { fromMm, toMm }, rule: channel.repeats, counts: lookAnswer(counts), others: others.map(lookAnswer),
  }]));
}

function lookAnswer({ run, fromUs, toUs, bracket }: Look<ProvenRun, ProvenCheck>): RepeatedLookAnswer {
  const moved = run.pieces.find((piece) => piece.toUs >= fromUs && piece.fromUs <= toUs && piece.fromMm !== piece.toMm);
  return {
    run: linkOf(INSPECTION_RUNS, run.row), from: instantOf(fromUs), until: instantOf(toUs), direction: moved !== undefined && moved.toMm < moved.fromMm ? 'backward' : 'forward', state: bracket.state,
  };
}
