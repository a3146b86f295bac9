import { promisify } from 'node:util';
import { brotliCompress, brotliCompressSync, deflateSync, gzipSync } from 'node:zlib';
import { Float16, makeData, Utf8, vectorFromArray, type Data } from 'apache-arrow';
import { NO_RULES, type PartErrorCode, type PartShape } from '#libs/sample-files';
import { arrowStream, float32s, float64s, instants, int64s, shapeOf, type ArrowColumnGiven } from '../fixtures/sample-files.js';
import { randomFrom, type Random } from '../fixtures/signals.js';

/** A part that must be refused, and how; or, where a changed byte may mean nothing, refused or read as if it had not changed. */
export interface BrokenPart {
  readonly name: string;
  readonly shape: PartShape;
  readonly bytes: () => Uint8Array;
  readonly codes: readonly PartErrorCode[];
  /** The part before the change. */
  readonly orAs: (() => Uint8Array) | null;
}

const { floor } = Math;
const ANY: readonly PartErrorCode[] = ['malformed', 'truncated', 'unsupported', 'wrong-columns', 'wrong-type', 'wrong-value', 'wrong-position', 'wrong-order', 'too-many-rows', 'too-large', 'empty'];
const MB = 1024 * 1024;
const TIME = shapeOf({ position: { name: 'position', kind: 'time' } });
const TWO = shapeOf({ columns: [{ name: 'wall', rules: NO_RULES }, { name: 'power', rules: NO_RULES }] });
const CSV = shapeOf({ format: 'csv', position: { name: 'position', kind: 'counter', decimals: 3 } });
const NDJSON: PartShape = { ...CSV, format: 'ndjson' };
const below = (random: Random, limit: number): number => floor(random() * limit);
const one = <T>(random: Random, all: readonly T[]): T => all[below(random, all.length)] as T;

interface GoodPart {
  readonly shape: PartShape;
  readonly bytes: Uint8Array;
}

const counted = (random: Random, rows: number): BigInt64Array => {
  let at = BigInt(below(random, 1_000_000));
  return BigInt64Array.from({ length: rows }, () => (at += BigInt(1 + below(random, 3))));
};
const some = (random: Random, rows: number): Float32Array => Float32Array.from({ length: rows }, () => 4.5 + random());
const mostlyThere = (random: Random, rows: number): boolean[] => Array.from({ length: rows }, (_, index) => index > 0 && random() < 0.9);

/** Good Arrow parts of different make, each of a few batches. */
function goodArrow(random: Random): GoodPart {
  const sizes = Array.from({ length: 1 + below(random, 3) }, () => 10 + below(random, 200));
  const start = counted(random, sizes.reduce((sum, rows) => sum + rows, 0));
  const slices = sizes.map((rows, index) => {
    const from = sizes.slice(0, index).reduce((sum, each) => sum + each, 0);
    return start.slice(from, from + rows);
  });
  const column = (name: string, make: (rows: number) => Data): ArrowColumnGiven => ({ name, batches: sizes.map(make) });
  const wall = column('wall', (rows) => float32s(some(random, rows)));
  return one(random, [
    () => ({ shape: shapeOf(), bytes: arrowStream([{ name: 'position', batches: slices.map((slice) => int64s(slice)) }, wall]) }),
    () => ({ shape: shapeOf(), bytes: arrowStream([column('wall', (rows) => float32s(some(random, rows), mostlyThere(random, rows))), { name: 'position', batches: slices.map((slice) => float64s(Float64Array.from(slice, Number))) }]) }),
    () => ({ shape: TIME, bytes: arrowStream([{ name: 'position', batches: slices.map((slice) => instants(slice.map((at) => at + 1_764_061_200_000_000n))) }, wall]) }),
    () => ({ shape: TWO, bytes: arrowStream([column('power', (rows) => float64s(Float64Array.from(some(random, rows)))), { name: 'position', batches: slices.map((slice) => int64s(slice)) }, wall]) }),
  ])();
}

const texts = (random: Random, line: (position: string, value: string) => string): string[] =>
  Array.from({ length: 5 + below(random, 50) }, (_, row) => line((row + random() * 0.9).toFixed(3), (4.5 + random()).toFixed(3)));
const csvLines = (random: Random): string[] => ['position,wall', ...texts(random, (position, value) => `${position},${value}`)];
const jsonLines = (random: Random): string[] => texts(random, (position, value) => `{"position":${position},"wall":${value}}`);
const joined = (lines: readonly string[]): Uint8Array => Buffer.from(`${lines.join('\n')}\n`);

