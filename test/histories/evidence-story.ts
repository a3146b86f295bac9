/**
 * A short story of one string and what was recorded of it. Lengths are decimetres of footage, half-open. What became known when goes
 * by steps: all strings are played step by step, each step being one time of the day.
 */
export const STEPS = { setUp: 0, first: 1, firstAgreed: 2, ranOn: 3, second: 4, secondAgreed: 5, released: 6, ranOnAgain: 7, third: 8, oneMore: 9 } as const;
/** When each step is entered. */
export const STEP_TIMES = ['10:10', '11:00', '11:30', '11:55', '12:10', '12:30', '12:40', '12:55', '13:10', '13:30'] as const;

/** Way from the weld point to the hang-off. */
export const LINE_DM = 100;

export interface Span {
  readonly fromDm: number;
  readonly toDm: number;
}

/** What a record says from a step on; a later one amends it. */
export interface Said<Word extends string> {
  readonly step: number;
  readonly word: Word;
}

interface StoryRecord {
  readonly name: string;
  /** It was withdrawn at this step; null when it was not. */
  readonly voidStep: number | null;
}

export interface StoryItem {
  readonly code: string;
  readonly demands: 'dimension' | 'point' | 'nonconformances-closed' | 'coil-accepted' | 'splice-accepted' | 'rejoin-accepted' | 'released';
  readonly at: 'pipe' | 'splices' | 're-joins' | 'lead-end' | 'tail-end';
  readonly marginDm: number | null;
  readonly exceptAt: readonly { readonly at: 'splices' | 're-joins' | 'lead-end' | 'tail-end'; readonly marginDm: number }[];
  readonly characteristic: string | null;
  readonly reachDm: number | null;
}

export interface StoryPlan {
  readonly step: number;
  readonly fromDm: number;
  readonly items: readonly StoryItem[];
}

export type InspectionWord = 'accepted' | 'rejected' | 'for-evaluation';
export interface StoryInspection extends StoryRecord, Span {
  readonly characteristic: string;
  readonly said: readonly Said<InspectionWord>[];
}

export type NonconformanceWord = 'open' | 'rework' | 'use-as-is-under-concession';
export interface StoryNonconformance extends StoryRecord, Span {
  /** It names the strip of the segment that it lies in, and no pipe. */
  readonly ofStrip: boolean;
  readonly said: readonly Said<NonconformanceWord>[];
}

/** Of pipe, or of a splice. Not of a coil: strings of a group share their coils, and a held one is held on all of them. */
export interface StoryHold extends StoryRecord {
  readonly step: number;
  readonly intervals: readonly Span[];
  /** The name of one. */
  readonly splice: string | null;
  readonly liftedStep: number | null;
}

export interface StoryWaiver extends StoryRecord, Span {
  readonly step: number;
  readonly itemCode: string;
}

export interface StoryAttendance extends StoryRecord, Span {
  readonly step: number;
  readonly itemCode: string;
  readonly outcome: 'accepted' | 'not-accepted';
}

export type SpliceWord = 'open' | 'accepted' | 'in-doubt' | 'rejected';
export interface StorySplice extends Span {
  readonly name: string;
  /** Between this segment and the next. */
  readonly segment: number;
  /** It was welded, and every stage of it was gone through and accepted: without that nobody's word confirms it. */
  readonly isShown: boolean;
  readonly said: readonly Said<SpliceWord>[];
}

export interface StoryCutOut extends Span {
  readonly name: string;
  readonly step: number;
  readonly rejoin: null | {
    readonly said: readonly Said<'open' | 'accepted' | 'rejected'>[];
    readonly isWelded: boolean;
    readonly examined: null | 'accepted' | 'rejected' | 'accepted-before-the-weld';
  };
}

/** What was decided on a coil, beside the permit that all coils have from the beginning. */
export interface CoilFate {
  readonly decided: null | { readonly step: number; readonly decision: 'accept' | 'accept-under-concession' | 'hold' | 'reject' };
  /** Permitted once more, after the decision. */
  readonly permittedStep: number | null;
}

export interface EvidenceStory {
  readonly seed: number;
  /** What was made by the first readings, and by those of the two times that the line ran on; it may have run back. */
  readonly madeDm: readonly [number, number, number];
  /** One for each coil of the group, in their order. */
  readonly segments: readonly Span[];
  readonly splices: readonly StorySplice[];
  readonly plans: readonly StoryPlan[];
  readonly cutOuts: readonly StoryCutOut[];
  readonly inspections: readonly StoryInspection[];
  readonly nonconformances: readonly StoryNonconformance[];
  readonly holds: readonly StoryHold[];
  readonly waivers: readonly StoryWaiver[];
  readonly attendances: readonly StoryAttendance[];
  /** Pipe that is to be released where nothing speaks against it; null where nobody releases any. */
  readonly release: Span | null;
}
