import { LengthError } from '#libs/length';
import { SurveyError } from '#libs/survey';
import { Refused } from '../http/problem.js';

/** Runs `work`; a question that the records cannot answer becomes a refusal (422) that says why. */
export async function answered<T>(work: () => T | Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof LengthError) throw new Refused(422, error.code, `${error.message}.`);
    if (error instanceof SurveyError) throw new Refused(422, 'survey-does-not-reach', error.message);
    throw error;
  }
}
