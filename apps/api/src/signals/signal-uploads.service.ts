import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import type { EntityManager } from 'typeorm';
import type { PositionColumn, ReadingRules } from '#libs/sample-files';
import { instantFromDatabase, run, sqlStateOf, type Transaction } from '#libs/persistence';
import type { Channel } from '../channels/channel.entity.js';
import { ChannelsService } from '../channels/channels.service.js';
import { contradictory, malformed, notFound, Refused } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import { InspectionRunsService } from '../inspection-runs/inspection-runs.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf, type WriteRequest } from '../records/write-request.js';
import { SignalUploadEndInput, SignalUploadInput, type PartRangeAnswer, type SignalUploadAnswer } from './signal-upload.dto.js';
import type { UploadColumn } from './signal-tables.entity.js';

/** An upload as its parts are read by. It never changes. */
export interface OpenUpload {
  readonly id: string;
  readonly stringId: string;
  readonly runId: string;
  readonly positionColumn: string;
  readonly position: 'counter' | 'time';
  readonly decimals: number;
  readonly columns: readonly UploadColumn[];
  readonly digest: string;
  readonly knownFrom: string;
}

/** How the parts of an upload are read. */
export interface UploadShape {
  readonly upload: OpenUpload;
  readonly position: PositionColumn;
  readonly columns: readonly { readonly name: string; readonly rules: ReadingRules }[];
}

interface UploadRow {
  id: string;
  string_id: string;
  run_id: string;
  position_column: string;
  position: 'counter' | 'time';
  decimals: number;
  columns: UploadColumn[];
  digest: string;
  known_from: string;
}

const KEPT_SHAPES = 1_000;
const UNIQUE_VIOLATION = '23505';
const INCOMPLETE = 'EM014';
const LOCK_NOT_AVAILABLE = '55P03';

/** Opens and ends uploads, and tells what of them is here. */
@Injectable()
export class SignalUploads {
  private readonly shapes = new LRUCache<string, UploadShape>({ max: KEPT_SHAPES });

  constructor(
    private readonly desk: RecordDesk,
    private readonly runs: InspectionRunsService,
    private readonly channels: ChannelsService,
  ) {}

  /** Opens an upload; sent again with the same content it is the one that was opened. Refuses (409) another content under its id. */
  async open(body: unknown, request: WriteRequest): Promise<SignalUploadAnswer> {
    const input = parsed(SignalUploadInput, body);
    demandPosition(input);
    const digest = digestOf(input);
    const known = await this.find(input.id);
    if (known === null) await this.insert(input, digest, request);
    else await this.demandOwn(known, request.device);
    const upload = await this.upload(input.id);
    if (upload.digest !== digest) {
      throw new Refused(409, 'other-content', 'Another upload was opened under this id.', [{ field: 'id', value: input.id, limit: 'a new id, or the content that it was opened with' }]);
    }
    return this.answer(input.id);
  }

  /** Ends an upload of which all parts are here. Refuses (409) while one is missing, or when it ended with another number. */
  async end(id: string, body: unknown, request: WriteRequest): Promise<SignalUploadAnswer> {
    const { partCount } = parsed(SignalUploadEndInput, body);
    const upload = await this.upload(id);
    const { stringId } = upload;
    await this.demandOwn(upload, request.device);
    try {
      await this.desk.transaction(request.actor, [{ about: stringId, mode: 'shared' }, { about: id, mode: 'exclusive' }], async (tx) => {
        await run(
          tx.manager, `insert into signal_upload_end (upload_id, part_count, known_from, keyed_by, device_id, request_id)
            select $1, $2, $3, $4, $5, $6 where not exists (select 1 from signal_upload_end where upload_id = $1 and part_count = $2)`,
          [id, partCount, ...keptBy(tx)],
        );
      });
    } catch (error) {
      throw (await this.notEnded(id, partCount, error)) ?? lockedOut(error) ?? error;
    }
    return this.answer(id);
  }

