export { missingIn, noiseOf, type WatchedCell } from './cell.js';
export { possibleRuns, type CellSpan, type NumberedCell } from './possible-runs.js';
export { blocksToRead, RunWatch, type FoundRuns, type RunRules } from './run-watch.js';
export { TooManyRuns, type KeptRuns, type SampleRun } from './sample-runs.js';
export { implausibleWindows, offSeamWindows, quietWindows, saturatedWindows, USUAL_OF_AT_LEAST, usualNoise, type WindowFinding } from './window-rules.js';
export { windowsOf, type Window } from './windows.js';
