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
   * The work of its person by one of its methods that, on its day, neither it nor another qualification covered. Where it was
   * valid and only the record does not say whether the work lay in its scope: possibly. Refuses with 404 when there was none.
   */
  async of(id: string, asKnownAt: string | null): Promise<Concerned> {
    const row = await this.finder.one(QUALIFICATIONS, id, asKnownAt);
    const [judged, all] = await Promise.all([this.qualified.judged(row.personId, asKnownAt), this.work.of(row.personId, asKnownAt)]);
    const own = judged.find((one) => one.row.id === id)?.qualification ?? null;
    const meant = all.filter(({ event }) => event.method !== null && row.methods.includes(event.method));
    const open = meant.flatMap(({ record, place, event }): ConcernedWork[] => {
      const concern = concernOf(own, judged.map(({ qualification }) => qualification), event);
      return concern === null ? [] : [{ record, place, ...concern }];
    });
    const following = await this.located.of(gravestOfEach(open), asKnownAt);
    const covered = new Set(meant.map(({ record }) => record.id)).size - new Set(open.map(({ record }) => record.id)).size;
    const notes = covered === 0 ? [] : [`${covered} further records of this person's work by its methods were covered by a qualification on their day, and are not named.`];
    return { ...startAt(QUALIFICATIONS, row), ...following, notes };
  }
}

/** Null where a qualification covered the work. `own` is null when the one recalled from is void. */
function concernOf(own: Qualification | null, all: readonly Qualification[], event: QualifiedEvent): Concern | null {
  if (all.some((one) => qualificationAt(one, event).state === 'valid')) return null;
  if (own === null) return { isCertain: true, because: 'the qualification was withdrawn from the record, and no other covered the work' };
  const { reasons, because } = qualificationAt(own, event);
  return { isCertain: !reasons.every(isUnstated), because: `${because}; no other qualification covered the work`.slice(0, LONGEST_BECAUSE) };
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
