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
