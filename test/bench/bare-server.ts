import Fastify from 'fastify';
import pg from 'pg';

/**
 * What the program is measured against: a bare Fastify handler that does one indexed SELECT, one INSERT or a few in one
 * transaction, on the same
 * database with the same pool, and nothing else. Started as a process of its own: URL, segment id, port.
 */
const [databaseUrl = '', segmentId = '', port = '0'] = process.argv.slice(2);
const pool = new pg.Pool({ connectionString: databaseUrl, max: 10 });
const server = Fastify();

server.get('/one', async () => {
  const { rows } = await pool.query<Record<string, unknown>>(
    'select * from coil_segment where id = $1 and known_until is null',
    [segmentId],
  );
  return rows[0];
});

server.post('/one', async (request, reply) => {
  const { id, note } = request.body as { id: string; note: string };
  await pool.query('insert into bare_entry (id, note) values ($1, $2)', [id, note]);
  return reply.status(201).send({ id, note });
});

interface Part {
  readonly id: string;
}

/** A row as the program would write it: its table, and its columns as text. */
interface BareRow {
  readonly table: string;
  readonly columns: Readonly<Record<string, string | null>>;
}

server.post('/splice', async (request, reply) => {
  const { splice, welds, steps } = request.body as { splice: Part; welds: Part[]; steps: Part[] };
  const client = await pool.connect();
  try {
    await client.query('begin');
    for (const part of [splice, ...welds, ...steps]) {
      await client.query('insert into bare_part (id, splice_id, entered_at, content) values ($1, $2, clock_timestamp(), $3)', [part.id, splice.id, part]);
    }
    await client.query('commit');
  } finally {
    client.release();
  }
  return reply.status(201).send({ splice, welds, steps });
});

/** Rows of pages and blocks by level and number, sent on as they are. */
server.get('/block-rows', async (request, reply) => {
  const { stringId, channelId, rows: wanted } = request.query as { stringId: string; channelId: string; rows: string };
  const pairs = wanted.split(',').map((pair) => pair.split('.').map(Number));
  const { rows } = await pool.query<{ body: Buffer }>({
    name: 'block-rows',
    text: `select b.body from unnest($3::int2[], $4::int8[]) as r(level, block_no)
             join signal_block b on b.string_id = $1 and b.channel_id = $2 and b.level = r.level and b.block_no = r.block_no`,
    values: [stringId, channelId, pairs.map(([level]) => level), pairs.map(([, no]) => no)],
  });
  return reply.type('application/octet-stream').send(Buffer.concat(rows.map(({ body }) => body)));
});

/** Summaries of samples that are rows of their own. */
server.get('/summaries', async (request) => {
  const { km, level, from, to } = request.query as Record<'km' | 'level' | 'from' | 'to', string>;
  const { rows } = await pool.query<Record<string, unknown>>({
    name: 'summaries',
    text: 'select least, greatest, mean, samples, missing from bare_summary where km = $1 and level = $2 and cell_no >= $3 and cell_no < $4 order by cell_no',
    values: [km, level, from, to],
  });
  return rows;
});

/** Tables of records about the pipe of a string. */
const ON_STRING = [
  'coil_segment', 'splice', 'weld', 'splice_step', 'seam_event', 'inspection', 'examination', 'repair', 'indication', 'indication_evaluation', 'detection', 'inspection_run', 'reference_check',
  'test_sample', 'destructive_test', 'nonconformance', 'control_plan', 'attendance', 'evidence_waiver', 'hold', 'hold_lifting', 'counter_reading',
];
const OF_COILS = 'select t.* from coil_segment s join $ t on t.KEY = s.coil_id and t.known_until is null where s.string_id = $1 and s.known_until is null';
const OF_STRING = [
  ...ON_STRING.map((table) => `select * from ${table} where string_id = $1 and known_until is null`),
  ...[['coil', 'id'], ['deviation_permit', 'coil_id']].map(([table = '', key = '']) => OF_COILS.replace('$ t', `${table} t`).replace('KEY', key)),
];

/** Every record that the evidence of a string is worked out from, as it stands. */
server.get('/string-rows', async (request) => {
  const { stringId } = request.query as { stringId: string };
  const read = await Promise.all(OF_STRING.map((text, nth) => pool.query<Record<string, unknown>>({ name: `string-rows-${nth}`, text, values: [stringId] })));
  return read.map(({ rows }) => rows);
});

/** The same rows as the program writes, in the same tables with their keys and guards; the guards ask who writes. */
server.post('/same-splice', async (request, reply) => {
  const { actor, rows } = request.body as { actor: string; rows: BareRow[] };
  const client = await pool.connect();
  try {
    await client.query('begin');
    await client.query("select set_config('app.actor', $1, true), set_config('app.request', 'bare', true)", [actor]);
    for (const { table, columns } of rows) {
      const names = Object.keys(columns);
      await client.query(`insert into ${table} (${names.join(', ')}) values (${names.map((_, index) => `$${index + 1}`).join(', ')})`, Object.values(columns));
    }
    await client.query('commit');
  } finally {
    client.release();
  }
  return reply.status(201).send({ rows });
});

const FOUND = 'select id, number from coil where number ilike $1 and known_until is null order by number limit 20';
const ALIKE = 'select id, number from coil where number % $1 and known_until is null order by similarity(number, $1) desc limit 20';

server.get('/part', async (request) => (await pool.query(FOUND, [`%${(request.query as { text: string }).text}%`])).rows as unknown);

server.get('/like', async (request) => (await pool.query(ALIKE, [(request.query as { text: string }).text])).rows as unknown);

await server.listen({ port: Number(port), host: '127.0.0.1' });
process.stdout.write('ready\n');
