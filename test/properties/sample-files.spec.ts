import { parse } from 'csv-parse/sync';
import { describe, expect, jest, test } from '@jest/globals';
import fc from 'fast-check';
import { decodePart, EXPORT_COLUMNS, NO_RULES, writeArrow, writeCsv, type DecodedPart, type ExportBlock, type PartShape, type PositionColumn } from '#libs/sample-files';
import { bitsOf, NO_VALUE_BITS, STATUS, STATUS_NAMES, type Samples } from '#libs/signals';
import { readByRust, writtenByRust, type RustColumn } from '../fixtures/arrow-rust.js';
import { arrowStream, float32s, float64s, instants, int64s, shapeOf } from '../fixtures/sample-files.js';
import { emptySamples } from '../fixtures/signals.js';
import { seedFromEnvironment } from '../setup/seed.js';

jest.setTimeout(120_000);

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 100 };
const [DECIMALS, TIME]: [PositionColumn, PositionColumn] = [{ name: 'position', kind: 'counter', decimals: 3 }, { name: 'position', kind: 'time' }];

const anyBits = fc.oneof(
  fc.nat({ max: 0xffffffff }),
  fc.constantFrom(0x7fc00000, 0x7fc00001, 0x7f800001, 0xffffffff, 0x80000000, 0, 1, 0x80000001, 0x007fffff, 0x7f800000, 0xff800000, 0x7f7fffff),
  fc.integer({ min: -20_000, max: 20_000 }).map((k) => bitsOf(Float32Array.of(k / 1000))[0] ?? 0),
);
const steps = fc.oneof({ weight: 8, arbitrary: fc.constant(1) }, fc.nat({ max: 50 }), fc.nat({ max: 2 ** 40 }));

interface AnyRow {
  readonly bits: number;
  readonly step: number;
  readonly isSent: boolean;
  readonly status: number;
  readonly footageMm: number | null;
}

const rows: fc.Arbitrary<AnyRow[]> = fc.array(fc.record({
  bits: anyBits, step: steps, isSent: fc.oneof({ weight: 6, arbitrary: fc.constant(true) }, fc.boolean()), status: fc.nat({ max: STATUS_NAMES.length - 1 }),
  footageMm: fc.option(fc.integer({ min: -1_000_000, max: 20_000_000 })),
}), { minLength: 1, maxLength: 100, size: 'max' });
const start = fc.integer({ min: -(2 ** 49), max: 2 ** 49 });

/** Samples as they are kept: nothing sent is missing, and so is every NaN. */
function samplesOf(given: readonly AnyRow[], from: number): Samples {
  const samples = emptySamples(given.length);
  let position = from;
  given.forEach((row, index) => {
    position += row.step;
    samples.positions[index] = position;
    bitsOf(samples.values)[index] = row.isSent ? row.bits : NO_VALUE_BITS;
    samples.statuses[index] = Number.isNaN(samples.values[index]) ? STATUS.missing : row.status;
  });
  return samples;
}

/** Statuses that a part without rules has. */
const plainStatuses = (values: Float32Array): Uint8Array =>
  Uint8Array.from(values, (value) => (Number.isNaN(value) ? STATUS.missing : Math.abs(value) === Infinity ? STATUS.implausible : STATUS.read));

function expectSame({ positions, columns: [wall], narrowed }: DecodedPart, samples: Samples, values = samples.values): void {
  expect(positions).toEqual(samples.positions);
  expect(bitsOf(wall!.values)).toEqual(bitsOf(values));
  expect(wall!.statuses).toEqual(plainStatuses(values));
  expect(narrowed).toBe(0);
}

const withPosition = (position: PositionColumn, given: Partial<PartShape> = {}): PartShape => shapeOf({ position, ...given });
const sentOf = (given: readonly AnyRow[]): boolean[] => given.map(({ isSent }) => isSent);

