import { Injectable } from '@nestjs/common';
import { COVERAGE_FACTOR, facingOf, LengthError, roundMm, type LengthModel, type Place, type Shoe } from '#libs/length';
import { instantOf, microseconds } from '#libs/persistence';
import type { WellPath } from '#libs/survey';
import type { LineStation } from '../line/line-knowledge.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { answered } from '../trace/answered.js';
import type { Ground, Pipe } from '../trace/ground.js';
import { Grounds } from '../trace/grounds.service.js';
import { shoeAnswer, stringAnswer } from '../trace/string-answer.js';
import { stripMapOf } from '../trace/strip-footage.js';
import type { ExplanationStepAnswer } from '../trace/explanation.dto.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { DEPTH_CAUTIONS } from '../trace/trace.service.js';
import { linkTo } from '../trace/record-link.js';
import { explainPlace, type PlaceFound } from './explain-place.js';
import { placeAtShoe, weldAtShoe } from './place-at-shoe.js';
import { shownDistances, type OnTheLineDoubt } from './station-distances.js';
import type { WhereaboutsQuestion } from './whereabouts-question.js';
import type { MadeOfAnswer, OnTheLineAnswer, OnTheWallAnswer, WhereaboutsAnswer } from './whereabouts.dto.js';

const SHOE_DEPTH_CAUTION = 'A shoe depth has no time: every cut-out recorded counts as done, and the last line set-up holds.';
const PREDICTED_CAUTION = 'This metre is not made yet: what it will be made of is a prediction.';

interface Found extends PlaceFound {
  readonly stations: readonly LineStation[];
}

/** Answers where one metre of pipe is. */
@Injectable()
export class WhereaboutsService {
  constructor(
    private readonly models: LengthModels,
    private readonly grounds: Grounds,
  ) {}

  async whereabouts(stringId: string, question: WhereaboutsQuestion): Promise<WhereaboutsAnswer> {
    const model = await this.models.of(stringId, question.asKnownAt);
    const ground = await this.grounds.of(model, question.asKnownAt);
    return answered(() => answerOf(model, ground, question, found(model, question)));
  }
}

function found(model: StringModel, { footageMm, at, shoeMdMm }: WhereaboutsQuestion): Found {
  const { lengths, line, readings } = model;
  if (shoeMdMm !== null) {
    const shoe = lengths.shoeAt({ shoeMdMm });
    const stations = line.setupAt(Infinity)?.stations ?? [];
    return { footageMm, place: placeAtShoe(lengths, footageMm, shoe, stations), shoe, atUs: Infinity, stations };
  }
  const last = readings.at(-1)?.observedAt;
  if (at === null && last === undefined) {
    throw new LengthError('no-readings', 'this string has no counter reading: give shoeMdM to ask at a shoe depth');
  }
  const atUs = microseconds(at ?? last ?? '');
  const stations = line.setupAt(atUs)?.stations ?? [];
  const place = lengths.placeOf(footageMm, atUs, stations);
  return { footageMm, place, shoe: isOnWall(place) ? lengths.shoeAtTime(atUs) : null, atUs, stations };
}

const isOnWall = ({ place }: Place): boolean => place === 'inner-wall' || place === 'outer-wall';

function answerOf(model: StringModel, ground: Ground, question: WhereaboutsQuestion, one: Found): WhereaboutsAnswer {
  const { place, shoe, atUs } = one;
  const wall = onTheWall(ground, place);
  return {
    string: stringAnswer(model, ground),
    asked: {
      footageMm: question.footageMm,
      at: Number.isFinite(atUs) ? instantOf(atUs) : null,
      shoeMdMm: question.shoeMdMm,
      asKnownAt: question.asKnownAt,
    },
    place: place.place,
    toMakeMm: place.place === 'not-yet-made' ? roundMm(place.toMakeMm) : null,
    onTheLine: onTheLine(model.lengths, one),
    onTheWall: wall,
    leadEnd: place.place === 'lead-end' ? { aboveHangOffMm: place.aboveHangOffMm === null ? null : roundMm(place.aboveHangOffMm) } : null,
    cutOut: place.place === 'cut-out' ? cutOutLink(ground.pipe, place.record.id) : null,
    shoe: shoe === null ? null : shoeAnswer(shoe),
    madeOf: madeOf(ground.pipe, question.footageMm),
    cautions: cautions(place, question),
    explanation: question.explain ? explanation(model.lengths, ground.path, one, wall) : null,
  };
}

