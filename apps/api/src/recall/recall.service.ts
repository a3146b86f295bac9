import { Injectable } from '@nestjs/common';
import type { Interval, IntervalSet } from '#libs/intervals';
import { COVERAGE_FACTOR, type CertainAndPossible } from '#libs/length';
import { microseconds } from '#libs/persistence';
import { InspectionsService } from '../inspections/inspections.service.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import { NonconformancesService } from '../nonconformances/nonconformances.service.js';
import type { Ground } from '../trace/ground.js';
import { Grounds } from '../trace/grounds.service.js';
import { shoeAnswer, stringAnswer } from '../trace/string-answer.js';
import { footageOfStrip } from '../trace/strip-footage.js';
import { DEPTH_CAUTIONS } from '../trace/trace.service.js';
import { linkTo } from '../trace/record-link.js';
import { coilAccount } from './coil-account.js';
import { ConcernedRecords } from './concerned-records.service.js';
import type { ConcernedCoil, ConcernedSpan } from './concerned.js';
import { linkList, MOST_LINKS } from './link-list.js';
import type { RecallQuestion } from './recall-question.js';
import type { ConcernedAnswer, RecallAnswer, RecalledCoil, RecalledString, SetsAnswer } from './recall.dto.js';
import { COILS, INSPECTIONS, linkOf, NONCONFORMANCES } from './record-kinds.js';
import { elsewhereOf, standingOf } from './string-standing.js';

const RECALL_CAUTION = 'A recall finds what is on record: pipe and strip that no record names are not in it.';
const VOID_CAUTION = 'The record recalled from is void: what it says was withdrawn.';

/** Answers what follows from one record, on every string, and where it is. */
@Injectable()
export class RecallService {
  constructor(
    private readonly records: ConcernedRecords,
    private readonly models: LengthModels,
    private readonly grounds: Grounds,
    private readonly inspections: InspectionsService,
    private readonly nonconformances: NonconformancesService,
  ) {}

  async recall(question: RecallQuestion): Promise<RecallAnswer> {
    const { record, isVoid, spans, coils, others, notes } = await this.records.of(question);
    const strings: RecalledString[] = [];
    for (const [stringId, own] of byString(spans)) strings.push(await this.onString(stringId, own, question));
    return {
      asked: { by: question.by, record, batch: record === null ? question.id : null, at: question.at, asKnownAt: question.asKnownAt },
      strings,
      coils: distinct(coils).map(coilAnswer),
      others: [...others],
      cautions: [...DEPTH_CAUTIONS, RECALL_CAUTION, ...(isVoid ? [VOID_CAUTION] : []), ...notes],
    };
  }

  private async onString(stringId: string, concerned: readonly ConcernedSpan[], question: RecallQuestion): Promise<RecalledString> {
    const { at, asKnownAt, id } = question;
    const model = await this.models.of(stringId, asKnownAt);
    const ground = await this.grounds.of(model, asKnownAt);
    const standing = standingOf(model.lengths, concerned, timeOf(model, at));
    const { footage, shoe, walls, places, notLocated } = standing;
    return {
      string: stringAnswer(model, ground),
      concernedTotal: concerned.length,
      concernedTruncated: concerned.length > MOST_LINKS,
      concerned: concerned.slice(0, MOST_LINKS).map(concernedAnswer),
      footage: setsAnswer(footage),
      shoe: shoe === null ? null : shoeAnswer(shoe),
      walls: walls.map((one) => ({ wall: one.wall, ...setsAnswer(one) })),
      elsewhere: places === null ? [] : elsewhereOf(places).map((one) => ({
        place: one.place, footage: intervals(one.footage), totalMm: one.footage.totalLengthMm,
      })),
      notLocated: notLocated === null ? null : { code: notLocated.code, detail: notLocated.detail },
      ...(await this.evidenceOn(footage.possible, ground, { stringId, asKnownAt, besides: id })),
    };
  }

