import type { Weld } from './weld.entity.js';

/** What people call a weld, beside its kind: `of 2026-03-02T08:10:00.000000Z`. */
export const weldLabel = ({ observedAt }: Pick<Weld, 'observedAt'>): string => `of ${observedAt}`;
