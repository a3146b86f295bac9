import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { StripSpecificationsService } from '../specifications/strip-specifications.service.js';
import { StripOrderInput, type StripOrderContent } from './strip-order.dto.js';
import { StripOrder } from './strip-order.entity.js';

@Injectable()
export class StripOrdersService extends RecordsService<StripOrder, StripOrderInput, StripOrderContent> {
  readonly kind = 'strip order';
  readonly entity = StripOrder;
  readonly input = StripOrderInput;
  protected override readonly filters = { specificationId: 'specification_id' };
  protected override readonly constraints = {
    uq_strip_order_number: { field: 'number', limit: 'a number that no other order has' },
  };

  constructor(
    desk: RecordDesk,
    private readonly specifications: StripSpecificationsService,
  ) {
    super(desk);
  }

  /** The standing orders among those with these numbers; capitals make no difference. */
  async withNumbers(numbers: readonly string[]): Promise<StripOrder[]> {
    return this.desk.store.select(
      this.entity, "state = 'active' and upper(number) = any(array(select upper(n) from unnest($1::text[]) as named(n)))", [numbers], null,
    );
  }

  /** The orders at a mill, of one ordered thickness where that is given, known at `asKnownAt`; oldest first. */
  async ofMill(mill: string, thicknessMm: string | null, asKnownAt: string | null): Promise<StripOrder[]> {
    return this.desk.store.select(
      this.entity, "mill = $1 and ($2::numeric is null or thickness_mm = $2::numeric) and state = 'active'", [mill, thicknessMm], asKnownAt,
      'order by ordered_on, number, id',
    );
  }

  protected async content(tx: Transaction, input: StripOrderInput): Promise<Content<StripOrder>> {
    await this.specifications.named(tx, 'specificationId', input.specificationId);
    const { number, mill, orderedOn, specificationId, thicknessMm, widthMm } = input;
    return { number, mill, orderedOn, specificationId, thicknessMm, widthMm, note: input.note ?? null };
  }

  /** The revision ordered to is usually the one in force on that day. */
  protected override async findings(_input: StripOrderInput, content: Content<StripOrder>, tx: Transaction): Promise<readonly Finding[]> {
    const named = await this.specifications.named(tx, 'specificationId', content.specificationId);
    const inForce = await this.specifications.inForce(named.number, content.orderedOn, null, tx.manager);
    if (inForce?.id === named.id) return [];
    const limit = inForce === null
      ? `usually a revision in force on ${content.orderedOn}; revision ${named.revision} is from ${named.effectiveFrom} on`
      : `usually revision ${inForce.revision}, in force on ${content.orderedOn}`;
    return [{ tier: 'implausible', field: 'specificationId', value: `revision ${named.revision}`, limit }];
  }

  protected present({ number, mill, orderedOn, specificationId, thicknessMm, widthMm, note }: StripOrder): StripOrderContent {
    return { number, mill, orderedOn, specificationId, thicknessMm, widthMm, note };
  }
}
