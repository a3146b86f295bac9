import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { CertificatesService } from '../certificates/certificates.service.js';
import { HeatsService } from '../heats/heats.service.js';
import { StripOrdersService } from '../orders/strip-orders.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CoilInput, type CoilContent } from './coil.dto.js';
import { Coil } from './coil.entity.js';
import { coilFindings } from './coil.rules.js';

@Injectable()
export class CoilsService extends RecordsService<Coil, CoilInput, CoilContent> {
  readonly kind = 'coil';
  readonly entity = Coil;
  readonly input = CoilInput;
  protected override readonly effect = 'shows';
  protected override readonly filters = { heatId: 'heat_id', certificateId: 'certificate_id', orderId: 'order_id' };
  protected override readonly constraints = {
    uq_coil_number: { field: 'number', limit: 'a coil number that no other coil has' },
  };

  constructor(
    desk: RecordDesk,
    private readonly heats: HeatsService,
    private readonly certificates: CertificatesService,
    private readonly orders: StripOrdersService,
  ) {
    super(desk);
  }

  /** The number of a coil's heat, as `tx` sees it. */
  async heatNumberOf(tx: Transaction, { heatId }: Coil): Promise<string> {
    return (await this.heats.named(tx, 'heatId', heatId)).number;
  }

  /** Coils known at `asKnownAt` that came with one of these certificates. */
  async ofCertificates(certificateIds: readonly string[], asKnownAt: string | null): Promise<Coil[]> {
    if (certificateIds.length === 0) return [];
    return this.desk.store.select(this.entity, "certificate_id = any($1::uuid[]) and state = 'active'", [certificateIds], asKnownAt, 'order by id');
  }

  /** Coils of these orders known at `asKnownAt`, at most `limit`: those entered last, the last one first. */
  async ofOrders(orderIds: readonly string[], asKnownAt: string | null, limit: number): Promise<Coil[]> {
    if (orderIds.length === 0) return [];
    return this.desk.store.select(
      this.entity, "order_id = any($1::uuid[]) and state = 'active'", [orderIds, limit], asKnownAt, 'order by entered_at desc, id desc limit $2',
    );
  }

  protected async content(tx: Transaction, input: CoilInput, current: Coil | null): Promise<Content<Coil>> {
    const certificateId = input.certificateId ?? null;
    if (input.heatId !== current?.heatId) await this.heats.named(tx, 'heatId', input.heatId);
    if (certificateId !== null && certificateId !== current?.certificateId) {
      await this.certificates.named(tx, 'certificateId', certificateId);
    }
    const orderId = input.orderId ?? null;
    if (orderId !== null && orderId !== current?.orderId) await this.orders.named(tx, 'orderId', orderId);
    return {
      number: input.number,
      heatId: input.heatId,
      certificateId,
      widthMm: input.widthMm,
      thicknessMm: input.thicknessMm,
      massKg: input.massKg,
      lengthMm: input.lengthMm ?? null,
      cropMm: input.cropMm ?? 0,
      restMm: input.restMm ?? 0,
      note: input.note ?? null,
      orderId,
      masterCoil: input.masterCoil ?? null,
    };
  }

  protected override findings(_input: CoilInput, content: Content<Coil>): readonly Finding[] {
    return coilFindings(content);
  }

  protected present(row: Coil): CoilContent {
    const { number, heatId, certificateId, widthMm, thicknessMm, massKg, lengthMm, cropMm, restMm, note, orderId, masterCoil } = row;
    return { number, heatId, certificateId, widthMm, thicknessMm, massKg, lengthMm, cropMm, restMm, note, orderId, masterCoil };
  }
}
