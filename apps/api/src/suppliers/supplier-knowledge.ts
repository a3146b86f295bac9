import type { Coil } from '../coils/coil.entity.js';
import type { CoilPaper } from '../evaluation/coil-knowledge.js';
import type { Heat } from '../heats/heat.entity.js';
import type { IncomingCheck } from '../incoming-checks/incoming-check.entity.js';
import type { StripOrder } from '../orders/strip-order.entity.js';
import type { StripSpecification } from '../specifications/strip-specification.entity.js';
import type { CoilState } from '../standing/coil-standing.js';
import type { Keying } from '../transcriptions/keying-comparison.js';

/** A coil with all that its values and limits come from. */
export interface SuppliedCoil {
  readonly coil: Coil;
  readonly heat: Heat;
  readonly order: StripOrder;
  /** The revision that the order names. */
  readonly specification: StripSpecification;
  readonly papers: readonly CoilPaper[];
  readonly checks: readonly IncomingCheck[];
  readonly state: CoilState;
}

/** A certificate that speaks of the coils, with the keyings that stand and what became of them. */
export interface SuppliedPaper extends Pick<CoilPaper, 'keyings' | 'verification'> {
  /** The keyings that stand as they were first made. */
  readonly asFirstKeyed: readonly Keying[];
  readonly hasWithdrawnKeying: boolean;
}

/** What is known of a mill's coils, from one state of knowledge. */
export interface SupplierKnowledge {
  /** By number. */
  readonly coils: readonly SuppliedCoil[];
  /** There are more coils than were looked at; these are the ones entered last. */
  readonly isCapped: boolean;
  readonly papers: readonly SuppliedPaper[];
}
