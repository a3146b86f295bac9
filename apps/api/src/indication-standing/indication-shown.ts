import { indicationLabel } from '../indications/indication-label.js';
import type { Indication } from '../indications/indication.entity.js';
import { linkTo } from '../trace/record-link.js';
import type { IndicationShown } from './indication-standing.dto.js';

/** An indication as lists show it. */
export function shown(row: Indication): IndicationShown {
  const { detectionId, span: { fromMm, toMm }, imperfection, peak, peakUnit, peakIsBound } = row;
  return {
    indication: linkTo('indication', row, indicationLabel(row)), origin: detectionId === null ? 'manual' : 'detected', footage: { fromMm, toMm },
    imperfection, peak, peakUnit, peakIsBound,
  };
}
