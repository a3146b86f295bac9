import type { ExplainedValue, ExplanationStep } from '#libs/explanation';
import type { Arc } from './arc.js';
import type { SurveyStation } from './check-survey.js';
import { ratioFactor } from './direction.js';

const SOURCE = 'Minimum-curvature method of directional surveying';

/** The station above a point, with its true vertical depth. */
interface StationAbove extends SurveyStation {
  readonly tvdMm: number;
}

/**
 * The steps from two stations to the true vertical depth at a distance below the upper one.
 * @param alongMm distance along the arc, 0 to its length
 */
export function explainTvdInArc(
  arc: Arc,
  above: StationAbove,
  bottomMdMm: number,
  alongMm: number,
): ExplanationStep[] {
  const angle: ExplainedValue = {
    name: 'dogleg to the point',
    value: (alongMm / arc.lengthMm) * arc.doglegRad,
    unit: 'rad',
  };
  const distance: ExplainedValue = { name: 'distance below the upper station', value: alongMm, unit: 'mm' };
  const upperCosine: ExplainedValue = { name: 'cos I1', value: arc.fromTangent.down };
  const dogleg = doglegStep(arc, above, bottomMdMm);
  const tangent = tangentStep(arc, above, alongMm, dogleg.result, upperCosine, distance);
  const ratio = ratioStep(arc, alongMm, dogleg.result, distance, angle);
  const depth: ExplanationStep = {
    what: 'True vertical depth: the minimum-curvature step down from the upper station',
    formula: 'TVD = TVD1 + d/2 (cos I1 + cos I) RF',
    source: SOURCE,
    inputs: [
      { name: 'TVD of the upper station', value: above.tvdMm, unit: 'mm' },
      distance,
      upperCosine,
      tangent.result,
      ratio.result,
    ],
    result: { name: 'true vertical depth', value: above.tvdMm + arc.displacementAt(alongMm).tvdMm, unit: 'mm' },
  };
  return [dogleg, tangent, ratio, depth];
}

function doglegStep(arc: Arc, above: SurveyStation, bottomMdMm: number): ExplanationStep {
  return {
    what: 'Dogleg between the two survey stations around the point',
    formula: 'sin²(dl/2) = sin²((I2 − I1)/2) + sin I1 sin I2 sin²((A2 − A1)/2)',
    source: SOURCE,
    inputs: [
      { name: 'upper station, measured depth', value: above.mdMm, unit: 'mm' },
      { name: 'I1', value: arc.from.inclinationDeg, unit: '°' },
      { name: 'A1', value: arc.from.azimuthDeg, unit: '°' },
      { name: 'lower station, measured depth', value: bottomMdMm, unit: 'mm' },
      { name: 'I2', value: arc.to.inclinationDeg, unit: '°' },
      { name: 'A2', value: arc.to.azimuthDeg, unit: '°' },
    ],
    result: { name: 'dogleg', value: arc.doglegRad, unit: 'rad' },
  };
}

function tangentStep(
  arc: Arc,
  above: SurveyStation,
  alongMm: number,
  dogleg: ExplainedValue,
  upperCosine: ExplainedValue,
  distance: ExplainedValue,
): ExplanationStep {
  const straight = arc.doglegRad === 0;
  return {
    what: `Direction of the hole at measured depth ${above.mdMm + alongMm} mm`,
    formula: straight ? 'cos I = cos I1 (no dogleg)' : 'cos I = (sin((1 − d/L) dl) cos I1 + sin(d/L dl) cos I2) / sin dl',
    source: SOURCE,
    inputs: [
      distance,
      { name: 'length between the stations', value: arc.lengthMm, unit: 'mm' },
      dogleg,
      upperCosine,
      { name: 'cos I2', value: arc.toTangent.down },
    ],
    result: { name: 'cos I', value: arc.tangentAt(alongMm).down },
  };
}

function ratioStep(
  arc: Arc,
  alongMm: number,
  dogleg: ExplainedValue,
  distance: ExplainedValue,
  angle: ExplainedValue,
): ExplanationStep {
  return {
    what: 'Ratio factor of the arc from the upper station to the point',
    formula: 'RF = (2/φ) tan(φ/2), φ = dl d/L; 1 when φ is 0',
    source: SOURCE,
    inputs: [dogleg, distance, { name: 'length between the stations', value: arc.lengthMm, unit: 'mm' }, angle],
    result: { name: 'RF', value: ratioFactor((alongMm / arc.lengthMm) * arc.doglegRad) },
  };
}
