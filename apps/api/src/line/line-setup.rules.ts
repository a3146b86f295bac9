import { refusedField } from '../http/problem.js';
import type { StationColumn } from './line-setup.entity.js';

/** Refuses stations that share a name, two places to hang at, and a distance whose least is above its greatest. */
export function refuseContradictingStations(stations: readonly StationColumn[]): void {
  const names = new Set<string>();
  let hangOff: string | null = null;
  for (const [index, { name, role, pathMinMm, pathMaxMm }] of stations.entries()) {
    const field = `stations[${index}]`;
    if (names.has(name)) throw refusedField('repeated-name', `${field}.name`, name, 'a name that no other station has');
    names.add(name);
    if (role === 'hang-off' && hangOff !== null) {
      throw refusedField('second-hang-off', `${field}.role`, role, `no role: the pipe hangs at ${hangOff}`);
    }
    if (role === 'hang-off') hangOff = name;
    if (pathMaxMm < pathMinMm) {
      throw refusedField('reversed-range', `${field}.pathMaxMm`, pathMaxMm, `at least pathMinMm, ${pathMinMm} mm`);
    }
  }
}
