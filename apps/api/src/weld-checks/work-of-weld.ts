import type { EventVariable } from '#libs/validity';
import type { WeldProcedureVersion } from '../weld-procedures/weld-procedure.entity.js';
import type { Weld } from '../welds/weld.entity.js';
import { firstOfEach } from '../work-standing/open-points.js';
import type { Work } from '../work-standing/work-standings.service.js';

/** The process as it was chosen for the weld, or else that of its procedure. */
export const processOf = ({ chosen }: Pick<Weld, 'chosen'>, { process }: Pick<WeldProcedureVersion, 'process'>): string =>
  chosen.find(({ choice }) => choice === 'process')?.value ?? process;

/** What the welder did, as a qualification covers it: by the names of the weld's variables and choices. */
export function workOfWeld(weld: Pick<Weld, 'readings' | 'chosen'>, procedure: Pick<WeldProcedureVersion, 'process'>): Work {
  const measured = weld.readings.map(({ variable, printed, unit }): EventVariable => ({ name: variable, value: printed, unit }));
  const chosen = weld.chosen.filter(({ choice }) => choice !== 'process').map(({ choice, value }): EventVariable => ({ name: choice, value, unit: null }));
  return { method: processOf(weld, procedure), level: null, variables: firstOfEach([...measured, ...chosen]) };
}
