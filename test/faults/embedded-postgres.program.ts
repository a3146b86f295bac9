// A program that owns an embedded PostgreSQL, for tests that kill it. Arguments: data folder, options as JSON. It
// prints one line of JSON: what it started, or why it could not. At SIGINT it writes one more row, then stops.
import { Client } from 'pg';
import { EmbeddedPostgresError, startEmbeddedPostgres } from '../../libs/persistence/embedded/index.js';

const [dataFolder = '', options = '{}'] = process.argv.slice(2);

try {
  const server = await startEmbeddedPostgres({ dataFolder, ...(JSON.parse(options) as { port?: number }) });
  process.once('SIGINT', () => {
    void writeLastRow(server.url)
      .then(() => server.stop())
      .then(() => process.exit(0));
  });
  process.stdout.write(`${JSON.stringify({ ...server, error: '' })}\n`);
} catch (error) {
  const known = error instanceof EmbeddedPostgresError;
  process.stdout.write(`${JSON.stringify({ error: known ? error.message : `unexpected: ${String(error)}` })}\n`);
}

async function writeLastRow(url: string): Promise<void> {
  // Long enough for a server that got the signal too to be gone.
  await new Promise((resolve) => setTimeout(resolve, 500));
  const client = new Client(url);
  await client.connect();
  await client.query(`INSERT INTO kept VALUES ('written after the signal')`);
  await client.end();
}
