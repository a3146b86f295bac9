import { Injectable } from '@nestjs/common';
import type { NewVersion, Transaction } from '#libs/persistence';
import { DeviationPermitsService } from '../permits/deviation-permits.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { CoilDecision } from './coil-decision.entity.js';
import { standingOf, type CoilStanding } from './coil-standing.js';

/** Where coils stand: what was decided last, and what is permitted. */
@Injectable()
export class CoilStandings {
  constructor(
    private readonly desk: RecordDesk,
    private readonly permits: DeviationPermitsService,
  ) {}

  /** The decisions on some coils known at `asKnownAt`, in their order. */
  async decisionsOn(coilIds: readonly string[], asKnownAt: string | null): Promise<CoilDecision[]> {
    if (coilIds.length === 0) return [];
    return this.desk.store.select(CoilDecision, 'coil_id = any($1::uuid[])', [coilIds], asKnownAt, 'order by coil_id, sequence');
  }

  /** One decision, or null. */
  async decision(id: string, asKnownAt: string | null): Promise<CoilDecision | null> {
    return this.desk.store.find(CoilDecision, id, asKnownAt);
  }

  /** Adds a decision. */
  async append(tx: Transaction, row: NewVersion<CoilDecision>): Promise<CoilDecision> {
    return this.desk.store.append(tx, CoilDecision, row);
  }

  /** The standing of a coil as known at `asKnownAt`, or now. */
  async ofCoil(coilId: string, asKnownAt: string | null): Promise<CoilStanding> {
    const standing = (await this.of([coilId], asKnownAt)).get(coilId);
    if (standing === undefined) throw new Error(`coil ${coilId} has no standing`);
    return standing;
  }

  /** The standing of each of some coils as known at `asKnownAt`, or now. */
  async of(coilIds: readonly string[], asKnownAt: string | null): Promise<Map<string, CoilStanding>> {
    const [decisions, permits] = await Promise.all([this.decisionsOn(coilIds, asKnownAt), this.permits.ofCoils(coilIds, asKnownAt)]);
    const at = asKnownAt ?? new Date().toISOString();
    return new Map(coilIds.map((coilId) => [
      coilId,
      standingOf(decisions.filter((one) => one.coilId === coilId), permits.filter((one) => one.coilId === coilId), at),
    ]));
  }
}