describe('a part', () => {
  const parts = fc.tuple(rows, start).map(([given, from]) => ({ samples: samplesOf(given, from), isSent: sentOf(given) }));
  const half = ({ length }: { readonly length: number }): number => Math.ceil(length / 2);

  test('in Arrow is decoded bit for bit, whichever implementation wrote it', () => {
    fc.assert(fc.property(parts, ({ samples: { positions, values, statuses }, isSent }) => {
      const at = half(values);
      const stream = arrowStream([
        { name: 'position', batches: [positions.subarray(0, at), positions.subarray(at)].map((some) => int64s(BigInt64Array.from(some, BigInt))) },
        { name: 'wall', batches: [float32s(values.subarray(0, at), isSent.slice(0, at)), float32s(values.subarray(at), isSent.slice(at))] },
      ]);
      const shape = withPosition({ ...DECIMALS, decimals: 0 });
      for (const bytes of [stream, writtenByRust(stream)]) expectSame(decodePart(bytes, shape), { positions, values, statuses });
    }), PARAMETERS);
  });

  test('in Arrow with readings as doubles or instants has the same positions', () => {
    fc.assert(fc.property(parts, ({ samples }) => {
      const wall = { name: 'wall', batches: [float32s(samples.values)] };
      const counter = arrowStream([{ name: 'position', batches: [float64s(samples.positions.map((whole) => whole / 1000))] }, wall]);
      const time = arrowStream([{ name: 'position', batches: [instants(BigInt64Array.from(samples.positions, BigInt))] }, wall]);
      expectSame(decodePart(writtenByRust(counter), withPosition(DECIMALS)), samples);
      expectSame(decodePart(writtenByRust(time), withPosition(TIME)), samples);
    }), PARAMETERS);
  });

  test('as a text is decoded bit for bit where a text can carry it', () => {
    fc.assert(fc.property(parts, ({ samples }) => {
      const values = samples.values.map((value) => (Math.abs(value) === Infinity ? 1 : value));
      bitsOf(values).forEach((_, index, bits) => { if (Number.isNaN(values[index])) bits[index] = NO_VALUE_BITS; });
      // Nine digits give back every float32 (IEEE 754-2019, 5.12.2); the zero of a sign is written by hand.
      const texts = [...values].map((value) => (Number.isNaN(value) ? '' : Object.is(value, -0) ? '-0' : value.toExponential(8)));
      const readings = [...samples.positions].map((whole) => `${whole < 0 ? '-' : ''}${(BigInt(Math.abs(whole)) / 1000n).toString()}.${String(Math.abs(whole) % 1000).padStart(3, '0')}`);
      const csv = Buffer.from(`position,wall\n${texts.map((text, index) => `${readings[index]!},${text}`).join('\n')}`);
      const json = Buffer.from(texts.map((text, index) => `{"wall":${text === '' ? 'null' : text},"position":${readings[index]!}}`).join('\n'));
      const fromCsv = decodePart(csv, withPosition(DECIMALS, { format: 'csv' }));
      const fromJson = decodePart(json, withPosition(DECIMALS, { format: 'ndjson' }));
      for (const part of [fromCsv, fromJson]) expectSame({ ...part, narrowed: 0 }, samples, values);
      expect(fromCsv.narrowed).toBe(fromJson.narrowed);
    }), PARAMETERS);
  });

  test('compressed is the same part', async () => {
    const { gzipSync, deflateSync, brotliCompressSync } = await import('node:zlib');
    fc.assert(fc.property(parts, ({ samples }) => {
      const bytes = arrowStream([{ name: 'position', batches: [float64s(samples.positions)] }, { name: 'wall', batches: [float32s(samples.values)] }]);
      const shape = withPosition({ ...DECIMALS, decimals: 0 });
      expectSame(decodePart(gzipSync(bytes), { ...shape, encoding: 'gzip' }), samples);
      expectSame(decodePart(deflateSync(bytes), { ...shape, encoding: 'deflate' }), samples);
      expectSame(decodePart(brotliCompressSync(bytes), { ...shape, encoding: 'br' }), samples);
    }), { ...PARAMETERS, numRuns: 30 });
  });
});

/** What was exported, row by row. */
interface ExportedRow {
  readonly position: number;
  readonly footageMm: number | null;
  readonly bits: number;
  readonly status: string;
}

const blocks: fc.Arbitrary<ExportBlock[]> = fc.array(fc.tuple(rows, start, fc.boolean()), { maxLength: 3 }).map((all) => all.map(([given, from, hasFootage]) =>
  ({ ...samplesOf(given, from), footageMm: hasFootage ? Float64Array.from(given, ({ footageMm }) => footageMm ?? NaN) : null })));

const rowsOf = (all: readonly ExportBlock[]): ExportedRow[] => all.flatMap(({ positions, values, statuses, footageMm }) => [...positions].map((position, index) => ({
  position, bits: bitsOf(values)[index]!, status: STATUS_NAMES[statuses[index]!]!,
  footageMm: footageMm === null || Number.isNaN(footageMm[index]) ? null : footageMm[index]!,
})));

async function written(pieces: AsyncIterable<Uint8Array>): Promise<Uint8Array[]> {
  const all: Uint8Array[] = [];
  for await (const piece of pieces) all.push(piece);
  return all;
}