/** Where the prefixes and metadata of a good stream lie: everything but bodies. */
function framingOf(bytes: Uint8Array): number[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const places: number[] = [];
  for (let at = 0; at < bytes.length;) {
    const metadata = view.getInt32(at + 4, true);
    for (let place = at; place < at + 8 + metadata; place += 1) places.push(place);
    at += 8 + metadata + (metadata === 0 ? 0 : bodyLength(view, at + 8));
  }
  return places;
}

/** The fourth field of a message (Message.fbs), by its offset in the table of fields. */
function bodyLength(view: DataView, metadata: number): number {
  const table = metadata + view.getUint32(metadata, true);
  const fields = table - view.getInt32(table, true);
  const offset = view.getUint16(fields, true) > 10 ? view.getUint16(fields + 10, true) : 0;
  return offset === 0 ? 0 : Number(view.getBigInt64(table + offset, true));
}

function changed(bytes: Uint8Array, change: (view: DataView) => void): Uint8Array {
  const copy = bytes.slice();
  change(new DataView(copy.buffer));
  return copy;
}

type Make = (random: Random) => Omit<BrokenPart, 'name' | 'orAs'> & { readonly orAs?: BrokenPart['orAs'] };
const refused = (shape: PartShape, bytes: Uint8Array | (() => Uint8Array), ...codes: PartErrorCode[]): ReturnType<Make> =>
  ({ shape, codes, bytes: typeof bytes === 'function' ? bytes : () => bytes });

const ARROW_FRAMES: Readonly<Record<string, [number, Make]>> = {
  'cut anywhere': [60, (random) => {
    const { shape, bytes } = goodArrow(random);
    return refused(shape, bytes.subarray(0, below(random, bytes.length)), 'truncated');
  }],
  'a bit of the framing flipped': [200, (random) => {
    const { shape, bytes } = goodArrow(random);
    const [place, bit] = [one(random, framingOf(bytes)), below(random, 8)];
    return { ...refused(shape, changed(bytes, (view) => { view.setUint8(place, view.getUint8(place) ^ (1 << bit)); }), ...ANY), orAs: () => bytes };
  }],
  'lengths of 2 GB': [80, (random) => {
    const { shape, bytes } = goodArrow(random);
    const words = framingOf(bytes).filter((place) => place % 4 === 0);
    const [place, word] = [one(random, words), one(random, [0x7fffffff, 0x7ffffff8, 0x80000000, 0xfffffff0, 0x10000000])];
    return { ...refused(shape, changed(bytes, (view) => { view.setUint32(place, word, true); }), ...ANY), orAs: () => bytes };
  }],
  'metadata of 2 GB': [10, (random) => {
    const { shape, bytes } = goodArrow(random);
    return refused(shape, changed(bytes, (view) => { view.setInt32(4, 0x7ffffff8, true); }), 'truncated');
  }],
  'something after the end': [10, (random) => {
    const { shape, bytes } = goodArrow(random);
    return refused(shape, Buffer.concat([bytes, bytes.subarray(0, 1 + below(random, bytes.length))]), 'malformed');
  }],
};

const position = (values: BigInt64Array): ArrowColumnGiven => ({ name: 'position', batches: [int64s(values)] });
const wallOf = (random: Random, rows: number): ArrowColumnGiven => ({ name: 'wall', batches: [float32s(some(random, rows))] });

const ARROW_CONTENT: Readonly<Record<string, [number, Make]>> = {
  'a column with another name': [20, (random) => refused(shapeOf(), arrowStream([position(counted(random, 9)), { ...wallOf(random, 9), name: one(random, ['Wall', 'wall ', '', 'wa\0ll', 'w'.repeat(5000)]) }]), 'wrong-columns')],
  'a column too many or twice': [20, (random) => refused(shapeOf(), arrowStream([position(counted(random, 9)), wallOf(random, 9), { ...wallOf(random, 9), name: one(random, ['wall', 'position', 'power']) }]), 'wrong-columns')],
  'a column too few': [5, (random) => refused(shapeOf(), arrowStream([one(random, [position(counted(random, 9)), wallOf(random, 9)])]), 'wrong-columns')],
  'a type that is not taken': [20, (random) => refused(shapeOf(), arrowStream([position(counted(random, 3)), {
    name: 'wall', batches: [one(random, [
      () => vectorFromArray(['5.01', '5.02', null], new Utf8()).data[0] as Data, () => vectorFromArray(['a', 'b', 'a']).data[0] as Data, () => vectorFromArray([[1], [2], [3]]).data[0] as Data,
      () => vectorFromArray([true, false, null]).data[0] as Data, () => makeData({ type: new Float16(), length: 3, nullCount: 0, data: new Uint16Array(3) }), () => vectorFromArray([{ a: 1 }, { a: 2 }, { a: 3 }]).data[0] as Data,
      () => instants(BigInt64Array.of(1n, 2n, 3n)),
    ])()],
  }]), 'wrong-type')],
  'a counter that is no number of steps': [40, (random) => {
    const positions = Float64Array.from(counted(random, 40), Number);
    positions[below(random, 40)] = one(random, [NaN, Infinity, -Infinity, 0.5, -0, 2 ** 52 + 2, 1e300, 1e-300]);
    return refused(shapeOf(), arrowStream([{ name: 'position', batches: [float64s(positions)] }, wallOf(random, 40)]), 'wrong-position');
  }],
  'a counter without a reading': [10, (random) => {
    const there = Array.from({ length: 40 }, () => true).with(below(random, 40), false);
    return refused(shapeOf(), arrowStream([{ name: 'position', batches: [int64s(counted(random, 40), there)] }, wallOf(random, 40)]), 'wrong-position');
  }],
  'a counter against the direction': [40, (random) => {
    const positions = counted(random, 40);
    const [at, isForward] = [1 + below(random, 39), random() < 0.5];
    positions[at] = (positions[at - 1] as bigint) - BigInt(1 + below(random, 1000));
    return refused(shapeOf({ direction: isForward ? 'forward' : 'backward' }), arrowStream([position(positions), wallOf(random, 40)]), 'wrong-order');
  }],
};

