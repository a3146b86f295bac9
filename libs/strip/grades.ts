import { EN_10149_2_GRADES } from './grades-en-10149.js';
import { API_5CT_GRADES, API_5ST_GRADES } from './grades-api-tubulars.js';
import { API_5L_GRADES } from './grades-api-5l.js';
import type { Grade } from './grade.js';

/** Every grade that is known here. No two have the same standard and name. */
export const GRADES: readonly Grade[] = [...EN_10149_2_GRADES, ...API_5L_GRADES, ...API_5CT_GRADES, ...API_5ST_GRADES];

/** The grade of this name in this standard, letter for letter, or null. */
export function findGrade(standard: string, grade: string): Grade | null {
  return GRADES.find((one) => one.standard === standard && one.grade === grade) ?? null;
}
