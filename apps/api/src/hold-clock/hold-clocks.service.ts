import { Injectable } from '@nestjs/common';
import { placeClock, type PlaceClock } from '#libs/hold-clock';
import { IntervalSet } from '#libs/intervals';
import { instantOf, microseconds } from '#libs/persistence';
import { LengthModels } from '../line/length-models.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { momentAt } from '../time-left/time-left.js';
import { linkTo } from '../trace/record-link.js';
import { clockItemAnswer, lineRunAnswer } from './clock-answer.js';
import { ClockSources, type ClockItem } from './clock-sources.js';
import { STALE_AFTER_S, type HoldClockAnswer, type LineRunAnswer } from './hold-clock.dto.js';
import type { HoldClockQuestion } from './hold-clock-question.js';

/** Said with every answer of the clock. */
export const NOT_AN_INTERLOCK = 'This is a record, not an interlock: nothing here stops the line. Anyone on shift may stop it.';

const CAUTIONS = [
  'What nobody detected or entered is not in this list: an empty one does not say that the pipe was inspected, or that all is well.',
  'Minutes are those of the speeds that the counter showed in the last ten minutes; a line that goes faster than it did lately gets there sooner.',
  'What is still feasible is told by where the pipe was at the last reading. See that it is still there, and who may decide it, before anything is done.',
];

/** What is open on a string, and how long each has to the hang-off. */
@Injectable()
export class HoldClocks {
  constructor(
    private readonly desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly models: LengthModels,
    private readonly sources: ClockSources,
  ) {}

  /** A page, as known at an instant, or now. Refuses with 404 when there was no such string, with 409 when it was void. */
  async of(stringId: string, { at: asked, asKnownAt, from, limit }: HoldClockQuestion): Promise<HoldClockAnswer> {
    const string = await this.strings.open(stringId, asKnownAt);
    // The moment last: a reading of the model is never later than it.
    const [items, model] = await Promise.all([this.sources.itemsOf(stringId, asKnownAt), this.models.of(stringId, asKnownAt)]);
    const moment = momentAt(model, microseconds(asked ?? asKnownAt ?? await this.desk.databaseNow()));
    const clocks = items.map((item): Clocked => ({ item, clock: placeClock(moment, IntervalSet.from(item.footage), item.fromUMm) }));
    const standing = clocks.filter(({ clock }) => clock.state !== 'cut-out').sort(bySoonest);
    const past = standing.filter(({ clock }) => clock.nextMm === null).length;
    const line = lineRunAnswer(moment);
    return {
      string: linkTo('casing-string', string, string.name), at: instantOf(moment.atUs), asKnownAt, line,
      ahead: standing.length - past, past, cutOut: clocks.length - standing.length,
      items: standing.slice(from, from + limit).map(({ item, clock }) => clockItemAnswer(moment, item, clock)),
      next: from + limit < standing.length ? String(from + limit) : null, cautions: cautionsOf(line),
    };
  }
}

interface Clocked {
  readonly item: ClockItem;
  readonly clock: PlaceClock;
}

/** By footage, whatever is known of the line: the lowest gets to the hang-off first. What is past has no next end. */
function bySoonest({ item, clock }: Clocked, other: Clocked): number {
  const [one, two] = [clock.nextMm ?? Infinity, other.clock.nextMm ?? Infinity];
  return one === two ? lowest(item) - lowest(other.item) || (item.record.id < other.item.record.id ? -1 : 1) : one - two;
}

const lowest = ({ footage }: ClockItem): number => Math.min(...footage.map(({ fromMm }) => fromMm));

const cautionsOf = ({ state, because }: LineRunAnswer): string[] => [
  NOT_AN_INTERLOCK,
  ...(state === 'stale' ? [`Counter data are stale: ${because}. Beyond ${STALE_AFTER_S} s without a reading no metres or minutes are told.`] : []),
  ...CAUTIONS,
];
