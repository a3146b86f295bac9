import type { CutOut, Place } from '#libs/length';

export interface WalkedString {
  cutOuts: readonly CutOut[];
  hangOffFootageMm: number;
  hangOffMdMm: number;
  hangOffUs: number;
  pathMm: number;
}

export interface WalkedPlace {
  place: Place['place'];
  mdMm?: number;
  pathMm?: number;
}

/**
 * The literal twin of LengthModel.placeOf for ratio 1: the pipe laid out millimetre by millimetre and walked along.
 * Each millimetre of pipe is two half-cells; below the hang-off, the half-cells go down the outer wall one by one until
 * as many are left to come up the inner wall. Returns null while the pipe is short of the hang-off.
 */
export function walkToPlace(string: WalkedString, footageMm: number, weldFootageMm: number, atUs: number): WalkedPlace | null {
  const isCut = (mm: number) => string.cutOuts.some((cut) => cut.atUs <= atUs && cut.fromMm <= mm && mm < cut.toMm);
  if (isCut(footageMm)) return { place: 'cut-out' };
  if (footageMm >= weldFootageMm) return { place: 'not-yet-made' };

  const fromWeld: number[] = [];
  for (let mm = weldFootageMm - 1; mm >= 0; mm -= 1) if (!isCut(mm)) fromWeld.push(mm);
  const pathMm = fromWeld.indexOf(footageMm) + 1;
  const line = fromWeld.slice(0, string.pathMm);
  if (atUs < string.hangOffUs) return pathMm > string.pathMm ? { place: 'lead-end' } : { place: 'on-the-line', pathMm };

  const hung = fromWeld.slice(string.pathMm).filter((mm) => mm >= string.hangOffFootageMm);
  if (fromWeld.length < string.pathMm || line.some((mm) => mm < string.hangOffFootageMm)) return null;
  if (footageMm < string.hangOffFootageMm) return { place: 'lead-end' };
  return walkBelowHangOff(hung.reverse(), footageMm, string.hangOffMdMm) ?? { place: 'on-the-line', pathMm };
}

/** From the hang-off down the outer wall and up the inner: depth of the first half-cell's start of this footage. */
function walkBelowHangOff(fromHangOff: readonly number[], footageMm: number, hangOffMdMm: number): WalkedPlace | null {
  const halfCells = fromHangOff.flatMap((mm) => [{ mm, isStart: true }, { mm, isStart: false }]);
  let mdMm = hangOffMdMm;
  let toGo = halfCells.length;
  let walked = 0;
  for (const { mm, isStart } of halfCells) {
    const isOuter = walked < toGo;
    if (isStart && mm === footageMm) return { place: isOuter ? 'outer-wall' : 'inner-wall', mdMm };
    mdMm += isOuter ? 0.5 : -0.5;
    walked += 1;
    toGo -= 1;
  }
  return null;
}
