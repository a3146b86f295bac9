import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory, together } from '../http/problem.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { READ_WITH, readWith } from '../instruments/read-with.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { weldProcedureOf } from '../weld-procedures/weld-procedure.rules.js';
import { WeldProceduresService } from '../weld-procedures/weld-procedures.service.js';
import { WeldInput, type WeldContent } from './weld.dto.js';
import { Weld } from './weld.entity.js';
import { demandInstruments, takenReadings } from './weld-readings.js';
import { outsideProcedure, unusualReadings } from './weld.rules.js';

@Injectable()
export class WeldsService extends RecordsService<Weld, WeldInput, WeldContent> {
  readonly kind = 'weld';
  readonly entity = Weld;
  readonly input = WeldInput;
  protected override readonly filters = { stringId: 'string_id', spliceId: 'splice_id', rejoinId: 'rejoin_id', weldProcedureId: 'weld_procedure_id' };

  constructor(
    desk: RecordDesk,
    private readonly splices: SplicesService,
    private readonly rejoins: RejoinsService,
    private readonly procedures: WeldProceduresService,
    private readonly instruments: InstrumentsService,
  ) {
    super(desk);
  }

  /** The welds of a splice known at `asKnownAt`, in the order in which they were made. */
  async ofSplice(spliceId: string, asKnownAt: string | null): Promise<Weld[]> {
    return this.desk.store.select(this.entity, "splice_id = $1 and state = 'active'", [spliceId], asKnownAt, 'order by observed_at, id');
  }

  /** The welds with a reading of any of some instruments, known at `asKnownAt`, by when they were done. */
  async withInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<Weld[]> {
    return this.desk.store.select(this.entity, READ_WITH, [readWith(instrumentIds)], asKnownAt, 'order by observed_at, id');
  }

  /** The welds of a string known at `asKnownAt`, in the order in which they were made. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<Weld[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by observed_at, id');
  }

  /** The welds of a re-join known at `asKnownAt`, in the order in which they were made. */
  async ofRejoin(rejoinId: string, asKnownAt: string | null): Promise<Weld[]> {
    return this.desk.store.select(this.entity, "rejoin_id = $1 and state = 'active'", [rejoinId], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: WeldInput): Promise<Content<Weld>> {
    const { stringId, weldProcedureId } = input;
    const readings = takenReadings(input.readings);
    const of = weldedOf(input);
    await together([
      demandInstruments(tx, readings, this.instruments),
      of.spliceId === null ? null : this.splices.namedOnString(tx, 'spliceId', of.spliceId, stringId),
      of.rejoinId === null ? null : this.rejoins.namedOnString(tx, 'rejoinId', of.rejoinId, stringId),
      this.procedures.named(tx, 'weldProcedureId', weldProcedureId),
    ]);
    return {
      stringId, ...of, weldProcedureId, readings, chosen: input.chosen.map(({ choice, value }) => ({ choice, value })),
      fillerBatch: input.fillerBatch ?? null, gasBatch: input.gasBatch ?? null, note: input.note ?? null,
    };
  }

  /** A weld outside its procedure is taken and marked; what no such weld has is asked about. */
  protected override async findings(_input: WeldInput, content: Content<Weld>, tx: Transaction): Promise<readonly Finding[]> {
    const procedure = await this.procedures.named(tx, 'weldProcedureId', content.weldProcedureId);
    return [...unusualReadings(content.readings), ...outsideProcedure(content, weldProcedureOf(procedure))];
  }

  protected present(row: Weld): WeldContent {
    const { stringId, spliceId, rejoinId, weldProcedureId, readings, chosen, fillerBatch, gasBatch, note } = row;
    return { stringId, spliceId, rejoinId, weldProcedureId, readings: [...readings], chosen: [...chosen], fillerBatch, gasBatch, note };
  }
}

/** What it made: one thing. */
function weldedOf({ spliceId = null, rejoinId = null }: WeldInput): Pick<Weld, 'spliceId' | 'rejoinId'> {
  if ((spliceId === null) !== (rejoinId === null)) return { spliceId, rejoinId };
  throw contradictory([{ field: 'spliceId', value: spliceId, limit: 'either a splice or a re-join' }]);
}
