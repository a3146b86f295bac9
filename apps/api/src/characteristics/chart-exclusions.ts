import type { Interval } from '#libs/intervals';
import type { ChartLeaveOut } from '../control-charts/control-chart-plan.js';
import { CUT_OUTS, linkOf, REJOINS, SEAM_EVENTS, SPLICES } from '../recall/record-kinds.js';
import { stopsWithEnds } from '../seam-stops/stop-ends.js';
import type { RecordLink } from '../trace/trace.dto.js';
import type { BreakingRecords } from './chart-boundaries.js';
import type { ChartExclusion } from './chart-ground.js';

/** What enters no chart: pipe that was cut out, and pipe near joints and stops as far as the plan says. In rising order of beginnings. */
export function exclusionsOf(records: Pick<BreakingRecords, 'splices' | 'cutOuts' | 'rejoins' | 'events'>, { aroundSplicesMm, aroundStopsMm }: ChartLeaveOut): ChartExclusion[] {
  const { splices, cutOuts, rejoins } = records;
  const cut = cutOuts.map((row): ChartExclusion => ({ ...row.span, because: `cut out: ${row.cause}`, record: linkOf(CUT_OUTS, row) }));
  const joints = aroundSplicesMm === 0 ? [] : [
    ...splices.map((row) => around(row.span, aroundSplicesMm, `splice ${row.number}`, linkOf(SPLICES, row))),
    ...rejoins.flatMap((row) => cutOuts.filter(({ id }) => id === row.cutOutId).map(({ span }) => around(span, aroundSplicesMm, 'a re-join', linkOf(REJOINS, row)))),
  ];
  const stops = aroundStopsMm === 0 ? [] : stoppedAt(records).map(({ span, label, record }) => around(span, aroundStopsMm, label, record));
  return [...cut, ...joints, ...stops].sort((one, other) => one.fromMm - other.fromMm);
}

interface Stopped {
  readonly span: Interval;
  readonly label: string;
  readonly record: RecordLink;
}

/** Each stop up to where the line ran again, and each start that ended none. */
function stoppedAt({ events }: Pick<BreakingRecords, 'events'>): Stopped[] {
  const stops = stopsWithEnds(events);
  const ended = new Set(stops.map(({ end }) => end?.id));
  const starts = events.filter(({ event, id }) => (event === 'start' || event === 'restart') && !ended.has(id));
  return [
    ...stops.map(({ stop, end }) => ({ span: hull(stop.span, end?.span ?? stop.span), label: SEAM_EVENTS.label(stop), record: linkOf(SEAM_EVENTS, stop) })),
    ...starts.map((row) => ({ span: row.span, label: SEAM_EVENTS.label(row), record: linkOf(SEAM_EVENTS, row) })),
  ];
}

const hull = (one: Interval, other: Interval): Interval => ({ fromMm: Math.min(one.fromMm, other.fromMm), toMm: Math.max(one.toMm, other.toMm) });

const around = ({ fromMm, toMm }: Interval, reachMm: number, what: string, record: RecordLink): ChartExclusion =>
  ({ fromMm: Math.max(0, fromMm - reachMm), toMm: toMm + reachMm, because: `within ${(reachMm / 1000).toFixed(3)} m of ${what}`, record });
