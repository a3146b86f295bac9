export { countsOn } from './counts-on.js';
export type { Look, Outcome, RepairEvent, Sensitivity } from './look.js';
export { OPEN_REASONS, reinspection, turnedDownOn, type On, type OpenPoint, type OpenReason, type Reinspection } from './reinspection.js';
export { compareSensitivity, type Likeness } from './sensitivity.js';
