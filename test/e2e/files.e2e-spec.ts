import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type Answer, type SignedIn, type TestApi } from '../setup/api.js';
import { databaseState } from '../setup/database-state.js';
import { entered } from '../setup/string-builder.js';

const at = '2026-02-18T09:40:00Z';
const PDF = Buffer.concat([Buffer.from('%PDF-1.7\n%\xE2\xE3\xCF\xD3\n', 'latin1'), Buffer.alloc(700_000, 'certificate ')]);
const ZIP = Buffer.from('PK\x03\x04\x14\x00\x08\x00\x08\x00'.padEnd(300, 'x'), 'latin1');
const PNG = Buffer.from('89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c4890000000d49444154789c636460f85f0f0002870180eb47ba920000000049454e44ae426082', 'hex');
const sha256 = (bytes: Buffer): string => createHash('sha256').update(bytes).digest('hex');

let api: TestApi;
let inspector: SignedIn;
let engineer: SignedIn;
const certificateIds: string[] = [];
beforeAll(async () => {
  api = await startTestApi();
  inspector = await api.signIn('qc-inspector');
  engineer = await api.signIn('materials-engineer');
  for (const number of ['TS-1', 'TS-2']) {
    certificateIds.push(await entered(engineer, 'certificates', { observedAt: at, number, issuer: 'Tarnwick Steelworks', documentType: '3.1', issuedOn: '2026-01-22' }));
  }
}, 30_000);
afterAll(() => api.close());

const send = (bytes: Buffer, type: string, name?: string): Promise<Answer> =>
  inspector.send('POST', `/api/files${name === undefined ? '' : `?name=${encodeURIComponent(name)}`}`, { body: bytes, headers: { 'content-type': type } });

const attach = (certificateId: string | undefined, changes: Record<string, unknown> = {}): Promise<Answer> => inspector.send('POST', '/api/documents', {
  body: { id: uuidv7(), observedAt: at, fileSha256: sha256(PDF), about: 'certificate', fileName: 'TS-1.pdf', certificateId, isOriginal: true, ...changes },
});

describe('a file', () => {
  test('is known by its content, comes back byte by byte, and sent again is there once', async () => {
    expect(await send(PDF, 'application/pdf', 'TS-1.pdf')).toMatchObject({
      status: 201, body: { sha256: sha256(PDF), mediaType: 'application/pdf', sizeBytes: PDF.length, isNew: true, attachedTo: [] },
    });
    const before = await databaseState(api.owner);
    expect(await send(PDF, 'application/octet-stream', 'another name.pdf')).toMatchObject({ status: 201, body: { isNew: false } });
    expect(await databaseState(api.owner)).toEqual(before);
    const [{ bytes }] = await api.owner.query<[{ bytes: Buffer }]>("select string_agg(bytes, ''::bytea order by part_no) as bytes from stored_file_part where sha256 = $1", [sha256(PDF)]);
    expect(sha256(bytes)).toBe(sha256(PDF));
    const back = await inspector.send('GET', `/api/files/${sha256(PDF)}`);
    expect(back).toMatchObject({ status: 200, headers: { 'content-length': String(PDF.length), 'content-disposition': expect.stringMatching(/^attachment; filename="[0-9a-f]{16}\.pdf"$/) } });
  });

  test.each([
    ['a zip named pdf', ZIP, 'application/pdf', 'TS-1.pdf', /application\/zip/],
    ['a zip by its own type', ZIP, 'application/octet-stream', undefined, /application\/zip/],
    ['a photo named pdf', PNG, 'image/png', 'tag.pdf', /the name ends in \.pdf, but the content is image\/png/],
    ['nothing known', Buffer.from([1, 0, 2, 0, 3]), 'application/octet-stream', undefined, /no known format/],
  ])('%s is refused by its content, and nothing is written', async (_name, bytes, type, name, says) => {
    const before = await databaseState(api.owner);
    const refused = await send(bytes, type, name);
    expect(refused).toMatchObject({ status: 415, body: { errors: [{ field: 'body', limit: expect.stringMatching(says) }] } });
    expect(await databaseState(api.owner)).toEqual(before);
  });

  test('a photo is taken', async () => {
    expect(await send(PNG, 'image/png', 'tag.png')).toMatchObject({ status: 201, body: { mediaType: 'image/png' } });
  });

  test('an empty one, one too large and JSON are refused', async () => {
    expect(await send(Buffer.alloc(0), 'application/pdf')).toMatchObject({ status: 400 });
    expect(await send(Buffer.concat([PDF, Buffer.alloc(33_600_000)]), 'application/pdf')).toMatchObject({ status: 413 });
    expect(await inspector.send('POST', '/api/files', { body: { a: 1 } })).toMatchObject({ status: 415 });
    expect(await inspector.send('POST', '/api/heats', { body: PDF, headers: { 'content-type': 'application/pdf' } })).toMatchObject({ status: 415 });
  });

  test('there is none under another content', async () => {
    expect(await inspector.send('GET', `/api/files/${'0'.repeat(64)}`)).toMatchObject({ status: 404 });
    expect(await inspector.send('GET', '/api/files/..%2f..%2fetc')).toMatchObject({ status: 400 });
  });
});

