/**
 * Thermal efficiency k of a welding process, by its number in ISO 4063, decimal text: EN 1011-1, table 1, and
 * ISO/TR 17671-1, as training slides print it; two further pages give the same groups.
 */
const EFFICIENCIES: ReadonlyMap<string, string> = new Map([
  ['121', '1.0'], // submerged arc with solid wire
  ['111', '0.8'], // covered electrode
  ['114', '0.8'], // self-shielded cored wire
  ['131', '0.8'], // MIG
  ['135', '0.8'], // MAG
  ['136', '0.8'], // flux-cored wire, active gas
  ['137', '0.8'], // flux-cored wire, inert gas
  ['138', '0.8'], // metal-cored wire, active gas
  ['139', '0.8'], // metal-cored wire, inert gas
  ['141', '0.6'], // TIG
  ['15', '0.6'], // plasma
]);

/** The process numbers that have an efficiency. */
export const PROCESSES_WITH_EFFICIENCY: readonly string[] = Object.freeze([...EFFICIENCIES.keys()]);

/**
 * k of a process; null for every process without one there, such as high-frequency seam welding and beam processes. A
 * number is matched digit by digit: a variant, such as 151, does not take the efficiency of its group.
 */
export function thermalEfficiency(process: string): string | null {
  return EFFICIENCIES.get(process) ?? null;
}
