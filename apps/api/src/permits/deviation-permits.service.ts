import { Injectable } from '@nestjs/common';
import { microseconds, type Transaction } from '#libs/persistence';
import { CoilsService } from '../coils/coils.service.js';
import { refusedField } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { DeviationPermitInput, type DeviationPermitContent } from './deviation-permit.dto.js';
import { DeviationPermit } from './deviation-permit.entity.js';

@Injectable()
export class DeviationPermitsService extends RecordsService<DeviationPermit, DeviationPermitInput, DeviationPermitContent> {
  readonly kind = 'deviation permit';
  readonly entity = DeviationPermit;
  readonly input = DeviationPermitInput;
  protected override readonly filters = { coilId: 'coil_id' };

  constructor(
    desk: RecordDesk,
    private readonly coils: CoilsService,
    private readonly strings: CasingStringsService,
  ) {
    super(desk);
  }

  /** The permits of some coils known at `asKnownAt`, oldest first. */
  async ofCoils(coilIds: readonly string[], asKnownAt: string | null): Promise<DeviationPermit[]> {
    return this.desk.store.select(this.entity, "coil_id = any($1::uuid[]) and state = 'active'", [coilIds], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: DeviationPermitInput): Promise<Content<DeviationPermit>> {
    const { coilId, departure, limit, validUntil, observedAt } = input;
    await this.coils.named(tx, 'coilId', coilId);
    const forStringId = input.forStringId ?? null;
    if (forStringId !== null) await this.strings.named(tx, 'forStringId', forStringId);
    if (microseconds(validUntil) <= microseconds(observedAt)) {
      throw refusedField('contradiction', 'validUntil', validUntil, `after ${observedAt}, when it was given`);
    }
    return { coilId, forStringId, departure, limitText: limit, validUntil, note: input.note ?? null };
  }

  protected present({ coilId, forStringId, departure, limitText, validUntil, note }: DeviationPermit): DeviationPermitContent {
    return { coilId, forStringId, departure, limit: limitText, validUntil, note };
  }
}