describe('a document', () => {
  test('says of which certificate a file is the picture; the very file for two certificates is asked about', async () => {
    expect(await attach(certificateIds[0])).toMatchObject({ status: 201, body: { marks: [] } });
    const twice = await attach(certificateIds[1]);
    expect(twice).toMatchObject({ status: 422, body: { errors: [{ field: 'fileSha256', limit: expect.stringContaining('usually the picture of one certificate') }] } });
    expect(await send(PDF, 'application/pdf')).toMatchObject({ body: { isNew: false, attachedTo: [{ fileName: 'TS-1.pdf', certificateId: certificateIds[0] }] } });
  });

  test('is asked about on an amendment too, however often the file is attached to the first certificate; forty at once are taken', async () => {
    const taken = await Promise.all(Array.from({ length: 40 }, () => attach(certificateIds[0])));
    expect(new Set(taken.map(({ status }) => status))).toEqual(new Set([201]));
    for (const { body } of taken.slice(0, 3)) {
      const moved = await inspector.send('PATCH', `/api/documents/${String(body['id'])}`, {
        body: { reason: 'It is of the other one.', certificateId: certificateIds[1] }, headers: { 'if-match': '"1"' },
      });
      expect(moved).toMatchObject({ status: 422, body: { errors: [{ field: 'fileSha256', confirm: expect.any(String) }] } });
    }
  });

  test('needs a file that is here, and something it is of', async () => {
    expect(await attach(certificateIds[0], { fileSha256: '0'.repeat(64) })).toMatchObject({ status: 422, body: { errors: [{ field: 'fileSha256' }] } });
    expect(await attach(undefined)).toMatchObject({ status: 422, body: { errors: [{ field: 'certificateId' }] } });
  });
});

