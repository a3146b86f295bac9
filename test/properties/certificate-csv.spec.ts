import { describe, expect, jest, test } from '@jest/globals';
import fc from 'fast-check';
import { type CsvReading, readCertificates } from '../../apps/api/src/certificate-imports/certificate-csv.js';
import { fileOf, inPieces, lineOf } from '../setup/certificate-files.js';
import { seedFromEnvironment } from '../setup/seed.js';

// Thousands of small files, while other suites share the cores.
jest.setTimeout(30_000);

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 200 };

async function readAll(content: string | Uint8Array, pieceBytes: number): Promise<CsvReading[]> {
  const readings: CsvReading[] = [];
  for await (const reading of readCertificates(inPieces(content, pieceBytes))) readings.push(reading);
  return readings;
}

const GOOD = Buffer.from(fileOf(
  lineOf({ issuer: '"Tarnwick ""North"", Steelworks"' }), lineOf({ issuer: '"Tarnwick ""North"", Steelworks"', coil: 'LM-02', 'KV2 @-20 [J]': '>=100' }),
  lineOf({ certificate: 'TS-2', coil: '' }), lineOf({ certificate: 'TS-3', 'C [%]': '<0.001' }),
));

/** Bytes that mean something to a reader of lines, cells or text, and any others. */
const strayByte = fc.oneof(fc.constantFrom(...Buffer.from('",\n\r;\t#=-0.9<\0')), fc.integer({ min: 0, max: 255 }));
const stray = fc.record({ at: fc.nat({ max: GOOD.length }), removed: fc.nat({ max: 3 }), inserted: fc.array(strayByte, { maxLength: 3 }) });

function changed(changes: readonly { readonly at: number; readonly removed: number; readonly inserted: readonly number[] }[]): Buffer {
  return changes.reduce<Buffer>((bytes, { at, removed, inserted }) => Buffer.concat([bytes.subarray(0, at), Buffer.from(inserted), bytes.subarray(at + removed)]), GOOD);
}

const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
const printableText = fc.string({ unit: fc.constantFrom(...'aZ09 ,";|#.-/ßé鋼'), minLength: 1, maxLength: 40 }).filter((text) => text.trim() === text && !/^[-=+@]/.test(text));

describe('reading certificates', () => {
  test('a damaged file never throws, ends once, and reads the same however it is cut', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(stray, { minLength: 1, maxLength: 4 }), fc.integer({ min: 1, max: 50 }), async (changes, pieceBytes) => {
        const content = changed(changes);
        const readings = await readAll(content, content.length + 1);
        expect(await readAll(content, pieceBytes)).toEqual(readings);
        expect(readings.map(({ kind }) => kind).indexOf('end')).toBe(readings.length - 1);
      }),
      PARAMETERS,
    );
  });

  test('no certificate is given that has a line with a fault', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(stray, { minLength: 1, maxLength: 4 }), async (changes) => {
        const readings = await readAll(changed(changes), 100);
        const linesAtFault = readings.flatMap((reading) => (reading.kind === 'fault' ? [reading.fault.line] : []));
        const given = readings.flatMap((reading) => (reading.kind === 'certificate' ? reading.certificate.lineNumbers : []));
        expect(given.filter((line) => linesAtFault.includes(line))).toEqual([]);
      }),
      PARAMETERS,
    );
  });

  test('a text in quotes comes back as it was', async () => {
    await fc.assert(
      fc.asyncProperty(printableText, printableText, async (issuer, specification) => {
        const [first] = await readAll(fileOf(lineOf({ issuer: quoted(issuer), specification: quoted(specification) })), 30);
        expect(first).toMatchObject({ kind: 'certificate', certificate: { paper: { issuer, specification } } });
      }),
      PARAMETERS,
    );
  });

  test('a decimal number comes back digit for digit', async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 0, max: 24_999 }), fc.constantFrom('', '<', '≤'), async (hundredThousandths, sign) => {
        const digits = `0.${String(hundredThousandths).padStart(5, '0')}`;
        const [first] = await readAll(fileOf(lineOf({ 'C [%]': `${sign}${digits}` })), 30);
        const values = first?.kind === 'certificate' ? first.certificate.paper.lines[0]?.values : [];
        expect(values?.find(({ characteristic, analysis }) => characteristic === 'C' && analysis === 'heat')?.printed).toBe(`${sign}${digits}`);
      }),
      PARAMETERS,
    );
  });
});
