import type { Inspection } from './inspection.entity.js';

/** What people call an inspection. */
export const inspectionLabel = ({ kind, characteristic }: Pick<Inspection, 'kind' | 'characteristic'>): string => `${kind}: ${characteristic}`;