  /** What of an upload is here. Throws 404. */
  async answer(id: string, device: WriteRequest['device'] = null): Promise<SignalUploadAnswer> {
    const { stringId, runId, positionColumn, position, decimals, columns, knownFrom } = await this.upload(id);
    if (device !== null) await this.demandOwn({ runId, stringId }, device);
    const { rows } = await run<{ from: number; to: number; samples: string }>(
      this.desk.dataSource.manager,
      `select min(part_no) as from, max(part_no) as to, sum(samples) as samples
         from (select part_no, samples, part_no - row_number() over (order by part_no) as island from signal_part where upload_id = $1) parts
        group by island order by 1`, [id],
    );
    const parts: PartRangeAnswer[] = rows.map(({ from, to }) => ({ from, to }));
    const samples = rows.reduce((sum, row) => sum + Number(row.samples), 0);
    return {
      id, stringId, runId, positionColumn, position, decimals, columns: columns.map(({ column, channelId }) => ({ column, channelId })), recordedAt: knownFrom, parts, samples, endedWith: await this.endedWith(id),
    };
  }

  /** How the parts of an upload are read. Throws 404; refuses (403) a device that it is not for. */
  async shape(id: string, device: WriteRequest['device']): Promise<UploadShape> {
    const shape = this.shapes.get(id) ?? await this.loadShape(id);
    this.shapes.set(id, shape);
    // Asked anew: a run may be amended to another counter.
    await this.demandOwn(shape.upload, device);
    return shape;
  }

  private async loadShape(id: string): Promise<UploadShape> {
    const upload = await this.upload(id);
    const { position, positionColumn: name, decimals } = upload;
    const channels = await Promise.all(upload.columns.map(({ channelId, channelVersion }) => this.desk.store.version(this.channels.entity, channelId, channelVersion)));
    return {
      upload, position: position === 'counter' ? { name, kind: position, decimals } : { name, kind: position },
      columns: upload.columns.map(({ column }, index) => ({ name: column, rules: rulesOf(channels[index] ?? null) })),
    };
  }

