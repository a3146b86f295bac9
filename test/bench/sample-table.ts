import { DuckDBDataChunk, DuckDBInstance, FLOAT, INTEGER, type DuckDBConnection } from '@duckdb/node-api';
import { randomFrom } from '../fixtures/signals.js';
import type { Client } from './bench-string.js';
import { asked, valuesFrom } from './signal-string.js';
import { percentiles, questionOf, WIDTH_PX, type Percentiles, type Question, type ViewedString } from './views.js';

const CHUNK = 2_048;
const SEED = 13;

/** Columns of a picture by a general column store that holds the same samples as a table in memory. */
const ENVELOPE = `
select cast(floor((position - $1) * cast($3 as double) / ($2 - $1)) as integer) as nth, min(value) as least, max(value) as greatest, avg(value) as mean, count(*) as samples
  from sample where position >= $1 and position < $2 group by nth order by nth`;

export interface TableFigures {
  readonly samples: number;
  readonly program: Percentiles;
  readonly table: Percentiles;
  /** Columns whose least and greatest were found alike; all that were compared. */
  readonly alike: number;
}

/** Random views by the program over the network, by turns with the same ones by DuckDB in this process. Throws where they differ. */
export async function compareTable(client: Client, string: ViewedString, rounds: number): Promise<TableFigures> {
  const samples = string.km * 1_000_000;
  const connection = await (await DuckDBInstance.create(':memory:')).connect();
  try {
    await fill(connection, valuesFrom(string.signals[0] as Float32Array, 0, samples));
    const random = randomFrom(SEED);
    const [program, table]: [number[], number[]] = [[], []];
    let alike = 0;
    for (let round = -1; round < rounds; round += 1) {
      const question = questionOf(string, random);
      const view = await asked(client, question.view);
      const began = performance.now();
      const rows = await envelope(connection, question);
      const ms = performance.now() - began;
      alike += demandAlike(JSON.parse(view.bytes.toString()) as ViewAnswer, rows);
      if (round < 0) continue;
      program.push(view.ms);
      table.push(ms);
    }
    return { samples, program: percentiles(program), table: percentiles(table), alike };
  } finally {
    connection.closeSync();
  }
}

async function fill(connection: DuckDBConnection, values: Float32Array): Promise<void> {
  await connection.run('create table sample (position integer, value float)');
  const appender = await connection.createAppender('sample');
  for (let from = 0; from < values.length; from += CHUNK) {
    const some = values.subarray(from, from + CHUNK);
    const chunk = DuckDBDataChunk.create([INTEGER, FLOAT], some.length);
    chunk.setColumnValues(0, Array.from(some, (_, nth) => from + nth));
    chunk.setColumnValues(1, [...some]);
    appender.appendDataChunk(chunk);
  }
  appender.closeSync();
}

interface TableRow {
  readonly nth: number;
  readonly least: number;
  readonly greatest: number;
}

async function envelope(connection: DuckDBConnection, { fromMm, toMm }: Question): Promise<TableRow[]> {
  const reader = await connection.runAndReadAll(ENVELOPE, [fromMm, toMm, WIDTH_PX]);
  return reader.getRowObjects() as unknown as TableRow[];
}

interface ViewAnswer {
  readonly columns: { readonly min: (number | null)[]; readonly max: (number | null)[]; readonly sharpness: string };
}

/** Columns that are of their own samples alone have the same extremes; the others hide none. */
function demandAlike({ columns: { min, max, sharpness } }: ViewAnswer, rows: readonly TableRow[]): number {
  let alike = 0;
  for (const { nth, least, greatest } of rows) {
    const [low, high, isExact] = [min[nth] ?? NaN, max[nth] ?? NaN, sharpness[nth] === 'e'];
    if (isExact ? low !== least || high !== greatest : !(low <= least && high >= greatest)) throw new Error(`column ${nth}: ${low} to ${high} where the samples have ${least} to ${greatest}`);
    alike += isExact ? 1 : 0;
  }
  return alike;
}
