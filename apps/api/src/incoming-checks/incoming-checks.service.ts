import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { evaluator, type EvaluationLine } from '#libs/strip';
import { CoilsService } from '../coils/coils.service.js';
import { malformed } from '../http/problem.js';
import type { StripOrder } from '../orders/strip-order.entity.js';
import { StripOrdersService } from '../orders/strip-orders.service.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { rulesOf } from '../specifications/strip-rules.js';
import type { StripSpecification } from '../specifications/strip-specification.entity.js';
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
  protected override readonly filters = { coilId: 'coil_id', instrumentId: 'instrument_id' };

  constructor(
    desk: RecordDesk,
    private readonly coils: CoilsService,
    private readonly instruments: InstrumentsService,
    private readonly orders: StripOrdersService,
    private readonly specifications: StripSpecificationsService,
  ) {
    super(desk);
  }

  /** The checks of some coils known at `asKnownAt`, by when they were made. */
  async ofCoils(coilIds: readonly string[], asKnownAt: string | null): Promise<IncomingCheck[]> {
    return this.desk.store.select(this.entity, "coil_id = any($1::uuid[]) and state = 'active'", [coilIds], asKnownAt, 'order by observed_at, id');
  }

  /** The checks of one characteristic of some coils known at `asKnownAt`, by when they were made. */
  async ofCharacteristic(coilIds: readonly string[], characteristic: string, asKnownAt: string | null): Promise<IncomingCheck[]> {
    return this.desk.store.select(this.entity, "coil_id = any($1::uuid[]) and characteristic = $2 and state = 'active'", [coilIds, characteristic], asKnownAt, 'order by observed_at, id');
  }

  /** The checks made with some instruments, known at `asKnownAt`, by when they were made. */
  async withInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<IncomingCheck[]> {
    return this.desk.store.select(this.entity, "instrument_id = any($1::uuid[]) and state = 'active'", [instrumentIds], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: IncomingCheckInput): Promise<Content<IncomingCheck>> {
    if (input.instrumentId != null) await this.instruments.named(tx, 'instrumentId', input.instrumentId);
    const check = {
      coilId: input.coilId, characteristic: input.characteristic, unit: input.unit, instrument: input.instrument, instrumentId: input.instrumentId ?? null,
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
    const other = await this.otherNumber(tx, content);
    if (coil.orderId === null) return [...other, ...unlikelyReadings(content, null)];
    const order = await this.orders.named(tx, 'orderId', coil.orderId);
    const lines = linesOf(content, order, await this.specifications.named(tx, 'specificationId', order.specificationId));
    return [...other, ...unlikelyReadings(content, order), ...outOfSpecification(lines, content.readings)];
  }

  /** The checks that name no instrument on record, but write one of some numbers, whatever its capitals. */
  async withNumbers(numbers: readonly string[], asKnownAt: string | null): Promise<IncomingCheck[]> {
    if (numbers.length === 0) return [];
    const condition = "instrument_id is null and upper(instrument) = any(select upper(number) from unnest($1::text[]) as number) and state = 'active'";
    return this.desk.store.select(this.entity, condition, [numbers], asKnownAt, 'order by observed_at, id');
  }

  /** How far each reading of some checks lies from the limits that the coils were ordered to, as known at `asKnownAt`, by check; what has none is left out. */
  async marginsOf(checks: readonly IncomingCheck[], asKnownAt: string | null): Promise<Map<string, { value: string; unit: string }[]>> {
    const coils = await this.coils.rowsByIds(checks.map(({ coilId }) => coilId), asKnownAt);
    const orders = await this.orders.rowsByIds([...coils.values()].map(({ orderId }) => orderId).filter((id) => id !== null), asKnownAt);
    const specifications = await this.specifications.rowsByIds([...orders.values()].map(({ specificationId }) => specificationId), asKnownAt);
    return new Map(checks.map((check) => {
      const order = orders.get(coils.get(check.coilId)?.orderId ?? '');
      const specification = specifications.get(order?.specificationId ?? '');
      const lines = order === undefined || specification === undefined ? [] : linesOf(check, order, specification);
      return [check.id, lines.flatMap(({ margin, unit }) => (margin === null ? [] : [{ value: margin, unit }]))];
    }));
  }

  /** The number read from the instrument may be another one than that of the instrument named. */
  private async otherNumber(tx: Transaction, { instrument, instrumentId }: Content<IncomingCheck>): Promise<readonly Finding[]> {
    if (instrumentId === null) return [];
    const { number } = await this.instruments.named(tx, 'instrumentId', instrumentId);
    return number.toUpperCase() === instrument.toUpperCase() ? [] : [{ tier: 'noted', field: 'instrument', value: instrument, limit: `${number}, the number of the instrument named` }];
  }

  protected present(row: IncomingCheck): IncomingCheckContent {
    const { coilId, characteristic, unit, readings, instrument, instrumentId, expandedU, baseMm, method, note } = row;
    return { coilId, characteristic, unit, readings: [...readings], instrument, instrumentId, expandedU, baseMm, method, note };
  }
}

/** The readings of a check held against what its coil's order asks of just that. */
function linesOf(check: Parameters<typeof sourcedReadings>[0], order: StripOrder, specification: StripSpecification): readonly EvaluationLine[] {
  const rules = rulesOf(specification);
  const requirements = rules.requirements.filter(({ characteristic }) => characteristic === check.characteristic);
  return requirements.length === 0 ? [] : evaluator({ ...rules, requirements }, order)(sourcedReadings(check)).lines;
}
