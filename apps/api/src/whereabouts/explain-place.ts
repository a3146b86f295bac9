import type { ExplainedValue, ExplanationStep } from '#libs/explanation';
import { explainInnerMd, explainOuterMd, explainWeldFootage, type LengthModel, type Place, type Shoe } from '#libs/length';
import { weldAtShoe } from './place-at-shoe.js';

const SOURCE = 'length model of this program';

/** What a place was found with: a time, and the shoe where one was needed. */
export interface PlaceFound {
  readonly footageMm: number;
  readonly place: Place;
  readonly shoe: Shoe | null;
  /** µs; Infinity when a shoe depth was asked. */
  readonly atUs: number;
}

/** How a place was found, step by step, with the records it rests on. @throws LengthError as the place itself */
export function explainPlace(lengths: LengthModel, found: PlaceFound): ExplanationStep[] {
  const { place, footageMm, shoe } = found;
  switch (place.place) {
    case 'outer-wall':
      return explainOuterMd(lengths, footageMm, shoe);
    case 'inner-wall':
      return shoe === null ? [] : explainInnerMd(lengths, footageMm, shoe);
    case 'cut-out':
      return [cutOutStep(footageMm, place)];
    case 'lead-end':
      return [leadEndStep(lengths, found, place.aboveHangOffMm)];
    case 'on-the-line':
      return [...weldSteps(lengths, found), onTheLineStep(lengths, found, place)];
    case 'not-yet-made':
      return [...weldSteps(lengths, found), notYetMadeStep(footageMm, place.toMakeMm)];
  }
}

const mm = (name: string, value: number, record?: ExplainedValue['record']): ExplainedValue =>
  ({ name, value, unit: 'mm', ...(record && { record }) });

function weldSteps(lengths: LengthModel, { shoe, atUs }: PlaceFound): ExplanationStep[] {
  if (Number.isFinite(atUs)) return explainWeldFootage(lengths, atUs);
  if (shoe === null) return [];
  const path = lengths.hangOffPathAt(atUs);
  return [{
    what: 'Net length at the weld point with the shoe at the depth asked',
    formula: 'n(F) = n_shoe + D + x',
    source: SOURCE,
    inputs: [mm('n_shoe', shoe.netMm), mm('D', shoe.depthBelowHangOffMm), mm('x', path.pathMm, path.record)],
    result: mm('n(F)', weldAtShoe(lengths, shoe).netMm),
  }];
}

function onTheLineStep(lengths: LengthModel, { footageMm, atUs }: PlaceFound, place: Extract<Place, { place: 'on-the-line' }>): ExplanationStep {
  const cutOuts = lengths.nets.cutOutsBelow(Infinity, atUs).filter(({ toMm }) => toMm > footageMm);
  return {
    what: 'Path distance past the weld point, and to each later station',
    formula: 'path = n(F) − n(p); distance = x_station − path',
    source: SOURCE,
    inputs: [
      mm('p', footageMm),
      ...cutOuts.map(({ fromMm, toMm, record }) => mm(`cut-out [${fromMm}, ${toMm})`, toMm - fromMm, record)),
      ...place.toStations.map(({ name, bestMm }) => mm(`distance to ${name}`, bestMm)),
    ],
    result: mm('path', place.pathMm),
  };
}

function notYetMadeStep(footageMm: number, toMakeMm: number): ExplanationStep {
  return {
    what: 'Pipe still to be made before this metre',
    formula: 'to make = p − (greatest footage reached)',
    source: SOURCE,
    inputs: [mm('p', footageMm)],
    result: mm('to make', toMakeMm),
  };
}

function leadEndStep(lengths: LengthModel, { footageMm, atUs }: PlaceFound, aboveHangOffMm: number | null): ExplanationStep {
  const { hangOff } = lengths.lengths;
  if (hangOff === null || aboveHangOffMm === null) {
    const path = lengths.findHangOffPath(atUs);
    return {
      what: 'Past the hang-off station before the string was hung off',
      formula: 'path > x_hang',
      source: SOURCE,
      inputs: [mm('p', footageMm)],
      result: path === null ? mm('p', footageMm) : mm('x_hang', path.pathMm, path.record),
    };
  }
  return {
    what: 'Net length above the hang-off',
    formula: 'n(p_h) − n(p)',
    source: SOURCE,
    inputs: [mm('p_h', hangOff.footageMm, hangOff.record), mm('p', footageMm)],
    result: mm('above the hang-off', aboveHangOffMm),
  };
}

function cutOutStep(footageMm: number, { record }: Extract<Place, { place: 'cut-out' }>): ExplanationStep {
  return {
    what: 'The footage lies in an interval that was cut out by then',
    formula: 'cut from ≤ p < cut to',
    source: SOURCE,
    inputs: [mm('p', footageMm)],
    result: { name: 'cut-out', value: record.id, record },
  };
}
