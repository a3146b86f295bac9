import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { AccessNews } from '../access/access-news.js';
import { refusedField } from '../http/problem.js';
import type { RecordAnswer } from '../records/record.dto.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import type { WriteRequest } from '../records/write-request.js';
import { DeviceInput, type DeviceContent } from './device.dto.js';
import { Device } from './device.entity.js';

@Injectable()
export class DevicesService extends RecordsService<Device, DeviceInput, DeviceContent> {
  readonly kind = 'device';
  readonly entity = Device;
  readonly input = DeviceInput;
  protected override readonly filters = { stringId: 'string_id' };

  constructor(
    desk: RecordDesk,
    private readonly news: AccessNews,
  ) {
    super(desk);
  }

  override async amend(id: string, body: unknown, request: WriteRequest): Promise<RecordAnswer & DeviceContent> {
    const answer = await super.amend(id, body, request);
    this.news.changed();
    return answer;
  }

  override async void(id: string, reason: string, request: WriteRequest): Promise<RecordAnswer & DeviceContent> {
    const answer = await super.void(id, reason, request);
    this.news.changed();
    return answer;
  }

  protected async content(tx: Transaction, input: DeviceInput): Promise<Content<Device>> {
    const { name, stringId, counters, expiresAt, active } = input;
    if (counters.length === 0 || new Set(counters).size < counters.length) {
      throw refusedField('unfit-counters', 'counters', counters, 'at least one counter, each once');
    }
    const known: unknown[] = await tx.manager.query(
      'select 1 from casing_string where id = $1 and known_until is null',
      [stringId],
    );
    if (known.length === 0) throw refusedField('unknown-reference', 'stringId', stringId, 'the id of a casing string');
    return { name, stringId, counters, expiresAt, active };
  }

  protected present({ name, stringId, counters, expiresAt, active }: Device): DeviceContent {
    return { name, stringId, counters, expiresAt, active };
  }

  protected override async afterWrite(tx: Transaction): Promise<void> {
    await this.news.announce(tx);
  }
}
