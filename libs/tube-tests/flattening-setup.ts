import { compare, decimal, times, type Ratio } from '#libs/exact';
import { namedCheck, type NamedCheck } from './named-check.js';
import { ISO_8492 } from './sources.js';
import { exactTube, positive, textOf, type Tube } from './tube.js';

/** How a flattening test was set up; decimal text, mm; null where nobody recorded it. */
export interface FlatteningSetUp {
  readonly tube: Tube;
  /** Null too for a test on the end of a full tube. */
  readonly pieceLengthMm: string | null;
  readonly plateWidthMm: string | null;
  /** On a piece cut off, or on the end of a full tube that is cut across in part, to this depth. */
  readonly on: { readonly kind: 'piece' } | { readonly kind: 'tube-end'; readonly cutDepthMm: string | null };
}

/**
 * What ISO 8492 demands of a flattening test, each by its name: D at most 600 mm, t at most 0.15 D, piece 10 to 100 mm long
 * (or, on a full tube's end, cut at least 0.8 D deep), plates at least 1.6 D wide. Limits conform. Compared exactly.
 * Throws SyntaxError unless what is given are plain decimals, RangeError as `Tube` demands and unless lengths are over 0.
 */
export function flatteningSetUpChecks({ tube, pieceLengthMm, plateWidthMm, on }: FlatteningSetUp): readonly NamedCheck[] {
  const { diameter, wall } = exactTube(tube);
  const thickest = times(diameter, decimal('0.15'));
  return [
    isoCheck('outside diameter', tube.outsideDiameterMm, 'at most 600 mm', (found) => compare(found, decimal('600')) <= 0),
    namedCheck('wall thickness', {
      what: 'wall thickness', found: tube.wallThicknessMm, unit: 'mm', demanded: `at most 0.15 D = ${textOf(thickest, 3)} mm`,
    }, compare(wall, thickest) <= 0, ISO_8492),
    on.kind === 'piece' ? pieceLength(pieceLengthMm) : atLeastShare('cut depth', on.cutDepthMm, diameter, '0.8'),
    atLeastShare('plate width', plateWidthMm, diameter, '1.6'),
  ];
}

function pieceLength(lengthMm: string | null): NamedCheck {
  const holds = (found: Ratio): boolean => compare(found, decimal('10')) >= 0 && compare(found, decimal('100')) <= 0;
  return isoCheck('piece length', lengthMm, '10 to 100 mm', holds);
}

function atLeastShare(name: string, foundMm: string | null, diameter: Ratio, share: string): NamedCheck {
  const least = times(diameter, decimal(share));
  return isoCheck(name, foundMm, `at least ${share} D = ${textOf(least, 3)} mm`, (found) => compare(found, least) >= 0);
}

function isoCheck(name: string, foundMm: string | null, demanded: string, holds: (found: Ratio) => boolean): NamedCheck {
  const isMet = foundMm !== null && holds(positive(name, foundMm, 'mm'));
  return namedCheck(name, { what: name, found: foundMm, unit: 'mm', demanded }, isMet, ISO_8492);
}
