import { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import { turnedDownOn, type Look } from '#libs/reinspection';
import type { Moment } from '#libs/validity';
import { linkOf, SEAM_EVENTS, WELD_PROCEDURES } from '../../recall/record-kinds.js';
import type { Finding } from '../../records/plausibility.js';
import type { SeamEvent } from '../../seam-events/seam-event.entity.js';
import { otherPurpose, seamEventFindings } from '../../seam-events/seam-event.rules.js';
import type { WeldProcedureVersion } from '../../weld-procedures/weld-procedure.entity.js';
import { procedureName, weldProcedureOf } from '../../weld-procedures/weld-procedure.rules.js';
import { procedureOpen } from '../../work-standing/open-points.js';
import type { WordOnPipe } from './word-on-pipe.js';

/** An event of the seam weld with the pipe that was welded as it reports. */
export interface WeldedSince {
  readonly event: SeamEvent;
  readonly on: IntervalSet;
}

/**
 * The pipe welded since each event, up to where the next one was; none since a stop, whatever set-up was changed while the line
 * stood: nobody recorded that it ran. Before the first event it is taken to have run.
 * @param events in the order of `orderOfLine` @param madeToMm up to where pipe was made
 */
export function weldedSince(events: readonly SeamEvent[], madeToMm: number): WeldedSince[] {
  let runs = true;
  return events.map((event, index) => {
    if (event.event !== 'set-up-change') runs = event.event !== 'stop';
    const [fromMm, toMm] = [event.span.fromMm, events[index + 1]?.span.fromMm ?? madeToMm];
    return { event, on: runs && fromMm < toMm ? IntervalSet.of({ fromMm, toMm }) : IntervalSet.empty };
  });
}

/** What an event and its procedure, as known, say of the pipe welded since. */
export function seamWords({ event, on }: WeldedSince, procedure: WeldProcedureVersion, moment: Moment): WordOnPipe[] {
  const name = procedureName(procedure);
  const about = {
    on, records: [linkOf(SEAM_EVENTS, event), linkOf(WELD_PROCEDURES, procedure)], enteredAt: [event.enteredAt],
  };
  const findings = seamEventFindings(event.event, event.readings, weldProcedureOf(procedure));
  const outside = findings.filter(({ tier }) => tier === 'out-of-specification').map(inWords);
  const open = [
    ...procedureOpen(moment, procedure).map(({ words }) => words),
    ...[...otherPurpose(procedure), ...findings.filter(({ tier }) => tier === 'noted')].map(inWords),
    ...(procedure.ranges.length === 0 ? [`${name} sets no range for what a seam weld reports`] : []),
  ];
  const since = `since the ${event.event} of ${event.observedAt}`;
  if (outside.length + open.length === 0) return [{ ...about, says: 'confirmed', because: `welded within ${name} ${since}, by what was reported then` }];
  return [
    ...(outside.length === 0 ? [] : [{ ...about, says: 'failed', because: `welded outside ${name} ${since}: ${outside.join('; ')}` } as const]),
    ...(open.length === 0 ? [] : [{ ...about, says: 'suspect', because: `not shown to be welded by ${name} ${since}: ${open.join('; ')}` } as const]),
  ];
}

const inWords = ({ field, value, limit }: Finding): string => `${field} is ${value}; asked for: ${limit}`;

/** A stop with the pipe that stood at the weld point, as far as it is still in the string. */
export interface StoppedAt {
  readonly event: SeamEvent;
  readonly on: IntervalSet;
}

/**
 * Pipe that stood at the weld point when the line stopped is in doubt until one look for flaws made later accepts all of it, and no
 * other since turns any of it down.
 */
export function stopWords(stops: readonly StoppedAt[], looks: readonly (Look & { readonly record: WordOnPipe['records'][number] })[]): WordOnPipe[] {
  return stops.flatMap(({ event, on }): WordOnPipe[] => {
    const since = looks.filter(({ atUs, seesFlaws }) => seesFlaws && atUs > microseconds(event.observedAt));
    const refused = turnedDownOn(since.map((it) => ({ it, on: it.on.intersect(on) })).filter((look) => !look.on.isEmpty));
    const isAccepted = since.some((look) => look.outcome === 'accepted' && look.on.covers(on));
    if (on.isEmpty || (isAccepted && refused.length === 0)) return [];
    const by = refused.flatMap((point) => point.since);
    const why = by.length === 0 ? 'no look that was accepted since covers it' : `what was seen since turned it down: ${by.map(({ record }) => record.label).join(', ')}`;
    return [{
      on, says: 'suspect', because: `the seam weld stopped here at ${event.observedAt}: ${event.cause ?? ''}; ${why}`,
      records: [linkOf(SEAM_EVENTS, event), ...by.map(({ record }) => record)], enteredAt: [event.enteredAt],
    }];
  });
}
