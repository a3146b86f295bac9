import type { ChartKind } from '#libs/charting';
import type { RunRule } from '#libs/spc';

/** What can be charted. */
export const CHARACTERISTICS = [
  /** A value of inspections, as bead height or outside diameter. */
  'inspected',
  /** How many of the inspections of a length were rejected. */
  'rejected-inspections',
  /** A reading of splices, as hardness. */
  'splice-reading',
  /** A reading of incoming coils. */
  'coil-reading',
  /** A channel, by lengths of pipe. Several of them make vectors. */
  'channel',
  /** What a channel showed of a reflector of the reference standard. */
  'reference-amplitude',
  /** Pipe by one counter over pipe by another. */
  'counter-ratio',
  /** Pipe between one indication and the next, in metres. */
  'between-indications',
  /** How many indications began on a length. */
  'indications',
  /** How many repairs began on a length, for each 1,000 m. */
  'repairs',
] as const;
export type Characteristic = (typeof CHARACTERISTICS)[number];

/** What of the samples on a length makes the reading; `spread` is their standard deviation, which without a flaw is the noise floor. */
export const WINDOW_STATISTICS = ['mean', 'least', 'greatest', 'spread'] as const;
export type WindowStatistic = (typeof WINDOW_STATISTICS)[number];

/** Run rules by the names that requests use. */
export const CHART_RULES = {
  'one-beyond-3-sigma': 'oneBeyond3Sigma',
  'two-of-three-beyond-2-sigma': 'twoOfThreeBeyond2Sigma',
  'four-of-five-beyond-1-sigma': 'fourOfFiveBeyond1Sigma',
  'seven-on-one-side': 'sevenOnOneSide',
  'eight-on-one-side': 'eightOnOneSide',
  'nine-on-one-side': 'nineOnOneSide',
  'six-steadily': 'sixSteadily',
  'seven-steadily': 'sevenSteadily',
  'fourteen-alternating': 'fourteenAlternating',
  'fifteen-within-1-sigma': 'fifteenWithin1Sigma',
  'eight-beyond-1-sigma': 'eightBeyond1Sigma',
} as const satisfies Readonly<Record<string, RunRule>>;
export type ChartRule = keyof typeof CHART_RULES;

/** What is charted, and where its readings come from. What a characteristic has no use for is null or empty. */
export interface ChartedCharacteristic {
  readonly of: Characteristic;
  /** As inspections, splice steps or incoming checks name it. */
  readonly name: string | null;
  /** Of `channel`: one, or 2 to 12 for vectors; of `reference-amplitude` one; of indications those that are meant, none for all. */
  readonly channelIds: readonly string[];
  readonly statistic: WindowStatistic | null;
  readonly reflector: string | null;
  /** Of `counter-ratio`: the counter measured and the one that it is held against. */
  readonly counters: readonly string[];
  /** Pipe that makes one reading of a channel or of counters, or that one point counts over. */
  readonly windowMm: number | null;
}

/** How readings are put together. */
export interface SubgroupPlan {
  /** Readings of one subgroup; 1: each is a point of its own. */
  readonly size: number;
  /** The first and the last of a subgroup begin at most so far apart. */
  readonly withinMm: number;
  /** The first readings of two subgroups lie at least so far apart: beyond the length over which readings resemble each other. */
  readonly everyMm: number;
}

/** Readings near these enter no chart, and are listed with the reason. */
export interface ChartLeaveOut {
  readonly aroundSplicesMm: number;
  readonly aroundStopsMm: number;
}

/** Specification limits, digits as printed; never drawn as control limits. */
export interface ChartSpecification {
  readonly lower: string | null;
  readonly upper: string | null;
  readonly target: string | null;
  /** Document, revision and clause. */
  readonly source: string;
}

/** What to do when the chart signals. */
export interface ReactionPlan {
  /** How to find out whether the reading is real: repeat, another gauge. */
  readonly repeat: string;
  /** What to look for, the likeliest first. */
  readonly causes: readonly string[];
  /** When to adjust and when to stop. */
  readonly adjust: string;
  /** Who decides that. */
  readonly decidedBy: string;
}

/** All that a control chart says of how its readings are found, put together and charted. */
export interface ControlChartPlan {
  readonly stringId: string;
  readonly characteristic: ChartedCharacteristic;
  readonly unit: string;
  /** Null of counts, gaps and vectors, which are points already. */
  readonly subgroup: SubgroupPlan | null;
  readonly leaveOut: ChartLeaveOut;
  readonly chart: ChartKind;
  readonly rules: readonly ChartRule[];
  /** As `ChartDesign` says, digits as printed; what the chart has no use for is null. */
  readonly lambda: string | null;
  readonly width: string | null;
  readonly k: string | null;
  readonly h: string | null;
  readonly batchSize: number | null;
  readonly alpha: string | null;
  readonly specification: ChartSpecification | null;
}