  private async insert(input: SignalUploadInput, digest: string, request: WriteRequest): Promise<void> {
    const { stringId } = await this.runs.row(input.runId, null).catch((error: unknown) => { throw unknownRun(error, input.runId); });
    const { id, runId, positionColumn, position, decimals } = input;
    try {
      await this.desk.transaction(request.actor, { about: stringId, mode: 'shared' }, async (tx) => {
        const { counter, channelIds } = await this.runs.named(tx, 'runId', runId);
        refuseOther(request.device ?? null, stringId, counter);
        const strange = input.columns.flatMap(({ channelId }, index) =>
          (channelIds.includes(channelId) ? [] : [{ field: `columns[${index}].channelId`, value: channelId, limit: 'a channel of the run' }]));
        if (strange.length > 0) throw contradictory(strange);
        const columns: UploadColumn[] = [];
        for (const [index, { column, channelId }] of input.columns.entries()) {
          const { version } = await this.channels.named(tx, `columns[${index}].channelId`, channelId);
          columns.push({ column, channelId, channelVersion: version });
        }
        await run(
          tx.manager, `insert into signal_upload (id, string_id, run_id, position_column, position, decimals, columns, digest, known_from, keyed_by, device_id, request_id)
            values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
          [id, stringId, runId, positionColumn, position, decimals, JSON.stringify(columns), digest, ...keptBy(tx)],
        );
      });
    } catch (error) {
      // Opened at the same moment by somebody else: whether it is the same is seen by its digest.
      if (sqlStateOf(error) !== UNIQUE_VIOLATION) throw lockedOut(error) ?? error;
    }
  }

  private async notEnded(id: string, partCount: number, error: unknown): Promise<Refused | null> {
    const state = sqlStateOf(error);
    if (state !== INCOMPLETE && state !== UNIQUE_VIOLATION) return null;
    const { parts, endedWith } = await this.answer(id);
    const here = parts.map(({ from, to }) => (from === to ? `${from}` : `${from} to ${to}`)).join(', ') || 'none';
    const limit = endedWith === null ? `parts 1 to ${partCount}, and no others; here: ${here}` : `${endedWith}, with which it ended`;
    return new Refused(409, 'not-whole', 'The upload is not ended: what it is said to have is not what is here.', [{ field: 'partCount', value: partCount, limit }]);
  }

  private async demandOwn({ runId, stringId }: { readonly runId: string; readonly stringId: string }, device: WriteRequest['device']): Promise<void> {
    if (device != null) refuseOther(device, stringId, (await this.runs.row(runId, null)).counter);
  }

  private async endedWith(id: string): Promise<number | null> {
    const { rows } = await run<{ part_count: number }>(this.desk.dataSource.manager, 'select part_count from signal_upload_end where upload_id = $1', [id]);
    return rows[0]?.part_count ?? null;
  }

  private async upload(id: string): Promise<OpenUpload> {
    const upload = await this.find(id);
    if (upload === null) throw notFound('signal upload', id);
    return upload;
  }

  private async find(id: string, manager: EntityManager = this.desk.dataSource.manager): Promise<OpenUpload | null> {
    const { rows } = await run<UploadRow>(
      manager, 'select id, string_id, run_id, position_column, position, decimals, columns, digest, known_from from signal_upload where id = $1', [id],
    );
    const [row] = rows;
    if (row === undefined) return null;
    const { position, decimals, columns, digest } = row;
    return {
      id, stringId: row.string_id, runId: row.run_id, positionColumn: row.position_column, position, decimals, columns, digest, knownFrom: instantFromDatabase(row.known_from),
    };
  }
}

/**
 * A lock that did not come in time, of the string (a counter is being corrected), of the upload or of a channel, as a refusal that says
 * when to come again: a machine sends on what it is told to, and a conflict would be for a person. Null for other errors.
 */
export function lockedOut(error: unknown): Refused | null {
  if (sqlStateOf(error) !== LOCK_NOT_AVAILABLE) return null;
  return new Refused(503, 'busy', 'Another write holds the string, the upload or a channel just now. Send the same again.', [], { retryAfterSeconds: 2 });
}

/** The values of `known_from, keyed_by, device_id, request_id`. */
export const keptBy = ({ knownAt, actor }: Transaction): unknown[] => [knownAt, actor.personId, actor.deviceId, actor.requestId];

/** Refuses (403) a line computer that is of another string, or does not hold the counter. */
function refuseOther(device: WriteRequest['device'], stringId: string, counter: string): void {
  if (device == null) return;
  const refuse = (field: string, value: unknown, limit: string): Refused =>
    new Refused(403, 'other-device', 'A line computer only sends signals of its own string, placed by its own counters.', [{ field, value, limit }]);
  if (device.stringId !== stringId) throw refuse('stringId', stringId, device.stringId);
  if (!device.counters.includes(counter)) throw refuse('counter', counter, `one of ${device.counters.join(', ')}`);
}

function demandPosition({ position, decimals, positionColumn, columns }: SignalUploadInput): void {
  const names = [positionColumn, ...columns.map(({ column }) => column)];
  const channels = columns.map(({ channelId }) => channelId);
  const faults = [
    ...(position === 'time' && decimals !== 0 ? [{ field: 'decimals', value: decimals, limit: '0 for instants' }] : []),
    ...columns.flatMap(({ column, channelId }, index) => [
      ...(names.indexOf(column) < index + 1 ? [{ field: `columns[${index}].column`, value: column, limit: 'a name that no other column has' }] : []),
      ...(channels.indexOf(channelId) < index ? [{ field: `columns[${index}].channelId`, value: channelId, limit: 'each channel once' }] : []),
    ]),
  ];
  if (faults.length > 0) throw malformed(faults);
}

function unknownRun(error: unknown, runId: string): unknown {
  if (!(error instanceof Refused) || error.status !== 404) return error;
  return new Refused(422, 'unknown-reference', 'the id of an inspection run that is not void', [{ field: 'runId', value: runId, limit: 'the id of an inspection run that is not void' }]);
}

function rulesOf(channel: Channel | null): ReadingRules {
  if (channel === null) throw new Error('a channel of an upload is not there');
  const number = (text: string | null): number | null => (text === null ? null : Number(text));
  return {
    missingValues: channel.missingValues.map(Number), saturatesAtHigh: number(channel.saturatesAt.high), saturatesAtLow: number(channel.saturatesAt.low),
    plausibleFrom: number(channel.plausible.from), plausibleTo: number(channel.plausible.to), stuckAfter: channel.stuckAfter,
  };
}
