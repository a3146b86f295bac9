import type { Certificate } from '../certificates/certificate.entity.js';
import type { Coil } from '../coils/coil.entity.js';
import type { Heat } from '../heats/heat.entity.js';
import type { CutOutVersion } from '../line/cut-out.entity.js';
import type { Rejoin } from '../rejoins/rejoin.entity.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { WellPath } from '#libs/survey';
import type { SpliceVersion } from '../splices/splice.entity.js';
import type { Survey } from '../surveys/survey.entity.js';
import type { Well } from '../wells/well.entity.js';

/** A stretch of pipe made of one coil. */
export interface PipeSegment {
  readonly segment: CoilSegmentVersion;
  readonly coil: Coil;
  readonly heat: Heat;
  readonly certificate: Certificate | null;
}

/** An interval taken out, and the weld that closed the gap if it is on record. */
export interface PipeCut {
  readonly cutOut: CutOutVersion;
  readonly rejoin: Rejoin | null;
}

/** What a string is made of, by footage, as known at one instant. */
export interface Pipe {
  readonly segments: readonly PipeSegment[];
  readonly splices: readonly SpliceVersion[];
  readonly cuts: readonly PipeCut[];
}

/** What a string's answers show, from one knowledge: its well and the path of the hole, and the pipe itself. */
export interface Ground {
  readonly well: Well;
  readonly survey: Survey | null;
  readonly path: WellPath | null;
  readonly pipe: Pipe;
}