describe('an export', () => {
  const floatAt = ({ data, isThere }: RustColumn, index: number): number | null => (isThere[index]! ? new DataView(data.buffer).getFloat64(8 * index, true) : null);
  const bitsAt = ({ data, isThere }: RustColumn, index: number): number | null => (isThere[index]! ? new DataView(data.buffer).getUint32(4 * index, true) : null);

  function rowsByRust(batch: readonly RustColumn[], isTime: boolean): ExportedRow[] {
    const [position, footageMm, value, sentInstead, status] = batch as [RustColumn, RustColumn, RustColumn, RustColumn, RustColumn];
    return status.isThere.map((_, index) => {
      const [sent, instead] = [bitsAt(value, index), bitsAt(sentInstead, index)];
      expect(sent === null || instead === null).toBe(true);
      const name = status.texts![status.data[index]!]!;
      expect(sent === null).toBe(name === 'missing');
      const reading = isTime ? Number(new DataView(position.data.buffer).getBigInt64(8 * index, true)) : Math.round(floatAt(position, index)! * 1000);
      return { position: reading, footageMm: floatAt(footageMm, index), bits: sent ?? instead ?? NO_VALUE_BITS, status: name };
    });
  }

  test.each([['counter', DECIMALS], ['time', TIME]] as const)('in Arrow by %s is read by another implementation, bit for bit', async (kind, position) => {
    await fc.assert(fc.asyncProperty(blocks, async (given) => {
      const pieces = await written(writeArrow({ position, about: { unit: 'mm' } }, given));
      expect(pieces).toHaveLength(given.length + 2);
      const batches = readByRust(Buffer.concat(pieces));
      for (const batch of batches) {
        expect(batch.map(({ name }) => name)).toEqual(['position', ...EXPORT_COLUMNS]);
        expect(batch.map(({ format }) => format)).toEqual([kind === 'time' ? 'tsu:UTC' : 'g', 'g', 'f', 'f', 'c']);
        expect(batch.map(({ isNullable }) => isNullable)).toEqual([false, true, true, true, false]);
      }
      expect(batches.flatMap((batch) => rowsByRust(batch, kind === 'time'))).toEqual(rowsOf(given));
    }), PARAMETERS);
  });

  /** By the parser of JavaScript: that of ours must not be the judge of it. */
  const bitsOfText = (text: string): number => (text.startsWith('NaN 0x') ? Number.parseInt(text.slice('NaN 0x'.length), 16) : bitsOf(Float32Array.of(Number(text)))[0]!);

  test.each([['counter', DECIMALS], ['time', TIME]] as const)('in CSV by %s is read by another parser, bit for bit', async (kind, position) => {
    await fc.assert(fc.asyncProperty(blocks, async (given) => {
      const [names, ...cells] = parse(Buffer.concat(await written(writeCsv({ position }, given))));
      expect(names).toEqual(['position', ...EXPORT_COLUMNS]);
      const read = cells.map(([reading = '', footageMm = '', value = '', sentInstead = '', status = '']): ExportedRow => {
        expect(value === '').toBe(status === 'missing');
        const text = value === '' ? sentInstead : value;
        return { position: positionOf(reading, kind), footageMm: footageMm === '' ? null : Number(footageMm), bits: text === '' ? NO_VALUE_BITS : bitsOfText(text), status };
      });
      expect(read).toEqual(rowsOf(given));
    }), PARAMETERS);
  });

  /** Instants are read as milliseconds and three more digits. */
  function positionOf(reading: string, kind: 'counter' | 'time'): number {
    if (kind === 'counter') return Number(reading.replace('.', ''));
    return reading.endsWith('Z') ? Date.parse(`${reading.slice(0, -4)}Z`) * 1000 + Number(reading.slice(-4, -1)) : Number(reading);
  }

  test('in CSV is read again as a part, but for what is missing or implausible', async () => {
    const samples = samplesOf([{ bits: 0x40a06a7f, step: 1, isSent: true, status: 0, footageMm: null }], -7);
    const text = Buffer.concat(await written(writeCsv({ position: DECIMALS }, [{ ...samples, footageMm: null }]))).toString();
    expect(text).toBe('position,footageMm,value,sentInstead,status\n-0.006,,5.013,,read\n');
    const columns = [{ name: 'value', rules: NO_RULES }];
    const part = text.split('\n').map((line) => line.split(',').filter((_, index) => index === 0 || index === 2).join(',')).join('\n');
    expect(bitsOf(decodePart(Buffer.from(part), withPosition(DECIMALS, { format: 'csv', columns })).columns[0]!.values)[0]).toBe(0x40a06a7f);
  });
});
