import { IntervalSet } from '#libs/intervals';
import { COVERAGE_FACTOR, type PathDistance } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { StringModel } from '../line/length-models.service.js';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import { linkTo } from '../trace/record-link.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { affectedPipe, eitherWay, type AffectedPipe, type FootageAtStop, type NoPipe, type StoppedLine } from './affected-pipe.js';
import type { AffectedAnswer, SeamStopAnswer, StopFootageAnswer, StopLastedAnswer } from './seam-stops.dto.js';
import type { StopWithEnd } from './stop-ends.js';
import { compareFootages, countedFootage, type CountedFootage, type FootageComparison } from './stop-footage.js';

const NO_PIPE: Readonly<Record<NoPipe, string>> = {
  'strip-only': 'Upstream of the weld point: what stood here was strip, and no pipe was made of it yet.',
  'not-reached': 'The pipe was too short to reach this place.',
};
const NO_SETUP = 'No line set-up was in force when the line stopped: only the weld point is answered.';
const REPEATED = 'Another stop is recorded before any start or restart: an event is missing, or one too many.';

const WELD_POINT: PathDistance = { minMm: 0, maxMm: 0, uMm: 0 };

/** The two figures for the footage at the weld point, and what they say of each other. */
interface Figures {
  readonly stated: FootageAtStop;
  readonly counted: CountedFootage | string;
  readonly comparison: FootageComparison | null;
}

/** One stop with what it affected, from the model of its string. @throws LengthError for lengths that contradict themselves */
export function stopAnswer(model: StringModel, { stop, end, isRepeated }: StopWithEnd<SeamEvent>, influenceMm: number): SeamStopAnswer {
  const { line, records } = model;
  const figures = figuresOf(model, stop);
  const affected = affectedBy(model, stop, figures, influenceMm);
  const setup = line.setupAt(microseconds(stop.observedAt));
  const setupRow = records.setups.find(({ id }) => id === setup?.id);
  return {
    event: linkOf(stop), at: stop.observedAt, cause: stop.cause ?? '', lasted: lasted(stop, end), footage: footageAnswer(stop, figures),
    lineSetup: setupRow === undefined ? null : linkTo('line-set-up', setupRow, `from ${setupRow.observedAt}`),
    atWeldPoint: affected(WELD_POINT),
    stations: (setup?.stations ?? []).map(({ name, role, path }) => ({ name, isHangOff: role === 'hang-off', affected: affected(path) })),
    remarks: [...(setup === null ? [NO_SETUP] : []), ...(isRepeated ? [REPEATED] : [])],
  };
}

/** The pipe that stood at the weld point alone, without a length of influence. @throws LengthError for lengths that contradict themselves */
export const stoodAtWeldPoint = (model: StringModel, stop: SeamEvent): AffectedAnswer => affectedBy(model, stop, figuresOf(model, stop), 0)(WELD_POINT);

function affectedBy({ lengths, records }: StringModel, { observedAt }: SeamEvent, figures: Figures, influenceMm: number): (path: PathDistance) => AffectedAnswer {
  const atUs = microseconds(observedAt);
  const stopped: StoppedLine = { net: lengths.nets.at(atUs), scaleRelativeU: lengths.lengths.scaleRelativeU, influenceMm };
  const since = IntervalSet.from(records.cutOuts.filter((cut) => microseconds(cut.observedAt) > atUs).map(({ span }) => span));
  return (path) => affectedAnswer(figures, path, stopped, since);
}

function figuresOf({ lengths }: StringModel, { span, fromUMm, observedAt }: SeamEvent): Figures {
  const stated = { footageMm: span.fromMm, uMm: Number(fromUMm) };
  const counted = countedFootage(lengths, microseconds(observedAt));
  return { stated, counted, comparison: typeof counted === 'string' ? null : compareFootages(stated, counted) };
}

function footageAnswer({ given }: SeamEvent, { stated, counted, comparison }: Figures): StopFootageAnswer {
  const shown = ({ footageMm, uMm }: FootageAtStop) => ({ footageMm, plusMinusMm: Math.ceil(COVERAGE_FACTOR * uMm) });
  return {
    byRecord: { ...shown(stated), basis: given.from.footageMm == null ? 'counter reading' : 'footage' },
    byCounter: typeof counted === 'string' ? null : { ...shown(counted), basis: counted.basis },
    differenceMm: comparison?.differenceMm ?? null,
    agrees: comparison?.agrees ?? null,
    words: typeof counted === 'string' ? `${counted}: the intervals rest on the record alone` : (comparison?.words ?? ''),
  };
}

/** @param since pipe that was cut out after the stop */
function affectedAnswer({ stated, counted, comparison }: Figures, path: PathDistance, line: StoppedLine, since: IntervalSet): AffectedAnswer {
  const byRecord = affectedPipe(stated, path, line);
  const byCounter = typeof counted === 'string' ? null : affectedPipe(counted, path, line);
  const together = byCounter === null || comparison?.isHeld !== true ? byRecord : eitherWay(byRecord, byCounter);
  const shown = (one: AffectedPipe | NoPipe | null): AffectedPipe | null => (typeof one === 'string' ? null : one);
  const both = { byRecord: shown(byRecord), byCounter: shown(byCounter) };
  if (typeof together === 'string') return { certain: null, possible: null, cutOutSince: [], ...both, because: NO_PIPE[together] };
  const cutOutSince = since.intersect(IntervalSet.of(together.possible)).intervals.map(({ fromMm, toMm }) => ({ fromMm, toMm }));
  return { certain: together.certain, possible: together.possible, cutOutSince, ...both, because: null };
}

function lasted(stop: SeamEvent, end: SeamEvent | null): StopLastedAnswer {
  if (end === null) return { until: null, endedBy: null, seconds: null, isOpen: true };
  const seconds = (microseconds(end.observedAt) - microseconds(stop.observedAt)) / 1e6;
  return { until: end.observedAt, endedBy: linkOf(end), seconds, isOpen: false };
}

const linkOf = (event: SeamEvent): RecordLink => linkTo('seam-event', event, `${event.event} at ${event.span.fromMm} mm`);
