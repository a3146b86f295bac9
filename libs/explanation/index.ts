/** The record a value was taken from, at the version that was read. */
export interface RecordRef {
  kind: string;
  id: string;
  version: number;
}

/** One named value in an explanation, with its unit and, where it was recorded rather than computed, its record. */
export interface ExplainedValue {
  name: string;
  value: number | string;
  unit?: string;
  record?: RecordRef;
}

/** One step of a derivation: what was done, by which formula from which source, from what to what. */
export interface ExplanationStep {
  what: string;
  formula: string;
  source: string;
  inputs: ExplainedValue[];
  result: ExplainedValue;
}
