import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { evaluator } from '#libs/strip';
import { CoilsService } from '../coils/coils.service.js';
import { malformed } from '../http/problem.js';
import { StripOrdersService } from '../orders/strip-orders.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { rulesOf } from '../specifications/strip-rules.js';
import { StripSpecificationsService } from '../specifications/strip-specifications.service.js';
import { impossible } from '../transcriptions/printed-values.js';
import { IncomingCheckInput, type IncomingCheckContent } from './incoming-check.dto.js';
import { IncomingCheck } from './incoming-check.entity.js';
import { outOfSpecification, sourcedReadings, unlikelyReadings, valuesOf } from './incoming-check.rules.js';

@Injectable()
export class IncomingChecksService extends RecordsService<IncomingCheck, IncomingCheckInput, IncomingCheckContent> {
  readonly kind = 'incoming check';
  readonly entity = IncomingCheck;
  readonly input = IncomingCheckInput;
  protected override readonly filters = { coilId: 'coil_id' };

  constructor(
    desk: RecordDesk,
    private readonly coils: CoilsService,
    private readonly orders: StripOrdersService,
    private readonly specifications: StripSpecificationsService,
  ) {
    super(desk);
  }

  /** The checks of some coils known at `asKnownAt`, by when they were made. */
  async ofCoils(coilIds: readonly string[], asKnownAt: string | null): Promise<IncomingCheck[]> {
    return this.desk.store.select(this.entity, "coil_id = any($1::uuid[]) and state = 'active'", [coilIds], asKnownAt, 'order by observed_at, id');
  }

  protected content(_tx: Transaction, input: IncomingCheckInput): Content<IncomingCheck> {
    const check = {
      coilId: input.coilId, characteristic: input.characteristic, unit: input.unit, instrument: input.instrument,
      readings: input.readings.map(({ printed, along, across, fromEdgeMm }) => ({ printed, along, across: across ?? null, fromEdgeMm: fromEdgeMm ?? null })),
      expandedU: input.expandedU ?? null, baseMm: input.baseMm ?? null, method: input.method ?? null, note: input.note ?? null,
    };
    const faults = valuesOf(check).flatMap((value, index) => impossible(value, `readings[${index}]`));
    if (faults.length > 0) throw malformed(faults);
    if ((check.characteristic === 'camber') !== (check.baseMm !== null)) {
      const limit = check.characteristic === 'camber' ? 'the base length: it is part of a camber' : 'only for camber';
      throw malformed([{ field: 'baseMm', value: check.baseMm, limit }]);
    }
    return check;
  }

  /** Asked about when unlikely; marked when beyond what the coil's order asks for, and taken all the same. */
  protected override async findings(_input: IncomingCheckInput, content: Content<IncomingCheck>, tx: Transaction): Promise<readonly Finding[]> {
    const coil = await this.coils.named(tx, 'coilId', content.coilId);
    if (coil.orderId === null) return unlikelyReadings(content, null);
    const order = await this.orders.named(tx, 'orderId', coil.orderId);
    const specification = await this.specifications.named(tx, 'specificationId', order.specificationId);
    const rules = rulesOf(specification);
    const asked = { ...rules, requirements: rules.requirements.filter(({ characteristic }) => characteristic === content.characteristic) };
    const { lines } = asked.requirements.length === 0 ? { lines: [] } : evaluator(asked, order)(sourcedReadings(content));
    return [...unlikelyReadings(content, order), ...outOfSpecification(lines, content.readings)];
  }

  protected present(row: IncomingCheck): IncomingCheckContent {
    const { coilId, characteristic, unit, readings, instrument, expandedU, baseMm, method, note } = row;
    return { coilId, characteristic, unit, readings: [...readings], instrument, expandedU, baseMm, method, note };
  }
}