describe('a certificate by field codes of EN 10168', () => {
  const paper = (changes: Record<string, unknown> = {}, document: Record<string, unknown> = {}): Record<string, unknown> => ({
    id: uuidv7(), observedAt: at, keying: 1,
    document: {
      A01: 'Tarnwick Steelworks', A02: 'EN 10204 3.1', A03: 'TS-9', A07: 'PO-1', B02: 'STS-12 rev 1', Z02: '2026-01-22',
      products: [{
        B07: 'LM-01', C00: 'H40711', B13: { value: '3212', unit: 'kg' },
        fields: [{ code: 'C71', symbol: 'C', analysis: 'heat', value: '0.085', unit: '%' }, { code: 'C11', characteristic: 'ReH', value: '446', unit: 'MPa' }],
      }],
      ...document,
    },
    ...changes,
  });
  const enter = (body: object): Promise<Answer> => engineer.send('POST', '/api/certificate-transcriptions/en10168', { body });

  test('makes the certificate and its keying in one; sent twice it has the effect of one', async () => {
    const body = paper();
    const first = await enter(body);
    expect(first).toMatchObject({
      status: 201, body: {
        orderNumber: 'PO-1', specification: 'STS-12 rev 1', keying: 1,
        lines: [{ coilNumber: 'LM-01', heatNumber: 'H40711', values: expect.arrayContaining([expect.objectContaining({ characteristic: 'C', analysis: 'heat', printed: '0.085', unit: '%' })]) }],
      },
    });
    expect(await enter(body)).toMatchObject({ status: 201, body: first.body });
    expect(await engineer.send('GET', `/api/certificates/${String(first.body['certificateId'])}`)).toMatchObject({ body: { number: 'TS-9', issuer: 'Tarnwick Steelworks', documentType: '3.1' } });
  });

  test('what a code leaves open has to be said: nothing half done', async () => {
    const before = await databaseState(api.owner);
    const open = await enter(paper({}, { A03: 'TS-10', products: [{ B07: 'LM-01', C00: 'H40711', fields: [{ code: 'C11', value: '446', unit: 'MPa' }] }] }));
    expect(open).toMatchObject({ status: 400, body: { errors: [{ field: expect.stringContaining('document.products[0].fields[0]') }] } });
    const unlikely = await enter(paper({}, { A03: 'TS-10', products: [{ B07: 'LM-01', C00: 'H40711', fields: [{ code: 'C71', symbol: 'C', analysis: 'heat', value: '0.31', unit: '%' }] }] }));
    expect(unlikely).toMatchObject({ status: 422, body: { errors: [{ field: 'document.products[0].fields[0].value', value: '0.31', confirm: expect.any(String) }] } });
    const impossible = await enter(paper({}, { A03: 'TS-10', products: [{ B07: 'LM-01', C00: 'H40711', B13: { value: '3212', unit: 'kg' }, fields: [{ code: 'C71', symbol: 'C', analysis: 'heat', value: '8.5', unit: '%' }] }] }));
    expect(impossible).toMatchObject({ status: 400, body: { errors: [{ field: 'document.products[0].fields[0].value', value: '8.5' }] } });
    expect(await databaseState(api.owner)).toEqual(before);
  });

  test('what the record has no place for is marked with what the paper says', async () => {
    const products = [{ B07: 'LM-02', C00: 'H40711', fields: [{ code: 'C11', characteristic: 'ReH', value: '446', unit: 'MPa' }, { code: 'C14', value: '300', unit: 'MPa' }] }];
    const taken = await enter(paper({ id: uuidv7() }, { A03: 'TS-11', products }));
    expect(taken).toMatchObject({ status: 201, body: { marks: [{ kind: 'noted', field: 'document.products[0].fields[1]', value: '300 MPa', limit: expect.stringContaining('C14') }] } });
  });

  test('an id that names the keying of one paper is refused for another, and a keying made twice with what was sent', async () => {
    const body = paper({ id: uuidv7() }, { A03: 'TS-12' });
    expect(await enter(body)).toMatchObject({ status: 201 });
    const before = await databaseState(api.owner);
    const other = { ...body, document: { ...(body as { document: object }).document, A03: 'TS-77', A01: 'Other Mill', A02: '2.1' } };
    expect(await enter(other)).toMatchObject({
      status: 409, body: { errors: [{ field: 'document.A03', value: 'TS-77' }, { field: 'document.A01', value: 'Other Mill' }, { field: 'document.A02', value: '2.1' }] },
    });
    expect(await enter(paper({ id: uuidv7() }, { A03: 'TS-12' }))).toMatchObject({ status: 409, body: { errors: [{ field: 'keying', value: 1 }] } });
    expect(await enter(paper({ id: uuidv7(), keying: 2 }, { A03: 'TS-12' }))).toMatchObject({ status: 409, body: { errors: [{ field: 'keying', value: 2 }] } });
    expect(await databaseState(api.owner)).toEqual(before);
  });
});
