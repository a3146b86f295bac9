import { IntervalSet } from '#libs/intervals';
import { instantOf } from '#libs/persistence';
import type { Look } from '#libs/reference-checks';
import type { Channel } from '../channels/channel.entity.js';
import { metres } from '../destructive-coverage/test-coverage.js';
import { CHANNELS, INSPECTION_RUNS, LINE_SETUPS, linkOf, REFERENCE_CHECKS } from '../recall/record-kinds.js';
import type { ReferenceCheck } from '../reference-checks/reference-check.entity.js';
import type { Unplaced } from '../signals/stretch.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { checkRule, proofWithin, unmetOf, type ProvenChannel, type ProvenCheck, type ProvenRun, type StateSets, type Unmet } from './channel-proof.js';
import {
  PROOF_STATES, type ChannelProofAnswer, type ProofCheckAnswer, type ProofLookAnswer, type ProofStateMetres, type UnmetOccasionAnswer, type UnplacedSamplesAnswer,
} from './inspection-proof.dto.js';
import type { ShownChange } from './run-changes.js';

type ProvenLook = Look<ProvenRun, ProvenCheck>;

/** What one channel's checks prove of the pipe asked for. */
export function channelAnswer(one: ProvenChannel, unplaced: readonly Unplaced[], asked: IntervalSet, asOfUs: number): ChannelProofAnswer {
  const { channel, runs } = one.known;
  const proof = proofWithin(one, asked);
  const { everyUs, graceUs, source } = checkRule(channel);
  const runLink = runLinks(runs);
  return {
    channel: linkOf(CHANNELS, channel), words: meaningOf(channel, one.checks.map(({ row }) => row)), repeats: channel.repeats,
    rule: { everyMinutes: everyUs / 60e6, graceMinutes: graceUs / 60e6, source },
    states: stateMetres(proof),
    stretches: proof.stretches.map(({ fromMm, toMm, state, counts, others }) => ({
      fromMm, toMm, state, counts: counts === null ? null : lookAnswer(counts), others: others.map(lookAnswer),
    })),
    unmet: unmetOf(one, asOfUs).flatMap((unmet) => unmetAnswer(unmet, runLink.get(unmet.run))),
    unplaced: unplaced.flatMap((samples) => unplacedAnswer(samples, runLink.get(samples.runId))),
  };
}

/** The four states, always in the same order, empty ones too. */
export const stateMetres = (sets: StateSets): ProofStateMetres[] => PROOF_STATES.map((state) => ({ state, metres: metres(sets[state]) }));

const runLinks = (runs: ProvenChannel['known']['runs']): ReadonlyMap<string, RecordLink> => new Map(runs.map((run) => [run.id, linkOf(INSPECTION_RUNS, run)]));

function lookAnswer({ run, bracket, fromUs, toUs }: ProvenLook): ProofLookAnswer {
  const { state, reason, before, after } = bracket;
  return {
    run: linkOf(INSPECTION_RUNS, run.row), from: instantOf(fromUs), to: instantOf(toUs), state, because: reason, before: before.map(checkAnswer), after: after.map(checkAnswer),
  };
}

const checkAnswer = ({ row, outcome }: ProvenCheck): ProofCheckAnswer => ({ check: linkOf(REFERENCE_CHECKS, row), at: row.observedAt, outcome });

function unmetAnswer({ occasion, state, dueUs, check, changed }: Unmet, run: RecordLink | undefined): UnmetOccasionAnswer[] {
  if (run === undefined) return [];
  return [{ occasion, state, due: instantOf(dueUs), run, shownBy: changed === null ? null : shownBy(changed), check: check === null ? null : checkAnswer(check) }];
}

const shownBy = ({ shownBy: by }: ShownChange): RecordLink => ('run' in by ? linkOf(INSPECTION_RUNS, by.run) : linkOf(LINE_SETUPS, by.setup));

function unplacedAnswer({ samples, fromUs, toUs, why }: Unplaced, run: RecordLink | undefined): UnplacedSamplesAnswer[] {
  return run === undefined ? [] : [{ run, samples, from: instantOf(fromUs), to: instantOf(toUs), because: why }];
}

const MOST_REFLECTORS = 10;

/** What it would mean that a channel shows nothing: its threshold and the reflectors that it was checked with. */
export function meaningOf({ name, threshold, unit, id }: Channel, checks: readonly ReferenceCheck[]): string {
  if (threshold === null) return `${name} has no threshold: it tells of no indications, whatever it reads.`;
  const results = checks.flatMap((check) => check.results.filter(({ channelId }) => channelId === id));
  const reflectors = [...new Set(results.map(({ reflector, size }) => (size === null ? reflector : `${reflector} (${size})`)))];
  const shown = reflectors.slice(0, MOST_REFLECTORS).join(', ') + (reflectors.length > MOST_REFLECTORS ? ' and others' : '');
  const level = `at or ${threshold.sense} ${threshold.level} ${unit}`;
  const by = reflectors.length === 0 ? 'no reference reflector on record' : `checked with ${shown}`;
  return `No indication of ${name} means none ${level}, ${by}, on the metres that are confirmed here. It does not mean that there is no defect.`;
}
