import type { Boundary, Exclusion, SubgroupPlan } from '#libs/subgroups';

/*
 * Subgroups as the trade says them, by walking the pipe millimetre by millimetre and the readings one by one. Its cost grows with the
 * length of the pipe; it exists to check the library, and shares nothing with it but the shape of what goes in.
 */

export interface PlainPipe {
  readonly boundaries: readonly Boundary[];
  readonly exclusions: readonly Exclusion[];
}

export interface PlainPlace {
  readonly fromMm: number;
  readonly toMm: number;
}

/** What becomes of a reading: the subgroup that it is in, by the reading that begins it, or why it is in none. */
export type PlainFate = number | string;

const isBoundary = (pipe: PlainPipe, mm: number): Boundary | undefined => pipe.boundaries.find(({ atMm }) => atMm === mm);
const excludedAt = (pipe: PlainPipe, mm: number): number => pipe.exclusions.findIndex(({ fromMm, toMm }) => mm >= fromMm && mm < toMm);

function whyAlone(pipe: PlainPipe, { fromMm, toMm }: PlainPlace): string | null {
  let [exclusion, over] = [Infinity, null as string | null];
  for (let mm = fromMm; mm < toMm; mm += 1) {
    const index = excludedAt(pipe, mm);
    if (index >= 0) exclusion = Math.min(exclusion, index, ...pipe.exclusions.flatMap((one, at) => (mm >= one.fromMm && mm < one.toMm ? [at] : [])));
    if (mm > fromMm) over ??= isBoundary(pipe, mm)?.label ?? null;
  }
  if (exclusion !== Infinity) return pipe.exclusions[exclusion]?.because ?? null;
  return over === null ? null : `over a boundary: ${over}`;
}

/** The first boundary met when walking from one place up to another, the first millimetre left out. */
function metOn(pipe: PlainPipe, fromMm: number, toMm: number): Boundary | null {
  for (let mm = fromMm + 1; mm <= toMm; mm += 1) {
    const met = isBoundary(pipe, mm);
    if (met !== undefined) return met;
  }
  return null;
}

/** The fate of each reading, one after the other. */
export function plainFates(places: readonly PlainPlace[], pipe: PlainPipe, { size, withinMm, everyMm }: SubgroupPlan): PlainFate[] {
  const fates: (PlainFate | null)[] = places.map((place) => whyAlone(pipe, place));
  places.forEach((place, index) => {
    if (fates[index] !== null) return;
    const begun = [...new Set(fates.filter((fate): fate is number => typeof fate === 'number'))].map((first) => places[first] as PlainPlace);
    if (begun.some((first) => metOn(pipe, first.fromMm, place.fromMm) === null && place.fromMm - first.fromMm < everyMm)) {
      fates[index] = `between subgroups: less than ${(everyMm / 1000).toFixed(3)} m after the one before began`;
      return;
    }
    const beside = places.flatMap((other, at) => (at >= index && fates[at] === null && other.fromMm - place.fromMm <= withinMm && metOn(pipe, place.fromMm, other.fromMm) === null ? [at] : []));
    if (beside.length >= size) for (const at of beside.slice(0, size)) fates[at] = index;
    else {
      const end = metOn(pipe, place.fromMm, place.fromMm + withinMm);
      fates[index] = end === null ? `too few beside it within ${(withinMm / 1000).toFixed(3)} m` : `too few beside it before ${end.label}`;
    }
  });
  return fates as PlainFate[];
}

/** Windows, by walking from the beginning of the pipe to an end: subgroups by the places at which their windows begin. */
export function plainWindows(endMm: number, pipe: PlainPipe, { size, withinMm, everyMm }: SubgroupPlan, windowMm: number): number[][] {
  const apart = size === 1 ? windowMm : Math.max(windowMm, Math.floor(withinMm / (size - 1)));
  const found: number[][] = [];
  let next: number | null = null;
  for (let mm = 0; mm < endMm; mm += 1) {
    if (mm === 0 || isBoundary(pipe, mm) !== undefined) next = null;
    if (next === null && excludedAt(pipe, mm) < 0) next = mm;
    if (next !== mm) continue;
    const begun = mm;
    const begins = Array.from({ length: size }, (_, index) => begun + index * apart);
    const last: number = begun + (size - 1) * apart + windowMm - 1;
    next = mm + Math.max(everyMm, last + 1 - mm);
    const isFree = begins.every((begin) => Array.from({ length: windowMm }, (_, index) => excludedAt(pipe, begin + index)).every((one) => one < 0));
    if (last < endMm && isFree && metOn(pipe, mm, last) === null) found.push(begins);
  }
  return found;
}

/** Lengths to count over, by the number of the length that each millimetre is counted in; null where it is left out. */
export function plainLengths(endMm: number, pipe: PlainPipe, windowMm: number): (number | null)[] {
  let [no, since] = [-1, windowMm];
  return Array.from({ length: endMm }, (_, mm) => {
    if (since === windowMm || isBoundary(pipe, mm) !== undefined) [no, since] = [no + 1, 0];
    since += 1;
    return excludedAt(pipe, mm) < 0 ? no : null;
  });
}
