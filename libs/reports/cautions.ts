/**
 * What a reader must be told beside a nonconformance or a depth. Sentences of our own; the API shows the same ones.
 * Common practice, no published source.
 */
export const NONCONFORMANCE_CAUTIONS: readonly string[] = [
  'A depth is an estimate. Read its uncertainty and its datum before anyone perforates, sets or cuts.',
  'A depth past the last tie, on an assumed length ratio or beyond an unconfirmed splice carries a mark on every page that rests on it.',
  'One depth has two walls: the outer wall was made early and the inner wall late, from different strip. State which wall is meant.',
  'The thickness of the strip is not the thickness of the outer wall: the fold thins it.',
  'No indication means none above the threshold, against the reference reflector, on the metres named. It does not mean no defect.',
  'Provisional, suspect and missing evidence are different states. None of them is confirmed evidence.',
  'This record is not an interlock. A hold written here does not stop the line; anyone on shift may stop it.',
  'A retest does not erase a failed test, and an extent called isolated needs evidence on both sides.',
  'Ratings computed from these figures are advisory and take the pipe as round, uniform and unfolded. The responsible engineer decides.',
  'Sour service, temperature and cyclic load are outside the knowledge of this record.',
];

/**
 * What a reader must be told beside the values of a coil. Sentences of our own; the API shows the same ones.
 * Common practice, no published source.
 */
export const COIL_CAUTIONS: readonly string[] = [
  'Values are as they were printed on a paper or read from an instrument. Nothing here was measured again for this sheet.',
  'A missing value is not a conforming one. Not reported and not comparable mean that conformity is not shown.',
  'Inside the guard band means that the value is so near its limit that its uncertainty leaves conformity open.',
  'A certificate speaks of the pieces that were tested. Strip between two samples rests on inference.',
  'A length computed from mass or from the turns of the coil is an estimate. Read its uncertainty before planning a splice on it.',
  'Hardness is judged on the scale it was read on. Conversions between hardness scales, or to strength, are not used.',
  'Yield strengths of different definitions, and elongations on different gauge lengths, are different quantities and are not held against each other.',
  'This sheet is a record and no interlock: it stops no coil from being fed to the line. Anyone on shift may stop the line.',
  'A printed paper does not change when the record does. The address on it leads to what holds now.',
  'The responsible engineer decides.',
];
