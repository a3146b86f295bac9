import type { IntervalSet } from '#libs/intervals';
import type { StringModel } from '../line/length-models.service.js';
import type { Rejoin } from '../rejoins/rejoin.entity.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import type { Stamps } from './evidence-stamps.service.js';
import type { OnTimeFrom } from './record-testimony.js';

/** The pipe of a string as known at an instant, and what every source needs of it. */
export interface EvidenceGround {
  readonly stringId: string;
  /** Null: now. */
  readonly asKnownAt: string | null;
  readonly model: StringModel;
  /** Made and not cut out. */
  readonly pipe: IntervalSet;
  readonly cutOut: IntervalSet;
  readonly segments: readonly CoilSegmentVersion[];
  readonly splices: readonly SpliceVersion[];
  readonly rejoins: readonly Rejoin[];
  readonly onTimeFrom: OnTimeFrom;
  /** Null of an earlier instant, and where nothing is kept. */
  readonly now: GroundNow | null;
}

/** What lets results that were made of a ground of now be used for the next one. */
export interface GroundNow {
  /** The same object for as long as all of the ground is: through maps of now, while records of other kinds come in. */
  readonly lasting: object;
  /** Taken before anything of the ground was read. */
  readonly stamps: Stamps;
}