  private async evidenceOn(
    footage: IntervalSet,
    ground: Ground,
    { stringId, asKnownAt, besides }: { stringId: string; asKnownAt: string | null; besides: string },
  ): Promise<Pick<RecalledString, 'inspections' | 'openNonconformances'>> {
    const multirange = footage.toMultirange();
    const coilIds = ground.pipe.segments.filter(({ segment }) => footage.overlaps(segment.span)).map(({ coil }) => coil.id);
    const [inspections, nonconformances] = await Promise.all([
      this.inspections.touching(stringId, multirange, asKnownAt),
      this.nonconformances.about(stringId, multirange, coilIds, asKnownAt),
    ]);
    const open = nonconformances.filter((row) => row.stage !== 'closed' && row.id !== besides && touches(row, stringId, footage, ground));
    return {
      inspections: linkList(inspections.map((row) => linkOf(INSPECTIONS, row))),
      openNonconformances: linkList(open.map((row) => linkOf(NONCONFORMANCES, row))),
    };
  }
}

/** The time asked for, or of the string's last reading; null when it has none. */
function timeOf({ readings }: StringModel, at: string | null): number | null {
  const time = at ?? readings.at(-1)?.observedAt;
  return time === undefined ? null : microseconds(time);
}

function byString(spans: readonly ConcernedSpan[]): Map<string, ConcernedSpan[]> {
  const groups = new Map<string, ConcernedSpan[]>();
  for (const span of spans) {
    const group = groups.get(span.stringId);
    if (group === undefined) groups.set(span.stringId, [span]);
    else group.push(span);
  }
  return groups;
}

function distinct(coils: readonly ConcernedCoil[]): ConcernedCoil[] {
  return [...new Map(coils.map((one) => [one.coil.id, one])).values()];
}

/** True when pipe or strip that a nonconformance names lies on the ground. */
function touches(row: Nonconformance, stringId: string, footage: IntervalSet, { pipe }: Ground): boolean {
  if (row.stringId === stringId && row.extent.some((span) => footage.overlaps(span))) return true;
  return row.coilExtents.some(({ coilId, stripFromMm, stripToMm }) =>
    pipe.segments
      .filter(({ coil }) => coil.id === coilId)
      .map(({ segment }) => footageOfStrip(segment, { fromMm: stripFromMm ?? 0, toMm: stripToMm ?? Infinity }))
      .some((span) => span !== null && footage.overlaps(span)),
  );
}

const intervals = (set: IntervalSet): Interval[] => set.intervals.map(({ fromMm, toMm }) => ({ fromMm, toMm }));

function setsAnswer({ certain, nominal, possible }: CertainAndPossible): SetsAnswer {
  return { certain: intervals(certain), nominal: intervals(nominal), possible: intervals(possible), nominalMm: nominal.totalLengthMm };
}

function concernedAnswer({ record, span, isCertain, because }: ConcernedSpan): ConcernedAnswer {
  return {
    record, isCertain, because,
    footage: { fromMm: span.fromMm, toMm: span.toMm },
    fromPlusMinusMm: Math.ceil(COVERAGE_FACTOR * span.uFromMm),
    toPlusMinusMm: Math.ceil(COVERAGE_FACTOR * span.uToMm),
  };
}

function coilAnswer({ coil, segments }: ConcernedCoil): RecalledCoil {
  const { notUsed, ...account } = coilAccount(coil, segments.map(({ stripSpan }) => stripSpan));
  return {
    coil: linkOf(COILS, coil),
    ...account,
    notUsed: notUsed.map(({ fromMm, toMm }) => ({ fromMm, toMm })),
    usedOn: segments.map((segment) => ({
      segment: linkTo('coil-segment', segment, coil.number),
      stringId: segment.stringId,
      strip: { fromMm: segment.stripSpan.fromMm, toMm: segment.stripSpan.toMm },
    })),
  };
}
