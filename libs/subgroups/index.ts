export { Boundaries } from './boundaries.js';
export { Exclusions } from './exclusions.js';
export { lengthsOf } from './lengths.js';
export type { CountedLength } from './lengths.js';
export type { Boundary, Exclusion, SubgroupPlan } from './plan.js';
export { subgroupsOf } from './subgroups.js';
export type { LeftOutPlace, Subgroup, Subgroups } from './subgroups.js';
export { spanOfWindows, windowsOf } from './windows.js';
export type { LaidWindows, LeftOutPipe, WindowSubgroup } from './windows.js';
