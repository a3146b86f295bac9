import type { IndicationEvaluation } from './indication-evaluation.entity.js';

/** What people call an evaluation: `hold, level 2`. */
export const evaluationLabel = ({ verdict, level }: Pick<IndicationEvaluation, 'verdict' | 'level'>): string => `${verdict}, level ${level}`;
