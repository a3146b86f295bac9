import { beforeEach, describe, expect, test } from '@jest/globals';
import type { EntityManager } from 'typeorm';
import { lineFactory } from './line.factory.js';
import { trial } from '../setup/record-rows.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

const NO_RIGHT = '42501';
const REWRITING = 'EM005';
const NO_ACTOR = 'EM001';
const NOT_WHOLE = 'EM014';
const TABLES = ['signal_upload', 'signal_upload_end', 'signal_part', 'signal_block'];

const { api, engineer, stringId, post, made, period } = lineFactory();
let uploadId: string;

beforeEach(async () => {
  await made('counter-periods', period());
  const wall = await made('channels', channel(stringId(), 'wall'));
  const runId = await made('inspection-runs', inspectionRun(stringId(), [wall]));
  uploadId = await openUpload(post, upload(runId, [{ column: 'wall', channelId: wall }]));
  const counter = range(0, 5_000);
  for (const no of [1, 3]) {
    expect(await sendPart(engineer().send, uploadId, no, { counter, values: { wall: counter.map(() => 5) }, firstAt: '2026-03-02T06:10:00Z', lastAt: '2026-03-02T06:11:00Z' })).toMatchObject({ status: 200 });
  }
});

const byWhom = async (manager: EntityManager): Promise<void> => {
  await manager.query("select set_config('app.actor', $1, true), set_config('app.request', 'test', true)", [engineer().personId]);
};

const ENTER_END = 'insert into signal_upload_end (upload_id, part_count, known_from, keyed_by, request_id) values ($1, $2, clock_timestamp(), $3, $4)';

describe('samples that are here', () => {
  test('are never changed or deleted, by the application for want of a right, by the owner because of the tables themselves', async () => {
    await api().owner.transaction(async (manager) => {
      await byWhom(manager);
      const [{ id }] = await manager.query<[{ id: string }]>(`insert into signal_upload (id, string_id, run_id, position_column, position, decimals, columns, digest, known_from, keyed_by, request_id)
        select gen_random_uuid(), string_id, run_id, position_column, position, decimals, columns, digest, known_from, keyed_by, request_id from signal_upload where id = $1 returning id`, [uploadId]);
      await manager.query(`insert into signal_part (upload_id, part_no, sha256, size_bytes, samples, narrowed, direction, from_us, to_us, known_from, keyed_by, request_id)
        select $2, 1, sha256, size_bytes, samples, narrowed, direction, from_us, to_us, known_from, keyed_by, request_id from signal_part where upload_id = $1 and part_no = 1`, [uploadId, id]);
      await manager.query(ENTER_END, [id, 1, engineer().personId, 'test']);
    });
    for (const table of TABLES) {
      for (const sql of [`update ${table} set known_from = known_from`, `delete from ${table}`, `truncate ${table} cascade`]) {
        const heard = [await trial(api().dataSource, (manager) => manager.query(sql)), await trial(api().owner, (manager) => manager.query(sql))];
        expect({ sql, heard }).toEqual({ sql, heard: [NO_RIGHT, REWRITING] });
      }
      expect(await trial(api().dataSource, (manager) => manager.query(`alter table ${table} disable trigger keep_row`))).toBe(NO_RIGHT);
    }
  });

  test('leave the table only as those of the string that is being taken out', async () => {
    const [{ other }] = await api().owner.query<[{ other: string }]>('select gen_random_uuid() as other');
    const leave = (detaching: string) => trial(api().owner, async (manager) => {
      await manager.query("select set_config('app.detaching', $1, true)", [detaching]);
      await manager.query('delete from signal_block where string_id = $1', [stringId()]);
    });
    expect([await leave(other), await leave(''), await leave(stringId())]).toEqual([REWRITING, REWRITING, 'taken']);
  });

  test('come with who sent them, and an upload ends only when its parts are here from the first to the last', async () => {
    const end = (count: number, actor: boolean) => trial(api().dataSource, async (manager) => {
      if (actor) await byWhom(manager);
      await manager.query(ENTER_END, [uploadId, count, engineer().personId, 'test']);
    });
    expect([await end(2, false), await end(2, true), await end(3, true)]).toEqual([NO_ACTOR, NOT_WHOLE, NOT_WHOLE]);
  });
});
