import type { SpliceStep } from './splice-step.entity.js';

/** Where a step belongs: its stage, and for a sighting the station; each station is a place of its own. */
export const placeOfStep = ({ stage, station }: Pick<SpliceStep, 'stage' | 'station'>): string => (station === null ? stage : `${stage} at ${station}`);

/** What people call a step of a splice, told from others of its stage by its time: `after-forming of 2026-03-02T08:40:00.000000Z`, `station-sighting at UT of ...`. */
export const stepLabel = ({ stage, station, observedAt }: Pick<SpliceStep, 'stage' | 'station' | 'observedAt'>): string => `${placeOfStep({ stage, station })} of ${observedAt}`;
