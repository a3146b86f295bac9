export { feasibleDispositions, type DispositionKind, type FeasibleDisposition } from './dispositions.js';
export { LineMoment, WHERES, type ClockSetup, type ClockStation, type PartOfPlace, type Where } from './line-moment.js';
export { paceAt, RECENT_US, type Pace } from './pace.js';
export { CLOCK_STATES, placeClock, type Ahead, type ClockState, type Minutes, type PlaceClock, type StationAhead } from './place-clock.js';
