import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import type { Coil } from '../coils/coil.entity.js';
import { CoilsService } from '../coils/coils.service.js';
import { refusedField } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CoilReceiptInput, type CoilReceiptContent } from './coil-receipt.dto.js';
import { CoilReceipt } from './coil-receipt.entity.js';
import { receiptFindings, refuseContradiction } from './coil-receipt.rules.js';

/** The columns, and the coil they are judged against; the store writes columns only. */
type JudgedReceipt = Content<CoilReceipt> & { readonly coil: Coil; readonly heatNumber: string };

@Injectable()
export class CoilReceiptsService extends RecordsService<CoilReceipt, CoilReceiptInput, CoilReceiptContent> {
  readonly kind = 'coil receipt';
  readonly entity = CoilReceipt;
  readonly input = CoilReceiptInput;
  protected override readonly filters = { coilId: 'coil_id' };

  constructor(
    desk: RecordDesk,
    private readonly coils: CoilsService,
  ) {
    super(desk);
  }

  /** The receipts of some coils known at `asKnownAt`, by when they came in. */
  async ofCoils(coilIds: readonly string[], asKnownAt: string | null): Promise<CoilReceipt[]> {
    return this.desk.store.select(this.entity, "coil_id = any($1::uuid[]) and state = 'active'", [coilIds], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: CoilReceiptInput): Promise<JudgedReceipt> {
    const fault = refuseContradiction(input);
    if (fault !== null) throw refusedField('contradiction', fault.field, fault.value, fault.limit);
    const coil = await this.coils.named(tx, 'coilId', input.coilId);
    return {
      coilId: input.coilId, occasion: input.occasion, tagNumber: input.tagNumber, tagHeatNumber: input.tagHeatNumber ?? null,
      weighedMassKg: input.weighedMassKg ?? null, weighedMassUKg: input.weighedMassUKg ?? null, boreMm: input.boreMm ?? null,
      outerDiameterMm: input.outerDiameterMm ?? null, diameterUMm: input.diameterUMm ?? null, restLengthMm: input.restLengthMm ?? null,
      condition: input.condition, damage: input.damage ?? null, place: input.place, note: input.note ?? null,
      coil, heatNumber: await this.coils.heatNumberOf(tx, coil),
    };
  }

  protected override findings(_input: CoilReceiptInput, { coil, heatNumber, ...receipt }: JudgedReceipt): readonly Finding[] {
    return receiptFindings(receipt, { number: coil.number, heatNumber, massKg: coil.massKg });
  }

  protected present(row: CoilReceipt): CoilReceiptContent {
    const { coilId, occasion, tagNumber, tagHeatNumber, weighedMassKg, weighedMassUKg, boreMm, outerDiameterMm, diameterUMm } = row;
    const { restLengthMm, condition, damage, place, note } = row;
    return {
      coilId, occasion, tagNumber, tagHeatNumber, weighedMassKg, weighedMassUKg, boreMm, outerDiameterMm, diameterUMm, restLengthMm,
      condition, damage, place, note,
    };
  }
}
