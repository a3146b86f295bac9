import type { Indication } from '../indications/indication.entity.js';
import type { Work } from '../work-standing/work-standings.service.js';
import type { IndicationEvaluation } from './indication-evaluation.entity.js';

/** What a qualification of who evaluated is held against: the method of the prove-up, or else that of the indication, at its level; null without either. */
export function workOfEvaluation({ method, technique, level }: Pick<IndicationEvaluation, 'method' | 'technique' | 'level'>, indication: Pick<Indication, 'method'>): Work | null {
  const by = method ?? indication.method;
  return by === null ? null : { method: by, level: Number(level), variables: technique === null ? [] : [{ name: 'technique', value: technique, unit: null }] };
}
