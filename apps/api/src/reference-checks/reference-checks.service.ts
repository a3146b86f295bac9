import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory, malformed, together } from '../http/problem.js';
import { RUN_LOST_CHANNELS, standardFindings, strangeChannels } from '../inspection-runs/inspection-run.rules.js';
import { InspectionRunsService } from '../inspection-runs/inspection-runs.service.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { ReferenceCheckInput, type ReferenceCheckContent } from './reference-check.dto.js';
import { ReferenceCheck } from './reference-check.entity.js';
import { checkFaults, checkFindings, checkResults, outcomesOf, unreadableAmplitudes } from './reference-check.rules.js';

@Injectable()
export class ReferenceChecksService extends PlacedRecordsService<ReferenceCheck, ReferenceCheckInput, ReferenceCheckContent> {
  readonly kind = 'reference check';
  readonly entity = ReferenceCheck;
  readonly input = ReferenceCheckInput;
  protected override readonly filters = { stringId: 'string_id', runId: 'run_id', standardId: 'standard_id' };
  protected override readonly constraints = { ck_of_run: RUN_LOST_CHANNELS };

  constructor(
    desk: RecordDesk,
    places: Places,
    private readonly runs: InspectionRunsService,
    private readonly instruments: InstrumentsService,
  ) {
    super(desk, places);
  }

  /** The checks of a string that say something of a channel, or of any where it is null, known at `asKnownAt`, by when they were made. */
  async onString(stringId: string, channelId: string | null, asKnownAt: string | null): Promise<ReferenceCheck[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and state = 'active' and ($2::jsonb is null or results @> $2::jsonb)",
      [stringId, channelId === null ? null : JSON.stringify([{ channelId }])], asKnownAt, 'order by observed_at, id',
    );
  }

  /** The checks made on one of some instruments as the standard, known at `asKnownAt`, by when they were made. */
  async withInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<ReferenceCheck[]> {
    return this.desk.store.select(this.entity, "standard_id = any($1::uuid[]) and state = 'active'", [instrumentIds], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: ReferenceCheckInput, current: ReferenceCheck | null): Promise<Content<ReferenceCheck>> {
    const results = checkResults(input.results);
    const unreadable = unreadableAmplitudes(results);
    if (unreadable.length > 0) throw malformed(unreadable);
    const faults = checkFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, runId, standardId, mode, occasion, voidReason, action, note } = input;
    const [run] = await together([this.runs.namedOnString(tx, 'runId', runId, stringId), this.instruments.named(tx, 'standardId', standardId)]);
    const strange = strangeChannels(Object.fromEntries(results.map(({ channelId }, index) => [`results[${index}].channelId`, channelId])), run);
    if (strange.length > 0) throw contradictory(strange);
    const place = await this.placeOf(tx, input, { id: current?.id ?? null });
    return Object.assign(place, { runId, standardId, mode, occasion, results, voidReason: voidReason ?? null, action: action ?? null, note: note ?? null });
  }

  protected override async findings(_input: ReferenceCheckInput, content: Content<ReferenceCheck>, tx: Transaction): Promise<readonly Finding[]> {
    return [...checkFindings(content), ...standardFindings(await this.instruments.named(tx, 'standardId', content.standardId))];
  }

  protected present(row: ReferenceCheck): ReferenceCheckContent {
    const { runId, standardId, mode, occasion, results, voidReason, action, note } = row;
    return Object.assign(this.presentPlace(row), {
      runId, standardId, mode, occasion, results: results.map((result) => ({ ...result })), voidReason, action, note, outcomes: outcomesOf(row),
    });
  }
}
