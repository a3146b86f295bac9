import type { Person } from './step.js';

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
