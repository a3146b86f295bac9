import { Injectable } from '@nestjs/common';
import { qualificationAt, type Qualification, type QualificationReason, type QualifiedEvent } from '#libs/validity';
import { QualifiedPeople } from '../qualified/qualified.service.js';
import { WorkOfPeople } from '../work-checks/work-of-people.service.js';
import type { Concern, Concerned } from './concerned.js';
import { LocatedWork, type ConcernedWork } from './located-work.service.js';
import { RecordFinder } from './record-finder.service.js';
import { QUALIFICATIONS, startAt } from './record-kinds.js';

/** From a qualification to the work that it was meant to cover and did not. */
@Injectable()
export class ConcernedQualifiedWork {
  constructor(
    private readonly finder: RecordFinder,
    private readonly qualified: QualifiedPeople,
    private readonly work: WorkOfPeople,
    private readonly located: LocatedWork,
  ) {}

  /**
   * The work of its person by one of its methods that, on its day, neither it nor another qualification covered. Where one was
   * valid and only the record does not say whether the work lay in its scope: possibly. A method or person that it named in
   * any version counts: that it never was for that may be what was found out. Refuses with 404 when there was none.
   */
  async of(id: string, asKnownAt: string | null): Promise<Concerned> {
    const [row, versions] = await Promise.all([this.finder.one(QUALIFICATIONS, id, asKnownAt), this.finder.versions(QUALIFICATIONS, id, asKnownAt)]);
    const methods = new Set(versions.flatMap((one) => one.methods));
    const ofPeople = await Promise.all([...new Set(versions.map(({ personId }) => personId))].map(async (personId) => {
      const [judged, all] = await Promise.all([this.qualified.judged(personId, asKnownAt), this.work.of(personId, asKnownAt)]);
      return { judged, meant: all.filter(({ event }) => event.method !== null && methods.has(event.method)) };
    }));
    const meant = ofPeople.flatMap((one) => one.meant);
    const open = ofPeople.flatMap((one) => one.meant.flatMap(({ record, place, event }): ConcernedWork[] => {
      const own = one.judged.find((judged) => judged.row.id === id)?.qualification ?? null;
      const concern = concernOf(own, one.judged.map(({ qualification }) => qualification), event);
      return concern === null ? [] : [{ record, place, ...concern }];
    }));
    const following = await this.located.of(gravestOfEach(open), asKnownAt);
    const covered = new Set(meant.map(({ record }) => record.id)).size - new Set(open.map(({ record }) => record.id)).size;
    const notes = covered === 0 ? [] : [`${covered} further records of this person's work by its methods were covered by a qualification on their day, and are not named.`];
    return { ...startAt(QUALIFICATIONS, row), ...following, notes };
  }
}

/** Null where a qualification covered the work. `own` is null when the one recalled from is void, or another person's by now. */
function concernOf(own: Qualification | null, all: readonly Qualification[], event: QualifiedEvent): Concern | null {
  const answers = all.map((one) => qualificationAt(one, event));
  if (answers.some(({ state }) => state === 'valid')) return null;
  const isCertain = !answers.some(({ reasons }) => reasons.every(isUnstated));
  const because = own === null ? 'the qualification is no longer on record for the person' : qualificationAt(own, event).because;
  const others = isCertain ? 'no other qualification covered the work' : 'whether it lay in the scope of a valid one is not on record';
  return { isCertain, because: `${because}; ${others}`.slice(0, LONGEST_BECAUSE) };
}

const LONGEST_BECAUSE = 1000;

/** A reason that rests on what the record does not say. */
const isUnstated = ({ scope }: QualificationReason): boolean => scope !== null && scope.finding !== 'outside';

/** A record with several parts counts once, as certainly concerned where one of them is. */
function gravestOfEach(works: readonly ConcernedWork[]): ConcernedWork[] {
  const byId = new Map<string, ConcernedWork>();
  for (const work of works) if (byId.get(work.record.id)?.isCertain !== true) byId.set(work.record.id, work);
  return [...byId.values()];
}