const OTHERS = (random: Random): readonly (readonly [PartShape['format'], Uint8Array])[] => [
  ['arrow', goodArrow(random).bytes], ['csv', joined(csvLines(random))], ['ndjson', joined(jsonLines(random))],
];

const WRONG_FORMAT: Readonly<Record<string, [number, Make]>> = {
  'of another format': [40, (random) => {
    const format = one(random, ['arrow', 'csv', 'ndjson'] as const);
    const [, bytes] = one(random, OTHERS(random).filter(([is]) => is !== format));
    return refused({ ...CSV, format }, bytes, 'malformed', 'wrong-columns', 'truncated', 'unsupported');
  }],
  'of nothing that is known': [40, (random) => {
    const bytes = Uint8Array.from({ length: below(random, 3000) }, () => below(random, 256));
    return refused({ ...CSV, format: one(random, ['arrow', 'csv', 'ndjson'] as const) }, bytes, 'malformed', 'wrong-columns', 'truncated', 'empty');
  }],
};

/** A line of a good text replaced, or put in. */
const withLine = (lines: readonly string[], at: number, line: string): Uint8Array => joined(lines.with(at, line));
const oneLine = (random: Random, lines: readonly string[], line: string): Uint8Array => withLine(lines, 1 + below(random, lines.length - 1), line);

const TEXTS: Readonly<Record<string, [number, Make]>> = {
  'CSV with a value that is none': [40, (random) => refused(CSV, oneLine(random, csvLines(random), `${one(random, ['9', '9.5'])},${one(random, ['NaN', 'n/a', '1;5', '"1,5"', '0x10', '1_0', '>5', '>= x', 'Infinity', '-', '1e', '５'])}`), 'wrong-value')],
  'CSV with a position that is none': [20, (random) => refused(CSV, oneLine(random, csvLines(random), `${one(random, ['', 'x', '1.0001', '1e3', '-0', '99999999999999'])},1`), 'wrong-position')],
  'CSV with fields too few or too many': [20, (random) => refused(CSV, oneLine(random, csvLines(random), one(random, ['9', '9,1,2', '9,1,', ',,,,', '"9"'])), 'malformed')],
  'CSV with quotes that do not close': [20, (random) => refused(CSV, oneLine(random, csvLines(random), one(random, ['9,"1', '"9,1', '9,1"', '9,"1""', '9,1"2"3'])), 'malformed')],
  'CSV with a giant field': [6, (random) => {
    const [filler, size] = [one(random, ['1', ' ', '"', ',', 'x', '\0']), one(random, [70_000, MB, 15 * MB])];
    return refused(CSV, () => Buffer.from(`position,wall\n1,2\n2,${filler.repeat(size)}\n`), 'malformed');
  }],
  'CSV with a giant header': [6, (random) => refused(CSV, Buffer.from(`position,wall${one(random, [',', ',wall', ',x'] as const).repeat(10_000)}\n`), 'wrong-columns')],
  'CSV of empty lines': [2, (random) => refused(CSV, () => Buffer.from(`${one(random, ['', 'position,wall'])}${'\n'.repeat(15 * MB)}`), 'malformed', 'empty')],
  'CSV with a column twice': [10, (random) => refused(CSV, joined(csvLines(random).with(0, one(random, ['position,wall,wall', 'position,position,wall', 'wall,wall']))), 'wrong-columns')],
  'a counter that falls': [20, (random) => {
    const format = one(random, [CSV, NDJSON]);
    return refused(format, joined(format === CSV ? ['position,wall', '5,1', '7.5,1', '7.499,1'] : ['{"position":5,"wall":1}', `{"position":${4 - random() > 3.5 ? '4.999' : '4'},"wall":1}`]), 'wrong-order');
  }],
  'NDJSON that goes deep': [20, (random) => {
    const [open, depth] = [one(random, ['[', '{"a":', '[{"wall":']), one(random, [1, 100, 5000])];
    return refused(NDJSON, oneLine(random, jsonLines(random), one(random, [`{"position":9,"wall":${open.repeat(depth)}`, open.repeat(depth), `{"position":${open.repeat(depth)}`])), 'wrong-value', 'malformed', 'wrong-columns');
  }],
  'NDJSON that goes deep in one line': [4, (random) => refused(NDJSON, () => Buffer.from(`{"position":1,"wall":${one(random, ['[', '{"a":'] as const).repeat(3 * MB)}`), 'malformed')],
  'NDJSON with a name twice, missing or unknown': [20, (random) => refused(NDJSON, oneLine(random, jsonLines(random), one(random, [
    '{"position":9,"wall":1,"wall":1}', '{"position":9,"position":9,"wall":1}', '{"position":9}', '{}', '{"wall":1}', '{"position":9,"wall":1,"__proto__":1}', '{"position":9,"wa\\u006cl":1,"wall":1}',
  ])), 'wrong-columns')],
  'NDJSON with a value that is none': [20, (random) => refused(NDJSON, oneLine(random, jsonLines(random), `{"position":9,"wall":${one(random, ['true', 'NaN', '"n/a"', '{}', '[]', '+1', '.5', 'undefined'])}}`), 'wrong-value')],
  'NDJSON that is cut': [20, (random) => {
    const bytes = joined(jsonLines(random));
    const end = bytes.length - 2 - below(random, 20);
    return refused(NDJSON, bytes.subarray(0, end), 'malformed', 'wrong-value', 'wrong-position');
  }],
};