function cautions({ place }: Place, { shoeMdMm }: WhereaboutsQuestion): string[] {
  return [
    ...DEPTH_CAUTIONS,
    ...(shoeMdMm === null ? [] : [SHOE_DEPTH_CAUTION]),
    ...(place === 'not-yet-made' ? [PREDICTED_CAUTION] : []),
  ];
}

function onTheLine(lengths: LengthModel, { place, shoe, atUs, stations }: Found): OnTheLineAnswer | null {
  if (place.place !== 'on-the-line') return null;
  const doubt: OnTheLineDoubt = {
    weldUMm: weldUncertaintyMm(lengths, shoe, atUs),
    scaleRelativeU: lengths.lengths.scaleRelativeU,
    pathMm: place.pathMm,
  };
  return { pathMm: roundMm(place.pathMm), toStations: shownDistances(place.toStations, stations, doubt) };
}

function weldUncertaintyMm(lengths: LengthModel, shoe: Shoe | null, atUs: number): number {
  return Number.isFinite(atUs) || shoe === null ? lengths.weldFootageAt(atUs).uMm : weldAtShoe(lengths, shoe).uMm;
}

function onTheWall({ path, well }: Ground, place: Place): OnTheWallAnswer | null {
  if (place.place !== 'inner-wall' && place.place !== 'outer-wall') return null;
  const wall = place.place === 'inner-wall' ? 'inner' : 'outer';
  return {
    mdMm: roundMm(place.mdMm),
    mdPlusMinusMm: Math.ceil(COVERAGE_FACTOR * place.uMm),
    basis: place.basis,
    tvdMm: tvdMm(path, place.mdMm),
    datum: well.datum,
    facing: { formedInside: facingOf('formed-inside', wall), formedOutside: facingOf('formed-outside', wall) },
  };
}

function tvdMm(path: WellPath | null, mdMm: number): number | null {
  const range = path?.mdRange();
  if (path === null || range === undefined || mdMm < range.fromMdMm || mdMm > range.toMdMm) return null;
  return roundMm(path.tvdAt(mdMm));
}

function cutOutLink({ cuts }: Pipe, id: string): RecordLink | null {
  const cut = cuts.find(({ cutOut }) => cutOut.id === id);
  return cut === undefined ? null : linkTo('cut-out', cut.cutOut, cut.cutOut.cause);
}

function madeOf({ segments }: Pipe, footageMm: number): MadeOfAnswer | null {
  const one = segments.find(({ segment: { span } }) => span.fromMm <= footageMm && footageMm < span.toMm);
  if (one === undefined) return null;
  const { segment, coil, heat, certificate } = one;
  return {
    segment: linkTo('coil-segment', segment, coil.number),
    coil: linkTo('coil', coil, coil.number),
    heat: linkTo('heat', heat, heat.number),
    certificate: certificate === null ? null : linkTo('certificate', certificate, certificate.number),
    stripMm: stripMapOf(segment).atMm(footageMm),
    runs: segment.runs,
  };
}

function explanation(lengths: LengthModel, path: WellPath | null, one: Found, wall: OnTheWallAnswer | null): ExplanationStepAnswer[] {
  const vertical = path === null || wall?.tvdMm == null ? [] : path.explainTvd(wall.mdMm);
  return [...explainPlace(lengths, one), ...vertical];
}
