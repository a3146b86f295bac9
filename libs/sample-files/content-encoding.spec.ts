import * as zlib from 'node:zlib';
import { expect, test } from '@jest/globals';
import { refusalOf, shapeOf } from '../../test/fixtures/sample-files.js';
import { decodePart, PART_ENCODINGS } from './index.js';

test('zstd is undone where Node can, and refused naming what can be sent elsewhere', () => {
  const shape = shapeOf({ format: 'csv', encoding: 'zstd' });
  const text = Buffer.from('position,wall\n1,2.5\n');
  const { zstdCompressSync } = zlib as unknown as { readonly zstdCompressSync?: (bytes: Uint8Array) => Uint8Array };
  expect(PART_ENCODINGS.includes('zstd')).toBe(zstdCompressSync !== undefined);
  if (zstdCompressSync === undefined) expect(refusalOf(text, shape)).toMatchObject({ code: 'encoding-unavailable', value: 'zstd', limit: 'identity, gzip, deflate, br' });
  else {
    expect([...decodePart(zstdCompressSync(text), shape).columns[0]!.values]).toEqual([2.5]);
    expect(refusalOf(zstdCompressSync(Buffer.alloc(2 ** 25)), shape)).toMatchObject({ code: 'too-large' });
    expect(refusalOf(text, shape)).toMatchObject({ code: 'not-decompressible' });
  }
});
