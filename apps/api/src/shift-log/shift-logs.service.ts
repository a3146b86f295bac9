import { Injectable } from '@nestjs/common';
import { microseconds } from '#libs/persistence';
import type { HandoverAcceptance } from '../handover-acceptances/handover-acceptance.entity.js';
import { HandoverAcceptancesService } from '../handover-acceptances/handover-acceptances.service.js';
import type { Handover } from '../handovers/handover.entity.js';
import { HandoversService } from '../handovers/handovers.service.js';
import { RecordDesk } from '../records/record-desk.js';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import { stopsWithEnds, type StopWithEnd } from '../seam-stops/stop-ends.js';
import { ShiftEventsService } from '../shift-events/shift-events.service.js';
import type { Shift } from '../shifts/shift.entity.js';
import { isOn } from '../shifts/shift.rules.js';
import { ShiftsService } from '../shifts/shifts.service.js';
import { WorkDone, type LateRecord } from '../string-records/work-done.service.js';
import { linkTo } from '../trace/record-link.js';
import type { HandoverInShift, LateInShift, ShiftLogAnswer, StopInShift } from './shift-log.dto.js';
import { openOfShift, outcomeOf, outlasts, standsIn } from './shift-log.rules.js';

const CAUTION =
  'A record of the shift, not a release and no interlock: a hold here does not stop the line. What nobody entered is not in it, and what was entered late is marked, not left out.';

type NameOf = (id: string) => string;

interface HandedOver {
  readonly handover: Handover;
  readonly acceptance: HandoverAcceptance | null;
}

/** The log of a shift: put together from what is on record, whenever it is asked for. */
@Injectable()
export class ShiftLogs {
  constructor(
    private readonly desk: RecordDesk,
    private readonly shifts: ShiftsService,
    private readonly events: ShiftEventsService,
    private readonly seamEvents: SeamEventsService,
    private readonly handovers: HandoversService,
    private readonly acceptances: HandoverAcceptancesService,
    private readonly work: WorkDone,
  ) {}

  /** As known at an instant, or now. Refuses with 404 when there was no such shift. */
  async of(shiftId: string, asKnownAt: string | null): Promise<ShiftLogAnswer> {
    const shift = await this.shifts.row(shiftId, asKnownAt);
    const time = { stringId: shift.stringId, from: shift.observedAt, until: shift.until, asKnownAt };
    const [sharing, events, seamEvents, records, doers, handovers, received] = await Promise.all([
      this.shifts.sharingCrew(shift, shift.id, asKnownAt), this.events.ofShift(shiftId, asKnownAt), this.seamEvents.inOrder(shift.stringId, asKnownAt),
      this.work.counts(time), this.work.doers(time),
      this.handovers.ofShift(shiftId, asKnownAt).then((given) => this.accepted(given, asKnownAt)), this.handovers.toShift(shiftId, asKnownAt).then((given) => this.accepted(given, asKnownAt)),
    ]);
    const late = await this.work.late(time, records);
    const others = doers.filter(({ personId }) => !isOn(personId, shift));
    const names = await this.desk.namesOf([
      ...[...shift.crew, ...others].map(({ personId }) => personId), ...late.flatMap(({ row, firstKeyedBy }) => [row.doneBy, firstKeyedBy]),
      ...[...handovers, ...received].flatMap(({ handover, acceptance }) => [handover.doneBy, ...(acceptance === null ? [] : [acceptance.doneBy])]),
    ]);
    const nameOf: NameOf = (id) => names.get(id) ?? id;
    return {
      shift: this.shifts.answer(shift), asKnownAt,
      crew: shift.crew.map(({ personId, duty }) => ({ personId, name: nameOf(personId), duty, alsoOn: linksOf(sharing.filter((one) => isOn(personId, one))) })),
      notOfTheCrew: others.map(({ personId, records: count }) => ({ personId, name: nameOf(personId), records: count })),
      events: events.map((event) => this.events.answer(event)),
      stops: stopsWithEnds(seamEvents).filter((stop) => standsIn(stop, shift)).map((stop) => stopIn(shift, stop)),
      records, lateTotal: records.reduce((sum, one) => sum + one.late, 0), late: late.map((one) => lateAnswer(one, nameOf)),
      handovers: handovers.map((one) => this.handoverAnswer(one, nameOf)), received: received.map((one) => this.handoverAnswer(one, nameOf)),
      open: openOfShift(shift, handovers), caution: CAUTION,
    };
  }

  private async accepted(handovers: readonly Handover[], asKnownAt: string | null): Promise<HandedOver[]> {
    const acceptances = await this.acceptances.ofHandovers(handovers.map(({ id }) => id), asKnownAt);
    return handovers.map((handover) => ({ handover, acceptance: acceptances.get(handover.id) ?? null }));
  }

  private handoverAnswer({ handover, acceptance }: HandedOver, nameOf: NameOf): HandoverInShift {
    return {
      handover: this.handovers.answer(handover), givenByName: nameOf(handover.doneBy),
      acceptance: acceptance === null ? null : this.acceptances.answer(acceptance), acceptedByName: acceptance === null ? null : nameOf(acceptance.doneBy),
      outcome: outcomeOf({ acceptance }),
    };
  }
}

const linksOf = (shifts: readonly Shift[]) => shifts.map((shift) => linkTo('shift', shift, shift.name));

function stopIn(shift: Shift, { stop, end }: StopWithEnd<SeamEvent>): StopInShift {
  return {
    event: linkTo('seam-event', stop, `${stop.event} at ${stop.span.fromMm} mm`), at: stop.observedAt, cause: stop.cause ?? '', footageMm: stop.span.fromMm,
    beganBefore: microseconds(stop.observedAt) < microseconds(shift.observedAt), until: end?.observedAt ?? null, outlasts: outlasts(end, shift),
  };
}

function lateAnswer({ record, row, firstKeyedBy: keyedBy }: LateRecord, nameOf: NameOf): LateInShift {
  const { observedAt, enteredAt, doneBy } = row;
  return { record, observedAt, enteredAt, doneBy, doneByName: nameOf(doneBy), keyedBy, keyedByName: nameOf(keyedBy) };
}
