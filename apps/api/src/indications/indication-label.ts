import type { Indication } from './indication.entity.js';

/** What people call an indication: `penetrator at 10000 mm`. */
export const indicationLabel = ({ imperfection, span }: Pick<Indication, 'imperfection' | 'span'>): string =>
  `${imperfection ?? 'indication'} at ${span.fromMm} mm`;
