import { Injectable } from '@nestjs/common';
import { microseconds, normalInstant } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Shift } from '../shifts/shift.entity.js';
import { ShiftsService } from '../shifts/shifts.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { KnownChanges, type KnownChange } from '../string-records/known-changes.service.js';
import { linkTo } from '../trace/record-link.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { textOfPlace, type ChangesQuestion } from './changes-question.js';
import type { ChangeKnown, ChangesSinceAnswer } from './changes-since.dto.js';
import { ownShifts } from './own-shifts.js';

const CAUTIONS = [
  'Told is what became known on record. Papers of coils, instruments, procedures, people and wells are no records of a string and are not told here.',
  'An end of a shift that nobody entered is not known: look at ownShiftsWithoutEnd.',
];

type Since = Pick<ChangesSinceAnswer, 'since' | 'sinceShift' | 'ownShiftsWithoutEnd'>;

/** What became known about a string since an instant, or since the end of one's own last shift on it. */
@Injectable()
export class ChangesSince {
  constructor(
    private readonly desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly shifts: ShiftsService,
    private readonly known: KnownChanges,
  ) {}

  /** Refuses with 404 when there was no such string, with 422 when there is neither an instant nor an ended shift of the person. */
  async of(stringId: string, question: ChangesQuestion, personId: string): Promise<ChangesSinceAnswer> {
    const { asKnownAt, after, limit, withDerived } = question;
    const string = await this.strings.open(stringId, asKnownAt);
    const since = await this.since(stringId, question, personId);
    const known = { stringId, since: since.since, asKnownAt };
    const [counts, page] = await Promise.all([this.known.counts(known), this.known.page(known, after, limit + 1, withDerived)]);
    const shown = page.slice(0, limit);
    const last = shown.at(-1);
    const names = await this.desk.namesOf(shown.flatMap(({ row }) => [row.doneBy, row.keyedBy]));
    return {
      string: linkTo('casing-string', string, string.name), asked: { since: question.since, asKnownAt }, ...since, counts,
      changes: shown.map((change) => changeAnswer(change, since.since, names)), next: page.length > limit && last !== undefined ? textOfPlace(last.place) : null,
      cautions: CAUTIONS,
    };
  }

  private async since(stringId: string, { since, asKnownAt }: ChangesQuestion, personId: string): Promise<Since> {
    const at = asKnownAt ?? (await this.desk.databaseNow());
    const { last, withoutEnd } = ownShifts(await this.shifts.ofPerson(personId, stringId, at, asKnownAt), at);
    const ownShiftsWithoutEnd = withoutEnd.map(linkOf);
    if (since !== null) return { since: normalInstant(since), sinceShift: null, ownShiftsWithoutEnd };
    if (last === null) throw refusedField('no-own-shift', 'since', null, 'an instant: no shift of yours on this string has ended on record');
    return { since: last.until, sinceShift: { shift: linkOf(last), ended: last.until }, ownShiftsWithoutEnd };
  }
}

const linkOf = (shift: Shift): RecordLink => linkTo('shift', shift, shift.name);

function changeAnswer({ record, what, row, changes }: KnownChange, since: string, names: ReadonlyMap<string, string>): ChangeKnown {
  const { reason, observedAt, knownFrom, doneBy, keyedBy } = row;
  return {
    record, what, reason, observedAt, recordedAt: knownFrom, doneBy, doneByName: names.get(doneBy) ?? doneBy, keyedBy, keyedByName: names.get(keyedBy) ?? keyedBy,
    isLate: what === 'entered' && microseconds(observedAt) < microseconds(since), changes,
  };
}
