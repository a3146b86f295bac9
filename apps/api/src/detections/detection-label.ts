import type { Detection } from './detection.entity.js';

/** What people call a detection: `of 2026-03-02T08:15:00.000000Z`. */
export const detectionLabel = ({ observedAt }: Pick<Detection, 'observedAt'>): string => `of ${observedAt}`;
