import { feasibleDispositions, type Ahead, type LineMoment, type Minutes, type PlaceClock } from '#libs/hold-clock';
import { readingOf, roundedDown, speedText } from '../time-left/time-left.js';
import type { ClockItem } from './clock-sources.js';
import { STALE_AFTER_S, type ClockItemAnswer, type LineRunAnswer, type LineState, type MinutesAnswer } from './hold-clock.dto.js';

/** An open thing with its clock, as answered: metres rounded down, minutes cautiously. */
export function clockItemAnswer(moment: LineMoment, { what, record, because: open }: ClockItem, clock: PlaceClock): ClockItemAnswer {
  const { state, where, parts, hangOff, stations, because } = clock;
  return {
    what, record, open, state, where, parts: parts.map((part) => ({ ...part })), because,
    leftMm: null, plusMinusMm: null, minutes: null, ...(hangOff === null ? {} : aheadAnswer(hangOff)),
    stations: stations.map(({ name, role, ...ahead }) => ({ name, role, ...aheadAnswer(ahead) })),
    dispositions: where === 'not-known' ? [] : feasibleDispositions(moment, parts).map((one) => ({ ...one })),
  };
}

interface AheadAnswer {
  readonly leftMm: number;
  readonly plusMinusMm: number;
  readonly minutes: MinutesAnswer | null;
}

const aheadAnswer = ({ leftMm, plusMinusMm, minutes }: Ahead): AheadAnswer =>
  ({ leftMm: Math.floor(leftMm), plusMinusMm, minutes: minutes === null ? null : minutesAnswer(minutes) });

const minutesAnswer = ({ least, central, greatest }: Minutes): MinutesAnswer => ({
  least: least === null ? null : roundedDown(least), central: central === null ? null : roundedDown(central),
  greatest: greatest === null ? null : (Math.ceil(greatest * 10 - 1e-6) / 10).toFixed(1),
});

/** How the line runs, as answered. */
export function lineRunAnswer(moment: LineMoment): LineRunAnswer {
  const { pace, setup, ageUs } = moment;
  const state = stateOf(moment);
  const told = {
    state, because: wordsOf(moment, state), lastReading: lastReadingOf(moment), readingAgeS: ageUs === null ? null : Math.floor(ageUs / 1e6), staleAfterS: STALE_AFTER_S,
    lineSetupId: setup?.id ?? null,
  };
  if (pace === null || state === 'stale') return { ...told, speedMPerMin: null, leastMPerMin: null, greatestMPerMin: null, speedReadings: null, overS: null, readings: [] };
  return {
    ...told, speedMPerMin: speedText(pace.mmPerUs), leastMPerMin: speedText(pace.leastMmPerUs), greatestMPerMin: speedText(pace.greatestMmPerUs),
    speedReadings: pace.readings, overS: Math.floor(pace.overUs / 1e6), readings: pace.run.map((one) => ({ ...readingOf(one) })),
  };
}

const lastReadingOf = ({ figure }: LineMoment): LineRunAnswer['lastReading'] => {
  const [last] = figure?.readings ?? [];
  return last === undefined ? null : { ...readingOf(last) };
};

function stateOf({ isStale, pace }: LineMoment): LineState {
  if (isStale) return 'stale';
  if (pace === null) return 'not-known';
  return pace.mmPerUs > 0 ? 'running' : pace.mmPerUs < 0 ? 'backwards' : 'standing';
}

function wordsOf(moment: LineMoment, state: LineState): string {
  const seconds = Math.floor((moment.ageUs ?? 0) / 1e6);
  const speed = speedText(moment.pace?.mmPerUs ?? 0);
  return {
    running: `the line runs at ${speed} m/min`, standing: 'the line stood by its last two readings', backwards: `the line runs backwards at ${speed} m/min`,
    stale: `the last counter reading is ${seconds} s old${seconds > STALE_AFTER_S ? '' : ', and the only recent one'}: nobody knows how far the line ran since`,
    'not-known': moment.unknown ?? 'fewer than two recent counter readings, so no speed',
  }[state];
}
