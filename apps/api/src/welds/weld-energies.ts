import { arcEnergy, heatInputAsme, heatInputEn, linearEnergy, thermalEfficiency, type HeatInput, type HeatInputMethod, type Quantity } from '#libs/welding';
import type { Weld } from './weld.entity.js';

/** The one reading of a variable, none, or that there are several: of several nobody says which the weld was made with. */
type Only = { readonly quantity: Quantity | null } | { readonly several: string };

/** Energy per length of a weld by each method, from its readings; or why there is none. */
export function weldEnergies({ readings }: Pick<Weld, 'readings'>, process: string): HeatInput[] {
  const only = (variable: string): Only => {
    const [first, second] = readings.filter((reading) => reading.variable === variable);
    if (second !== undefined) return { several: `several values of ${variable} were reported` };
    return { quantity: first === undefined ? null : { printed: first.printed, unit: first.unit } };
  };
  const by = (method: HeatInputMethod, variables: readonly [string, ...string[]], compute: (quantities: readonly (Quantity | null)[]) => HeatInput): HeatInput => {
    const found = variables.map(only);
    const several = found.find((one) => 'several' in one);
    if (several !== undefined) return { method, notComputable: several.several, isMissing: false };
    return compute(found.map((one) => ('quantity' in one ? one.quantity : null)));
  };
  const arc = ([voltage = null, current = null, travelSpeed = null]: readonly (Quantity | null)[]) => ({ voltage, current, travelSpeed });
  const ARC = ['voltage', 'current', 'travel-speed'] as const;
  return [
    by('arc-energy', ARC, (quantities) => arcEnergy(arc(quantities))),
    thermalEfficiency(process) === null
      ? { method: 'heat-input-en', notComputable: `EN 1011-1 gives no efficiency for process ${process}`, isMissing: false }
      : by('heat-input-en', ARC, (quantities) => heatInputEn(arc(quantities), process)),
    by('heat-input-asme', ARC, (quantities) => heatInputAsme(arc(quantities))),
    by('linear-energy', ['power', 'travel-speed'], ([power = null, speed = null]) => linearEnergy({ power, speed })),
  ];
}
