import type { WeldProcedure } from '#libs/welding';
import type { FieldProblem } from '../http/problem.js';
import { placeFaults } from '../line/given-place.js';
import type { Finding } from '../records/plausibility.js';
import type { WeldProcedureVersion } from '../weld-procedures/weld-procedure.entity.js';
import type { WeldReading } from '../welds/weld.entity.js';
import { outsideProcedure, unusualReadings } from '../welds/weld.rules.js';
import type { SeamEventInput } from './seam-event.dto.js';

/** What does not go together in an event: a stop without a cause, a seam weld at another station than the weld point. */
export function seamEventFaults({ event, cause, from }: Pick<SeamEventInput, 'event' | 'cause' | 'from'>): FieldProblem[] {
  return [
    ...(event === 'stop' && cause == null ? [{ field: 'cause', value: null, limit: 'why the line stopped' }] : []),
    ...placeFaults('from', { ...from, station: null }),
    ...(from.station == null ? [] : [{ field: 'from.station', value: from.station, limit: 'no station: the seam is welded at the weld point' }]),
  ];
}

/**
 * What lies outside the procedure's window is taken and marked. What the procedure asks for and nobody reported is marked
 * too, but for its lists (an event says nothing of material or gas), and for a stop, when nothing is being welded.
 */
export function seamEventFindings(event: SeamEventInput['event'], readings: readonly WeldReading[], procedure: WeldProcedure): Finding[] {
  const listed = new Set<string>(procedure.lists.map(({ choice }) => choice));
  const isAsked = ({ tier, field }: Finding): boolean => tier === 'out-of-specification' || (event !== 'stop' && !listed.has(field));
  return [...unusualReadings(readings), ...outsideProcedure({ readings, chosen: [] }, procedure).filter(isAsked)];
}

/** A procedure for another kind of weld is taken and marked: the seam was welded by it, and who refuses gets a false record. */
export function otherPurpose({ purpose }: Pick<WeldProcedureVersion, 'purpose'>): Finding[] {
  return purpose === 'seam' ? [] : [{ tier: 'noted', field: 'weldProcedureId', value: purpose, limit: 'a procedure for the seam' }];
}
