import type { Repair } from './repair.entity.js';

/** What people call a repair: `grinding at 10000 mm`. */
export const repairLabel = ({ method, span }: Pick<Repair, 'method' | 'span'>): string => `${method} at ${span.fromMm} mm`;
