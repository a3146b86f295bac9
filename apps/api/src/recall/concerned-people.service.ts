import { Injectable } from '@nestjs/common';
import type { PlacedVersion } from '../line/placed.entity.js';
import { placeOfWeld, placeOnPipe } from '../measured-work/measured-work.service.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import { PLAIN_CONCERN, type Concerned, type ConcernedSpan } from './concerned.js';
import { ConcernedNonconformances } from './concerned-nonconformances.service.js';
import { LocatedWork, type ConcernedWork } from './located-work.service.js';
import { placedSpan } from './placed-span.js';
import { RecordFinder } from './record-finder.service.js';
import {
  EXAMINATIONS, linkOf, NONCONFORMANCES, PEOPLE, PERSONS_OTHERS, PERSONS_PLACED, REJOINS, SPLICE_STEPS, startAt, WELDS, type RecordKind,
} from './record-kinds.js';

/** From a person to all that the person did. */
@Injectable()
export class ConcernedPeople {
  constructor(
    private readonly finder: RecordFinder,
    private readonly located: LocatedWork,
    private readonly nonconformances: ConcernedNonconformances,
  ) {}

  /** All that the person did or keyed: with its pipe where it has one. Refuses with 404 when there was no such person. */
  async of(id: string, asKnownAt: string | null): Promise<Concerned> {
    const person = await this.finder.one(PEOPLE, id, asKnownAt);
    const placed = await Promise.all(PERSONS_PLACED.map((kind) => this.placedByPerson(kind, id, asKnownAt)));
    const work = await this.located.of(await this.workOfPerson(id, asKnownAt), asKnownAt);
    const nonconformances = await this.personsNonconformances(id, asKnownAt);
    const footage = await Promise.all(nonconformances.map((row) => this.nonconformances.strip(row, asKnownAt)));
    const others = await Promise.all(
      PERSONS_OTHERS.map(async (kind) => ({ kind: kind.kind, ...(await this.finder.namedByPerson(kind, id, asKnownAt)) })),
    );
    return {
      ...startAt(PEOPLE, person),
      spans: [...placed.flat(), ...work.spans, ...footage.flatMap(({ spans }) => spans)],
      coils: footage.flatMap(({ coils }) => coils),
      others: [...work.others, ...others.filter(({ total }) => total > 0)],
      notes: [],
    };
  }

  /** Welds, re-joins and steps of splices, those too in which the person examined; and examinations of others that the person let stand in. */
  private async workOfPerson(id: string, asKnownAt: string | null): Promise<ConcernedWork[]> {
    const examined = { sql: 'examinations @> $1::jsonb', parameters: [JSON.stringify([{ personId: id }])] };
    const [welds, rejoins, steps, examinedSteps, letStandIn] = await Promise.all([
      this.finder.byPerson(WELDS, id, asKnownAt), this.finder.byPerson(REJOINS, id, asKnownAt), this.finder.byPerson(SPLICE_STEPS, id, asKnownAt),
      this.finder.where(SPLICE_STEPS, examined, asKnownAt), this.finder.where(EXAMINATIONS, { sql: 'stand_in_by = $1', parameters: [id] }, asKnownAt),
    ]);
    const own = new Map([...steps, ...examinedSteps].map((step) => [step.id, step]));
    return [
      ...welds.map((weld): ConcernedWork => ({ record: linkOf(WELDS, weld), place: placeOfWeld(weld), ...PLAIN_CONCERN })),
      ...rejoins.map((rejoin): ConcernedWork => ({ record: linkOf(REJOINS, rejoin), place: { on: 'rejoin', stringId: rejoin.stringId, rejoinId: rejoin.id }, ...PLAIN_CONCERN })),
      ...[...own.values()].map((step): ConcernedWork => ({ record: linkOf(SPLICE_STEPS, step), place: { on: 'splice', stringId: step.stringId, spliceId: step.spliceId }, ...PLAIN_CONCERN })),
      ...letStandIn.map((one): ConcernedWork => ({ record: linkOf(EXAMINATIONS, one), place: placeOnPipe(one), isCertain: true, because: `let it stand in for ${one.standsInFor.join(', ')}` })),
    ];
  }

  private async placedByPerson(kind: RecordKind<PlacedVersion>, id: string, asKnownAt: string | null): Promise<ConcernedSpan[]> {
    const rows = await this.finder.byPerson(kind, id, asKnownAt);
    return rows.map((row) => placedSpan(kind, row));
  }

  /** Those the person entered, and those in which the person found, contained or approved something. */
  private async personsNonconformances(id: string, asKnownAt: string | null): Promise<Nonconformance[]> {
    const named = "(found->>'by' = $1::text or containment->>'by' = $1::text or disposition->>'approvedBy' = $1::text)";
    const [entered, namedIn] = await Promise.all([
      this.finder.byPerson(NONCONFORMANCES, id, asKnownAt),
      this.finder.where(NONCONFORMANCES, { sql: named, parameters: [id] }, asKnownAt),
    ]);
    return [...new Map([...entered, ...namedIn].map((row) => [row.id, row])).values()];
  }
}
