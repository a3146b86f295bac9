import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory } from '../http/problem.js';
import { RUN_LOST_CHANNELS, strangeChannels } from '../inspection-runs/inspection-run.rules.js';
import { InspectionRunsService } from '../inspection-runs/inspection-runs.service.js';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { SignalMarkInput, type SignalMarkContent } from './signal-mark.dto.js';
import { SignalMark } from './signal-mark.entity.js';
import { markFaults } from './signal-mark.rules.js';

@Injectable()
export class SignalMarksService extends PlacedRecordsService<SignalMark, SignalMarkInput, SignalMarkContent> {
  readonly kind = 'signal mark';
  readonly entity = SignalMark;
  readonly input = SignalMarkInput;
  protected override readonly filters = { stringId: 'string_id', runId: 'run_id' };
  protected override readonly constraints = { ck_of_run: RUN_LOST_CHANNELS };

  constructor(
    desk: RecordDesk,
    places: Places,
    private readonly runs: InspectionRunsService,
  ) {
    super(desk, places);
  }

  /** The marks of a string known at `asKnownAt`, by footage. */
  async onString(stringId: string, asKnownAt: string | null): Promise<SignalMark[]> {
    return this.ofString(stringId, asKnownAt);
  }

  protected async content(tx: Transaction, input: SignalMarkInput, current: SignalMark | null): Promise<Content<SignalMark>> {
    const faults = markFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, runId, channelIds, effect, cause, note } = input;
    const run = await this.runs.namedOnString(tx, 'runId', runId, stringId);
    const strange = strangeChannels(Object.fromEntries(channelIds.map((id, index) => [`channelIds[${index}]`, id])), run);
    if (strange.length > 0) throw contradictory(strange);
    const place = await this.placeOf(tx, input, { id: current?.id ?? null });
    return Object.assign(place, { runId, channelIds, effect, cause, note: note ?? null });
  }

  protected present(row: SignalMark): SignalMarkContent {
    const { runId, channelIds, effect, cause, note } = row;
    return Object.assign(this.presentPlace(row), { runId, channelIds: [...channelIds], effect, cause, note });
  }
}
