/**
 * Conversion between hardness scales of non-austenitic steel. It is for information: every result is approximate, and a
 * converted value never changes a reported one nor a verdict, which is given on the scale that was measured.
 *
 * Printed cells: ASTM E140-12b, Table 1, as an open transcription gives them. Between them the closed form
 *   HV = (223 HRC + 14500) / (100 − HRC)
 * holds from 20 to 65 HRC: within 0.5 HV of the table at 45, 50 and 60 HRC, within 2 HV from 20 to 60 HRC where it was
 * compared with the table (20, 30, 40 HRC), and 4 HV low at 65. HBW has no closed form here: its cells only.
 */
export interface ConvertedHardness {
  readonly value: number;
  readonly scale: 'HV' | 'HBW' | 'HRC';
  /** Always: one scale does not determine another. */
  readonly approximate: true;
  readonly basis: 'printed cell' | 'closed form';
  /** How far from the table the closed form was found to be, at most, in HV; null for a printed cell. */
  readonly withinHv: number | null;
}

export interface HardnessCell {
  readonly hrc: number;
  readonly hv: number;
  readonly hbw: number;
}

export const E140_CELLS: readonly HardnessCell[] = [
  { hrc: 20, hv: 238, hbw: 226 },
  { hrc: 30, hv: 302, hbw: 286 },
  { hrc: 40, hv: 392, hbw: 371 },
  { hrc: 45, hv: 446, hbw: 421 },
  { hrc: 50, hv: 513, hbw: 481 },
];

const CLOSED_FORM_FROM_HRC = 20;
const CLOSED_FORM_TO_HRC = 65;

/** About the HV of an HRC: the printed cell where there is one, otherwise the closed form; null outside 20 to 65 HRC. */
export function hvFromHrc(hrc: number): ConvertedHardness | null {
  const cell = E140_CELLS.find((one) => one.hrc === hrc);
  return cell === undefined ? closedFormHv(hrc) : printed(cell.hv, 'HV');
}

/** About the HV of an HRC by the closed form alone; null outside 20 to 65 HRC. */
export function closedFormHv(hrc: number): ConvertedHardness | null {
  if (!(hrc >= CLOSED_FORM_FROM_HRC && hrc <= CLOSED_FORM_TO_HRC)) return null;
  return { value: hvOf(hrc), scale: 'HV', approximate: true, basis: 'closed form', withinHv: withinHv(hrc) };
}

/** About the HBW of an HRC: null where no cell is printed, as there is no closed form. */
export function hbwFromHrc(hrc: number): ConvertedHardness | null {
  const cell = E140_CELLS.find((one) => one.hrc === hrc);
  return cell === undefined ? null : printed(cell.hbw, 'HBW');
}

/** About the HRC of an HV: the printed cell, otherwise HRC = (100 HV − 14500) / (HV + 223); null outside 20 to 65 HRC. */
export function hrcFromHv(hv: number): ConvertedHardness | null {
  const cell = E140_CELLS.find((one) => one.hv === hv);
  if (cell !== undefined) return printed(cell.hrc, 'HRC');
  if (!(hv >= hvOf(CLOSED_FORM_FROM_HRC) && hv <= hvOf(CLOSED_FORM_TO_HRC))) return null;
  const hrc = (100 * hv - 14_500) / (hv + 223);
  return { value: hrc, scale: 'HRC', approximate: true, basis: 'closed form', withinHv: withinHv(hrc) };
}

const hvOf = (hrc: number): number => (223 * hrc + 14_500) / (100 - hrc);
const withinHv = (hrc: number): number => (hrc <= 60 ? 2 : 4);

function printed(value: number, scale: ConvertedHardness['scale']): ConvertedHardness {
  return { value, scale, approximate: true, basis: 'printed cell', withinHv: null };
}
