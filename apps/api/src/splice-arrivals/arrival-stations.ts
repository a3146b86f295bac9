import { roundMm } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { LineStation } from '../line/line-knowledge.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import { attempt } from '../trace/attempt.js';
import { linkTo } from '../trace/record-link.js';
import { compareSighting, windowAt, type Uncertain } from './at-station.js';
import { stateOf } from './arrival-state.js';
import type { Gate } from './gate.js';
import type { KnownString } from './known-string.js';
import type { SpliceAtStation, SpliceSightingAnswer } from './splice-arrivals.dto.js';

/** Where a splice is taken to be, and in words by what. */
export interface TakenPlace extends Uncertain {
  readonly by: string;
}

/** A splice at each station of the set-up that was in force when it passed the weld point, or of the last one. @throws LengthError */
export function atStations(known: KnownString, place: TakenPlace, sightings: readonly SpliceStep[]): SpliceAtStation[] {
  const passedUs = known.line.reach.firstUs(place.mm) ?? Infinity;
  const setup = known.model.line.setupAt(passedUs);
  return (setup?.stations ?? []).map((station) => atStation(known, place, station, sightings.filter((step) => step.station === station.name)));
}

function atStation(known: KnownString, place: TakenPlace, { name, path }: LineStation, sightings: readonly SpliceStep[]): SpliceAtStation {
  const window = windowAt(place, path, known.line);
  const isUpstream = path.minMm + path.maxMm < 0;
  const state = stationState(known, place, window);
  return {
    name, isUpstream, expected: { bestMm: window.bestMm, gate: window.span, restsOn: [place.by] }, state,
    sightings: sightings.map((step) => sightingAnswer(known, place, step)),
    isMissing: state === 'past' && !isUpstream && sightings.length === 0,
  };
}

function stationState({ line, reached }: KnownString, { mm }: Uncertain, window: Gate): SpliceAtStation['state'] {
  const thereUs = line.reach.firstUs(window.bestMm) ?? Infinity;
  return line.nets.findCutOut(mm, thereUs) === null ? stateOf(window.span, reached?.footageMm ?? null) : 'cut-out';
}

/** Whether the counter stood, when it was seen, where the stated distance says. */
function sightingAnswer({ model, line }: KnownString, place: TakenPlace, step: SpliceStep): SpliceSightingAnswer {
  const atUs = microseconds(step.observedAt);
  const said = { step: linkTo('splice-step', step, `seen at ${step.station ?? ''}`), at: step.observedAt };
  const nothing = (why: string, weldFootageMm: number | null = null): SpliceSightingAnswer =>
    ({ ...said, weldFootageMm, differenceMm: null, plusMinusMm: null, agrees: null, words: `nothing can be said because ${why}` });
  const weld = attempt(() => model.lengths.weldFootageAt(atUs));
  if (weld.found === null) return nothing(weld.why.detail);
  const { footageMm, uMm, basis } = weld.found;
  const shownMm = roundMm(footageMm);
  if (basis === 'after the last reading') return nothing('the master counter was not read since, and the line may have run', shownMm);
  const station = model.line.setupAt(atUs)?.stations.find(({ name }) => name === step.station);
  if (station === undefined) return nothing('the set-up in force then has no such station', shownMm);
  const compared = compareSighting(place, { mm: footageMm, uMm }, station.path, { net: line.nets.at(atUs), scaleRelativeU: line.scaleRelativeU });
  return { ...said, weldFootageMm: shownMm, ...compared };
}
