import type { CrewMember, Person } from './step.js';

/** When the first of them came. */
export const PEOPLE_AT = '2026-02-16T07:00:00Z';

/** The invented people of the demo, by what they do there; the administrator first. */
export const PEOPLE: readonly Person[] = [
  { name: 'Tomke Arends', signInName: 'tomke', roles: ['administrator'] },
  { name: 'Ilka Brandt', signInName: 'ilka', roles: ['qc-inspector'] },
  { name: 'Piet Solberg', signInName: 'piet', roles: ['qc-inspector'] },
  { name: 'Rasmus Feld', signInName: 'rasmus', roles: ['materials-engineer'] },
  { name: 'Merle Okonjo', signInName: 'merle', roles: ['auditor'] },
];

/** Welder and seam operator: their work is keyed by the inspectors. */
export const CREW: readonly CrewMember[] = [
  { key: 'jorun', name: 'Jorun Halvik', enteredAt: '2026-02-16T07:20:00Z' },
  { key: 'teodor', name: 'Teodor Lasch', enteredAt: '2026-02-16T07:22:00Z' },
];
