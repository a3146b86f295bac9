import type { Coil } from '../coils/coil.entity.js';
import type { StringModel } from '../line/length-models.service.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import type { Person } from '../people/person.entity.js';
import type { HistoryEntry } from '../records/record.dto.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { Ground } from '../trace/ground.js';

/** A string that a nonconformance concerns, with all that its lengths and its pipe rest on. */
export interface StringKnowledge {
  readonly model: StringModel;
  readonly ground: Ground;
}

/** Everything that the report of one nonconformance is made of, as known at one instant. */
export interface ReportKnowledge {
  readonly row: Nonconformance;
  /** Its number as people say it. */
  readonly label: string;
  /** The versions known then, oldest first. */
  readonly history: readonly HistoryEntry[];
  readonly strings: ReadonlyMap<string, StringKnowledge>;
  /** By id: those named, and those of the strings' segments. */
  readonly coils: ReadonlyMap<string, Coil>;
  /** On any string, of the coils that the nonconformance names. */
  readonly coilSegments: readonly CoilSegmentVersion[];
  readonly people: ReadonlyMap<string, Person>;
}