/** What bombs blow up to, once or many times. */
const zeros = Buffer.alloc(32 * MB);
/** Gzip members may follow each other: a gigabyte of zeros in a megabyte. */
function gzipBomb(): Uint8Array {
  const member = gzipSync(zeros);
  return Buffer.concat(Array.from({ length: 32 }, () => member));
}

const encoded = (random: Random): readonly [PartShape['encoding'], (bytes: Uint8Array) => Uint8Array] => one(random, [['gzip', gzipSync], ['deflate', deflateSync], ['br', brotliCompressSync]] as const);

const ENCODINGS: Readonly<Record<string, [number, Make]>> = {
  'an encoded part that is cut': [20, (random) => {
    const [[encoding, encode], { shape, bytes }] = [encoded(random), goodArrow(random)];
    const whole = encode(bytes);
    return refused({ ...shape, encoding }, whole.subarray(0, below(random, whole.length)), 'not-decompressible');
  }],
  'an encoded part with something after it': [15, (random) => {
    const [[encoding, encode], { shape, bytes }] = [encoded(random), goodArrow(random)];
    return refused({ ...shape, encoding }, Buffer.concat([encode(bytes), Buffer.from('trailing')]), 'not-decompressible');
  }],
  'an encoding that it has not': [15, (random) => {
    const [[encoding], { shape, bytes }] = [encoded(random), goodArrow(random)];
    return refused({ ...shape, encoding }, bytes, 'not-decompressible');
  }],
};

/** Some 800 parts of every make, the same for the same seed; of each kind at least as many as in the tables above. */
export async function brokenParts(seed: number): Promise<BrokenPart[]> {
  const random = randomFrom(seed);
  const made = [ARROW_FRAMES, ARROW_CONTENT, WRONG_FORMAT, TEXTS, ENCODINGS].flatMap((table) => Object.entries(table)).flatMap(([name, [count, make]]) =>
    Array.from({ length: count }, (_, index): BrokenPart => ({ orAs: null, name: `${name}, ${index + 1}`, ...make(random) })));
  return [...made, ...(await bombs())];
}

async function bombs(): Promise<BrokenPart[]> {
  const br = await promisify(brotliCompress)(zeros);
  const deflated = deflateSync(zeros);
  const gzipped = gzipBomb();
  return (['arrow', 'csv', 'ndjson'] as const).flatMap((format) => ([['gzip', gzipped], ['deflate', deflated], ['br', br]] as const).map(([encoding, bytes]): BrokenPart =>
    ({ name: `a bomb in ${encoding} of ${format}`, shape: { ...CSV, format, encoding }, bytes: () => bytes, codes: ['too-large'], orAs: null })));
}
