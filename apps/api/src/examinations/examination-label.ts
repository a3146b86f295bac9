import type { Examination } from './examination.entity.js';

/** What people call an examination: `UT at 10000 mm`. */
export const examinationLabel = ({ method, span }: Pick<Examination, 'method' | 'span'>): string => `${method} at ${span.fromMm} mm`;
