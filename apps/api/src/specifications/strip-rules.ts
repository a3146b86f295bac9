import type { StripRules } from '#libs/strip';
import type { StripSpecification } from './strip-specification.entity.js';

/** A revision as values are held against it. */
export function rulesOf({ requirements, ownTables, rounding, decision, guardFactor }: StripSpecification): StripRules {
  return { requirements, ownTables, conformity: { rounding, decision, guardFactor } };
}
