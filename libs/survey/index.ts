export type { SurveyStation, SurveyTieIn } from './check-survey.js';
export { type MdInterval, TVD_TOLERANCE_MM } from './monotone-run.js';
export { SurveyError } from './survey-error.js';
export { type PathPosition, type SectionPoint, type StationPosition, WellPath, wellPath } from './well-path.js';
