import { Injectable } from '@nestjs/common';
import { v7 as uuidv7 } from 'uuid';
import { inTransaction, type Actor } from '#libs/persistence';
import { AccessNews } from '../access/access-news.js';
import { digestOfSecret, newSecret } from '../access/token.js';
import { notFound, Refused } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import type { DeviceTokenAnswer } from './device.dto.js';
import { Device } from './device.entity.js';

/** Valid at a time, so that a device can be given its next token while the old one still serves. */
const VALID_AT_ONCE = 2;

/** The secrets of devices: only their SHA-256 is kept. */
@Injectable()
export class DeviceTokensService {
  constructor(
    private readonly desk: RecordDesk,
    private readonly news: AccessNews,
  ) {}

  /** Makes a token, shown this once, and ends all but the newest two. Refuses when the device takes none. */
  async make(deviceId: string, actor: Actor): Promise<DeviceTokenAnswer> {
    const device = await this.desk.store.find(Device, deviceId);
    if (device === null) throw notFound('device', deviceId);
    if (device.state === 'void' || !device.active) {
      throw new Refused(409, 'inactive-device', 'This device is not active.');
    }
    const [id, secret] = [uuidv7(), newSecret()];
    const made = await inTransaction(this.desk.dataSource, actor, null, async (tx) => {
      await tx.manager.query('select pg_advisory_xact_lock(hashtextextended($1, 0))', [deviceId]);
      await tx.manager.query('insert into device_secret (id, device_id, secret_hash, made_at) values ($1, $2, $3, $4)', [
        id, deviceId, digestOfSecret(secret), tx.knownAt,
      ]);
      const result: [unknown[], number] = await tx.manager.query(
        `update device_secret set ended_at = $2 where device_id = $1 and ended_at is null and id not in
           (select id from device_secret where device_id = $1 and ended_at is null order by made_at desc, id desc limit $3)`,
        [deviceId, tx.knownAt, VALID_AT_ONCE],
      );
      await this.news.announce(tx);
      return { madeAt: tx.knownAt, ended: result[1] };
    });
    this.news.changed();
    return { token: `${id}.${secret}`, deviceId, expiresAt: device.expiresAt, ...made };
  }

  /** Ends all tokens of a device. Gives how many there were. */
  async endAll(deviceId: string, actor: Actor): Promise<number> {
    if ((await this.desk.store.find(Device, deviceId)) === null) throw notFound('device', deviceId);
    const ended = await inTransaction(this.desk.dataSource, actor, null, async (tx) => {
      const result: [unknown[], number] = await tx.manager.query(
        'update device_secret set ended_at = $2 where device_id = $1 and ended_at is null',
        [deviceId, tx.knownAt],
      );
      await this.news.announce(tx);
      return result[1];
    });
    this.news.changed();
    return ended;
  }
}
