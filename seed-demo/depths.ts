import { HANG_OFF_PATH_MM } from './line.js';
import { endOf, readingOf, RUNS, timeOf } from './runs.js';
import { entered, later, type Step } from './step.js';

/** The pipe that hangs: this much was made before it. */
const HUNG_MM = 2_840;

/** True footage at the weld point, depth of the shoe as tagged, mm. The tag at 900 m of pipe was read 1.1 m too deep. */
const TIES: readonly (readonly [weldMm: number, shoeMdMm: number, note: string | null])[] = [
  [196_000, 84_815, null],
  [386_100, 179_180, null],
  [610_642, 290_296, 'Tagged twice, same depth.'],
  [900_000, 434_690, 'Tagged once, in the dark.'],
  [1_020_000, 493_165, null],
  [1_231_847, 598_300, 'Tagged twice, 10 mm apart.'],
];

const hungAt = timeOf(HUNG_MM + HANG_OFF_PATH_MM);

const hangOff = entered('ilka', 'hang-offs', 'hang-off 2', {
  observedAt: hungAt, stringId: '@string 2', mdMm: 2_500, mdUMm: '5', note: 'Lead end cut square above the clamp.',
  from: { counterReading: readingOf(HUNG_MM + HANG_OFF_PATH_MM), station: 'hang-off', uMm: '10' },
});

/** Tagged while the line stood, after the run that ended there. */
const ties: readonly Step[] = TIES.map(([weldMm, shoeMdMm, note]) => {
  const run = RUNS.find(({ toMm }) => toMm === weldMm);
  const at = later(run === undefined ? timeOf(weldMm) : endOf(run), 12);
  return entered('rasmus', 'shoe-ties', `tie at ${weldMm}`, {
    observedAt: at, stringId: '@string 2', place: { counterReading: readingOf(weldMm) }, shoeMdMm, shoeUMm: '80',
    method: 'Wireline tag at the fold', note,
  });
});

/** Where the pipe hangs and how deep the fold was found. */
export const DEPTHS: readonly Step[] = [hangOff, ...ties];
