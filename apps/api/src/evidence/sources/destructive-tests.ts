import { IntervalSet } from '#libs/intervals';
import { INFERENCE_CAUTION, type UnitState } from '#libs/tube-tests';
import type { StandingTests } from '../../destructive-coverage/destructive-coverage.service.js';
import type { StandingUnit } from '../../destructive-coverage/test-coverage.js';
import type { TestKind } from '../../destructive-tests/destructive-test.dto.js';
import { linkOf, TEST_SAMPLES } from '../../recall/record-kinds.js';
import { linkTo } from '../../trace/record-link.js';
import { provenTogether, type Proof } from './proven-together.js';
import type { WordOnPipe } from './word-on-pipe.js';

const SAYS = { failed: 'failed', open: 'suspect' } as const;
const STANDS: readonly UnitState[] = ['passed', 'failed, retests passed'];

/**
 * What destructive tests say of pipe: of one kind, or, where `asked` is null, of every kind that the sampling plan in force demands
 * there, each of which has to stand. What failed or is open speaks against its pipe, of whatever kind it is.
 */
export function destructiveWords(tests: readonly StandingTests[], asked: TestKind | null): WordOnPipe[] {
  const chosen = tests.filter(({ kind }) => asked === null || kind === asked);
  return [...chosen.flatMap(against), ...proven(chosen, asked), ...chosen.flatMap((one) => unsampled(one, asked))];
}

const against = ({ units }: StandingTests): WordOnPipe[] => units.flatMap((unit): WordOnPipe[] => {
  const { state } = unit;
  return state === 'failed' || state === 'open' ? [{ ...shownBy(unit), says: SAYS[state] }] : [];
});

/** Pipe on which everything asked for stands; where several plans ask for different kinds, each for its own pipe. */
function proven(tests: readonly StandingTests[], asked: TestKind | null): WordOnPipe[] {
  const groups = asked === null ? byDemand(tests) : tests.map((one) => ({ on: null, tests: [one] }));
  return groups.flatMap(({ on, tests: own }) => provenTogether(own.map(({ units }) => units.filter(({ state }) => STANDS.includes(state)).map(shownBy)))
    .map((proof): WordOnPipe => ({ ...proof, on: on === null ? proof.on : proof.on.intersect(on), says: 'confirmed', because: `${proof.because}. ${INFERENCE_CAUTION}` })));
}

interface DemandedTogether {
  /** Null: wherever tests stand. */
  readonly on: IntervalSet | null;
  readonly tests: readonly StandingTests[];
}

/** The pipe by the kinds that are demanded of it together; pipe of which none is demanded is left out. */
function byDemand(tests: readonly StandingTests[]): DemandedTogether[] {
  let groups: { readonly on: IntervalSet; readonly tests: readonly StandingTests[] }[] = [];
  for (const one of tests) {
    const within = groups.map((group) => ({ on: group.on.intersect(one.demandedOf), tests: [...group.tests, one] }));
    const beside = groups.map((group) => ({ on: group.on.subtract(one.demandedOf), tests: group.tests }));
    const alone = { on: groups.reduce((left, { on }) => left.subtract(on), one.demandedOf), tests: [one] };
    groups = [...within, ...beside, alone].filter(({ on }) => !on.isEmpty);
  }
  return groups;
}

/** Why nothing is there: samples are demanded and none stands for the pipe, or no plan demands any of the kind asked for. */
function unsampled({ kind, demandedOf, units }: StandingTests, asked: TestKind | null): WordOnPipe[] {
  const represented = IntervalSet.from(units.flatMap(({ footage }) => footage.intervals));
  const left = demandedOf.subtract(represented);
  const awaited = { says: 'awaited', records: [], enteredAt: [] } as const;
  return [
    ...(left.isEmpty ? [] : [{ ...awaited, on: left, because: `no sample whose ${kind} test counts stands for it` }]),
    ...(asked !== null && demandedOf.isEmpty ? [{ ...awaited, on: EVERYWHERE, because: `no sampling plan in force demands ${kind} samples, so none stands for pipe of a coil` }] : []),
  ];
}

/** More than a footage can be. */
const EVERYWHERE = IntervalSet.of({ fromMm: 0, toMm: 2 ** 31 });

function shownBy({ kind, tests, samples, words, footage }: StandingUnit): Proof {
  const counting = tests.filter(({ row }) => row.outcome !== 'void');
  return {
    on: footage, because: `${kind}: ${words}`,
    records: [...counting.map(({ row, name }) => linkTo('destructive-test', row, name)), ...samples.map((sample) => linkOf(TEST_SAMPLES, sample))],
    enteredAt: [...counting.map(({ row }) => row.enteredAt), ...samples.map(({ enteredAt }) => enteredAt)],
  };
}
