import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory, malformed, together } from '../http/problem.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CalibrationInput, type CalibrationContent } from './calibration.dto.js';
import { CalibrationVersion } from './calibration.entity.js';
import { calibrationFaults, outOfTolerance, pointReading, unreadableDeviations } from './calibration.rules.js';

@Injectable()
export class CalibrationsService extends RecordsService<CalibrationVersion, CalibrationInput, CalibrationContent> {
  readonly kind = 'calibration';
  readonly entity = CalibrationVersion;
  readonly input = CalibrationInput;
  protected override readonly filters = { instrumentId: 'instrument_id', referenceInstrumentId: 'reference_instrument_id' };
  protected override readonly constraints = {
    uq_calibration_at: { field: 'observedAt', limit: 'an instant at which this instrument has no other calibration' },
  };

  constructor(desk: RecordDesk, private readonly instruments: InstrumentsService) {
    super(desk);
  }

  /** The calibrations of some instruments known at `asKnownAt`, oldest first. */
  async ofInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<CalibrationVersion[]> {
    return this.desk.store.select(this.entity, "instrument_id = any($1::uuid[]) and state = 'active'", [instrumentIds], asKnownAt, 'order by observed_at, id');
  }

  /** The calibrations for which any of some reference standards was used, known at `asKnownAt`, oldest first. */
  async against(referenceInstrumentIds: readonly string[], asKnownAt: string | null): Promise<CalibrationVersion[]> {
    return this.desk.store.select(this.entity, "reference_instrument_id = any($1::uuid[]) and state = 'active'", [referenceInstrumentIds], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: CalibrationInput): Promise<Content<CalibrationVersion>> {
    const unreadable = unreadableDeviations(input);
    if (unreadable.length > 0) throw malformed(unreadable);
    const faults = calibrationFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { instrumentId, certificateNumber, laboratory, decisionRule } = input;
    const referenceInstrumentId = input.referenceInstrumentId ?? null;
    await together([
      this.instruments.named(tx, 'instrumentId', instrumentId), this.instruments.namedIfAny(tx, 'referenceInstrumentId', referenceInstrumentId),
    ]);
    return {
      instrumentId, referenceInstrumentId, certificateNumber, laboratory, asFound: input.asFound?.map(pointReading) ?? null,
      asLeft: input.asLeft?.map(pointReading) ?? null, decision: decisionRule, guardFactor: input.guardFactor ?? '1', dueOn: input.dueOn ?? null,
      note: input.note ?? null,
    };
  }

  /** A true bad finding is taken and marked. */
  protected override findings(_input: CalibrationInput, content: Content<CalibrationVersion>): Finding[] {
    return outOfTolerance(content);
  }

  protected present(row: CalibrationVersion): CalibrationContent {
    const { instrumentId, referenceInstrumentId, certificateNumber, laboratory, asFound, asLeft, decision, guardFactor, dueOn, note } = row;
    return {
      instrumentId, referenceInstrumentId, certificateNumber, laboratory, asFound: asFound === null ? null : [...asFound],
      asLeft: asLeft === null ? null : [...asLeft], decisionRule: decision, guardFactor, dueOn, note,
    };
  }
}
