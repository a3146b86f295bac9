import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import type { Interval } from '#libs/intervals';
import type { NewVersion, Transaction } from '#libs/persistence';
import { ChannelsService } from '../channels/channels.service.js';
import { contradictory, together } from '../http/problem.js';
import { intervalFaults } from '../line/given-place.js';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { digestOf } from '../records/write-request.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { IndicationInput, type IndicationContent } from './indication.dto.js';
import { Indication } from './indication.entity.js';
import { changedAsDetected, indicationFaults } from './indication.rules.js';

/** What a detection found at a place, as the indication that is opened for it says it. */
export interface Opening extends Interval {
  readonly id: string;
  readonly channelIds: readonly string[];
  readonly method: Indication['method'];
  readonly peak: string;
  readonly peakUnit: string;
  readonly peakIsBound: boolean;
}

/** The detection that opens indications. */
export interface OpenedBy {
  readonly id: string;
  readonly stringId: string;
  readonly observedAt: string;
  readonly doneBy: string;
}

@Injectable()
export class IndicationsService extends PlacedRecordsService<Indication, IndicationInput, IndicationContent> {
  readonly kind = 'indication';
  readonly entity = Indication;
  readonly input = IndicationInput;
  protected override readonly filters = { stringId: 'string_id', detectionId: 'detection_id' };

  constructor(
    desk: RecordDesk,
    places: Places,
    private readonly strings: CasingStringsService,
    private readonly channels: ChannelsService,
  ) {
    super(desk, places);
  }

  /** Those that a detection opened and that stand, by footage. */
  async ofDetection(detectionId: string, manager?: EntityManager): Promise<Indication[]> {
    return this.desk.store.select(this.entity, "detection_id = $1 and state = 'active'", [detectionId], null, 'order by lower(span), id', manager);
  }

  /** Opens an indication for each place; `detection` stands by now. */
  async open(tx: Transaction, detection: OpenedBy, openings: readonly Opening[]): Promise<void> {
    await this.desk.store.appendAll(tx, this.entity, openings.map((opening) => opened(detection, opening)));
  }

  /** Withdraws indications together with the detection that opened them. */
  async withdraw(tx: Transaction, rows: readonly Indication[], reason: string): Promise<void> {
    await this.desk.store.amendTogether(tx, this.entity, rows.map((row) => ({ version: row.version, row: { ...row, state: 'void', reason } })));
  }

  protected async content(tx: Transaction, input: IndicationInput, current: Indication | null): Promise<Content<Indication>> {
    const detectionId = current?.detectionId ?? null;
    const changed = current === null || detectionId === null ? [] : changedAsDetected(input, this.present(current));
    const faults = [...changed, ...indicationFaults(input, detectionId !== null), ...intervalFaults(input)];
    if (faults.length > 0) throw contradictory(faults);
    const named = input.channelIds.map((channelId, index) => this.channels.namedOnString(tx, `channelIds[${index}]`, channelId, input.stringId));
    // What a detection named stays named, though a channel was withdrawn since.
    await together([this.strings.named(tx, 'stringId', input.stringId), ...(detectionId === null ? named : [])]);
    const place = await this.placeOf(tx, input, { id: current?.id ?? null });
    return Object.assign(place, {
      detectionId,
      channelIds: input.channelIds,
      method: input.method ?? null,
      peak: input.peak ?? null,
      peakUnit: input.peakUnit ?? null,
      peakIsBound: input.peakIsBound ?? null,
      clockDeg: input.clockDeg ?? null,
      surface: input.surface ?? null,
      imperfection: input.imperfection ?? null,
      note: input.note ?? null,
    });
  }

  protected present(row: Indication): IndicationContent {
    const { detectionId, channelIds, method, peak, peakUnit, peakIsBound, clockDeg, surface, imperfection, note } = row;
    return Object.assign(this.presentPlace(row), {
      channelIds: [...channelIds], method, peak, peakUnit, peakIsBound, clockDeg, surface, imperfection, note,
      origin: detectionId === null ? 'manual' as const : 'detected' as const, detectionId,
    });
  }
}

/** Footage of samples is that of the pipe: nothing is derived of it. */
function opened({ id: detectionId, stringId, observedAt, doneBy }: OpenedBy, { id, fromMm, toMm, channelIds, ...found }: Opening): NewVersion<Indication> {
  const given = { from: { footageMm: fromMm }, to: { footageMm: toMm } };
  const said = { stringId, given, detectionId, channelIds: [...channelIds], ...found };
  return {
    ...said, id, observedAt, doneBy, source: 'instrument', state: 'active', reason: null, marks: [], digest: digestOf({ id, ...said }), span: { fromMm, toMm },
    fromUMm: '0', toUMm: '0', predicted: false, restsOn: [], clockDeg: null, surface: null, imperfection: null, note: null,
  };
}
