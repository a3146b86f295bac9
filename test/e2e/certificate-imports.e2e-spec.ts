import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type Answer, type SignedIn, type TestApi } from '../setup/api.js';
import { BROKEN_FILES, ODD_FILES } from '../setup/certificate-csv.campaign.js';
import { fileOf, lineOf } from '../setup/certificate-files.js';
import { databaseState } from '../setup/database-state.js';

const at = '2026-02-18T09:40:00Z';
let api: TestApi;
let engineer: SignedIn;
beforeAll(async () => {
  api = await startTestApi();
  engineer = await api.signIn('materials-engineer');
}, 30_000);
afterAll(() => api.close());

async function send(path: string, content: string | Buffer, by = engineer): Promise<Answer> {
  return by.send('POST', `/api/certificate-imports${path}`, { body: content, headers: { 'content-type': 'text/csv' } });
}

const newImport = (query = ''): string => `?id=${uuidv7()}&observedAt=${at}${query}`;

async function whole(bytes: AsyncIterable<Uint8Array>): Promise<Buffer> {
  const parts: Uint8Array[] = [];
  for await (const part of bytes) parts.push(part);
  return Buffer.concat(parts);
}

describe('broken files', () => {
  test('there are at least forty of them', () => {
    expect(BROKEN_FILES.length).toBeGreaterThanOrEqual(40);
  });

  test('each is refused with line and column, by preview and import alike, and nothing is written', async () => {
    const before = await databaseState(api.owner);
    const refusals: Record<string, unknown> = {};
    const expected: Record<string, unknown> = {};
    for (const { name, bytes, line, column, says } of BROKEN_FILES) {
      const content = await whole(bytes());
      const imported = await send(newImport(), content);
      const previewed = await send('/preview', content);
      const [first] = imported.body['errors'] as { field: string; limit: string }[];
      const [seen] = (previewed.body['faults'] ?? []) as { line: number; column: number | null; fault: string }[];
      const place = `line ${line}${column === null ? '' : `, column ${column}`}`;
      const isEmpty = content.length === 0;
      expected[name] = isEmpty ? { status: 400, preview: 400 } : { status: 422, place: true, says: true, preview: [200, line, column] };
      refusals[name] = isEmpty
        ? { status: imported.status, preview: previewed.status }
        : {
          status: imported.status, place: first?.field === place || first?.field.startsWith(`${place} `) === true || first?.field.startsWith(`${place},`) === true,
          says: says.test(first?.limit ?? ''), preview: [previewed.status, seen?.line, seen?.column],
        };
    }
    expect(refusals).toEqual(expected);
    expect(await databaseState(api.owner)).toEqual(before);
    process.stdout.write(`broken certificate files: ${BROKEN_FILES.length}, written: nothing\n`);
  }, 60_000);

  test('a file that is no CSV by its media type is refused as such', async () => {
    const refused = await engineer.send('POST', `/api/certificate-imports${newImport()}`, { body: { a: 1 } });
    expect(refused).toMatchObject({ status: 415 });
  });
});

describe('odd files that are good', () => {
  test.each(ODD_FILES.map((file) => [file.name, file] as const))('%s', async (_name, { bytes, certificates, questions }) => {
    expect(await send('/preview', await whole(bytes()))).toMatchObject({ status: 200, body: { faults: [], stopped: null, certificates, questionCount: questions } });
  });
});

describe('the template', () => {
  test('is a file that can be imported', async () => {
    const template = await engineer.send<string>('GET', '/api/certificate-imports/template');
    expect(template).toMatchObject({ status: 200, headers: { 'content-type': 'text/csv; charset=utf-8' } });
    const taken = await send(newImport(), template.body);
    expect(taken).toMatchObject({ status: 201, body: { faults: [], notConforming: [] } });
    expect(taken.body['verdicts']).toMatchObject({ conforms: 0, 'not-evaluated': 2 });
  });
});

describe('an import', () => {
  test('asks once about what is unlikely, for the whole file, and marks what was confirmed', async () => {
    const file = fileOf(lineOf({ certificate: 'TS-Q', 'C [%]': '0.31' }));
    const asked = await send(newImport(), file);
    const [error] = asked.body['errors'] as { field: string; value: string; confirm: string }[];
    expect(asked).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:implausible' } });
    expect(error).toMatchObject({ field: 'line 2 (C [%])', value: '0.31' });
    expect(await send(newImport('&confirm=0000'), file)).toMatchObject({ status: 422 });
    expect(await send(newImport(`&confirm=${error?.confirm ?? ''}`), file)).toMatchObject({ status: 201 });
    const [{ marks }] = await api.owner.query<[{ marks: object[] }]>("select marks from certificate_transcription where packed_lines::text like '%0.31%'");
    expect(marks).toEqual([expect.objectContaining({ kind: 'confirmed-implausible', field: 'line 2, C [%]', value: '0.31' })]);
  });

  test('keeps the file, byte by byte, and each keying knows its line there', async () => {
    const file = fileOf(lineOf({ certificate: 'TS-F1' }), lineOf({ certificate: 'TS-F2', coil: 'LM-77' }));
    const taken = await send(newImport(), file);
    const kept = await engineer.send<string>('GET', `/api/files/${String(taken.body['fileSha256'])}`);
    expect(kept.body).toBe(file);
    const lines = await api.owner.query<{ file_line: number }[]>('select file_line from certificate_transcription where file_sha256 = $1 order by file_line', [taken.body['fileSha256']]);
    expect(lines.map((row) => row.file_line)).toEqual([2, 3]);
  });

  test('of a certificate that is on record otherwise is told, and nothing is written', async () => {
    const inspector = await api.signIn('qc-inspector');
    const before = await databaseState(api.owner);
    const other = await send(newImport('&keying=2'), fileOf(lineOf({ certificate: 'TS-F1', issued: '2026-01-23' })), inspector);
    expect(other).toMatchObject({ status: 422, body: { errors: [{ field: 'line 2 (issued)', limit: 'certificate TS-F1 is on record as issued on 2026-01-22' }] } });
    expect(await databaseState(api.owner)).toEqual(before);
  });

  test('needs an id and a time, all that is wrong told at once', async () => {
    const refused = await send('?keying=3&colour=red', fileOf(lineOf()));
    expect(refused.status).toBe(400);
    expect((refused.body['errors'] as { field: string }[]).map(({ field }) => field).sort()).toEqual(['colour', 'id', 'keying', 'observedAt']);
  });
});
