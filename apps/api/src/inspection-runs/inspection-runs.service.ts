import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { normalInstant, type Transaction } from '#libs/persistence';
import { ChannelsService } from '../channels/channels.service.js';
import { contradictory, together } from '../http/problem.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { InspectionRunInput, type InspectionRunContent } from './inspection-run.dto.js';
import { InspectionRun } from './inspection-run.entity.js';
import { runFaults, runFindings, standardFindings } from './inspection-run.rules.js';

@Injectable()
export class InspectionRunsService extends RecordsService<InspectionRun, InspectionRunInput, InspectionRunContent> {
  readonly kind = 'inspection run';
  readonly entity = InspectionRun;
  readonly input = InspectionRunInput;
  protected override readonly filters = { stringId: 'string_id', standardId: 'standard_id' };
  protected override readonly constraints = {
    ck_inspection_run_own_channels: { field: 'channelIds', limit: 'channels of this string that are not void' },
    ck_inspection_run_keeps_channels: { field: 'channelIds', limit: 'all channels that marks, reference checks and uploads of the run name' },
  };

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly channels: ChannelsService,
    private readonly instruments: InstrumentsService,
  ) {
    super(desk);
  }

  /** The runs of a string known at `asKnownAt`, by when they started; in a transaction through its manager. */
  async onString(stringId: string, asKnownAt: string | null, manager?: EntityManager): Promise<InspectionRun[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by observed_at, id', manager);
  }

  protected async content(tx: Transaction, input: InspectionRunInput): Promise<Content<InspectionRun>> {
    const faults = runFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, channelIds } = input;
    const [string] = await together([
      this.strings.named(tx, 'stringId', stringId), this.instruments.namedIfAny(tx, 'standardId', input.standardId),
      ...channelIds.map((id, index) => this.channels.namedOnString(tx, `channelIds[${index}]`, id, stringId)),
    ]);
    return {
      stringId, endedAt: input.endedAt == null ? null : normalInstant(input.endedAt), counter: input.counter ?? string.masterCounter, channelIds,
      settings: input.settings.map(({ channelId, gainDb, threshold, filter, note }) => ({
        channelId, gainDb: gainDb ?? null, threshold: threshold ?? null, filter: filter ?? null, note: note ?? null,
      })),
      standardId: input.standardId ?? null, endReason: input.endReason ?? null, note: input.note ?? null,
    };
  }

  protected override async findings(input: InspectionRunInput, content: Content<InspectionRun>, tx: Transaction, current: InspectionRun | null): Promise<readonly Finding[]> {
    const others = (await this.onString(content.stringId, null, tx.manager)).filter(({ id }) => id !== current?.id);
    const standard = await this.instruments.namedIfAny(tx, 'standardId', content.standardId);
    return [...runFindings({ ...content, observedAt: normalInstant(input.observedAt) }, others), ...standardFindings(standard)];
  }

  protected present({ stringId, endedAt, counter, channelIds, settings, standardId, endReason, note }: InspectionRun): InspectionRunContent {
    return { stringId, endedAt, counter, channelIds: [...channelIds], settings: settings.map((setting) => ({ ...setting })), standardId, endReason, note };
  }
}
