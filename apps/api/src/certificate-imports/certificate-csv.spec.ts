import { describe, expect, test } from '@jest/globals';
import { BROKEN_FILES, ODD_FILES } from '../../../../test/setup/certificate-csv.campaign.js';
import { columnOf, fileOf, inPieces, lineOf } from '../../../../test/setup/certificate-files.js';
import { CSV_LIMITS, type CsvEnd, type CsvFault, type CsvLimits, readCertificates, type ReadCertificate } from './certificate-csv.js';

interface WholeFile {
  readonly certificates: ReadCertificate[];
  readonly faults: CsvFault[];
  readonly ends: CsvEnd[];
}

async function readAll(bytes: AsyncIterable<Uint8Array>, limits: CsvLimits = CSV_LIMITS): Promise<WholeFile> {
  const whole: WholeFile = { certificates: [], faults: [], ends: [] };
  for await (const reading of readCertificates(bytes, limits)) {
    if (reading.kind === 'certificate') whole.certificates.push(reading.certificate);
    else if (reading.kind === 'fault') whole.faults.push(reading.fault);
    else whole.ends.push(reading.end);
  }
  return whole;
}

const readText = (content: string, limits: CsvLimits = CSV_LIMITS): Promise<WholeFile> => readAll(inPieces(content), limits);
const linesOf = (count: number, changes: Record<string, string> = {}): string[][] =>
  Array.from({ length: count }, (_, index) => lineOf({ coil: `LM-${index}`, ...changes }));

describe('broken files', () => {
  test('the table holds enough of them, each by a name of its own', () => {
    expect(BROKEN_FILES.length).toBeGreaterThanOrEqual(45);
    expect(new Set(BROKEN_FILES.map(({ name }) => name)).size).toBe(BROKEN_FILES.length);
  });

  test.each(BROKEN_FILES)('$name', async ({ bytes, line, column, says }) => {
    const { certificates, faults, ends } = await readAll(bytes());
    expect(faults[0]).toMatchObject({ line, column, fault: expect.stringMatching(says) });
    expect(faults.every(({ value, fault }) => (value ?? '').length <= 100 && fault.length <= 400 && /[.?]$/.test(fault))).toBe(true);
    expect(certificates.filter(({ firstLine, lastLine }) => firstLine <= line && line <= lastLine)).toEqual([]);
    expect(ends).toEqual([expect.objectContaining({ faults: faults.length, certificates: certificates.length })]);
  });

  test.each(BROKEN_FILES)('$name: the same in one piece and byte by byte', async ({ bytes }) => {
    const pieces: Uint8Array[] = [];
    for await (const piece of bytes()) pieces.push(piece);
    const content = Buffer.concat(pieces);
    const whole = await readAll(inPieces(content, Math.max(content.length, 1)));
    expect(await readAll(bytes())).toEqual(whole);
    if (content.length < 10_000) expect(await readAll(inPieces(content, 1))).toEqual(whole);
  });
});

describe('odd but good files', () => {
  test.each(ODD_FILES)('$name', async ({ bytes, certificates, coils, questions }) => {
    const read = await readAll(bytes());
    expect(read.faults).toEqual([]);
    expect(read.certificates).toHaveLength(certificates);
    expect(read.certificates.flatMap(({ paper }) => paper.lines).filter(({ coilNumber }) => coilNumber !== null)).toHaveLength(coils);
    expect(read.certificates.flatMap((one) => one.questions)).toHaveLength(questions);
    expect(read.ends).toEqual([{ lines: expect.any(Number), certificates, faults: 0, stopped: null }]);
  });
});

describe('a certificate', () => {
  test('is given with its lines, their numbers, and values as printed', async () => {
    const { certificates } = await readText(fileOf(
      lineOf({ 'KV2 @-20 [J]': '>=100', 'ReH [MPa]': '' }), lineOf({ certificate: 'TS-2', order: '', coil: '' }), lineOf({ certificate: 'TS-2', order: '' }),
    ));
    const [first, second] = certificates;
    expect(first).toMatchObject({ firstLine: 2, lastLine: 2, lineNumbers: [2], questions: [], questionsLeftOut: 0 });
    expect(first?.paper).toMatchObject({
      number: 'TS-1', issuer: 'Tarnwick Steelworks', documentType: '3.1', issuedOn: '2026-01-22', orderNumber: 'PO-1187', specification: 'HS-STRIP-80 rev 2',
    });
    const line = first?.paper.lines[0];
    expect(line).toMatchObject({ coilNumber: 'LM-01', heatNumber: 'H40711' });
    expect(line?.values.map(({ characteristic, analysis, printed, unit, multiplier, temperatureC, baseMm }) => [characteristic, analysis, printed, unit, multiplier, temperatureC, baseMm])).toEqual([
      ['thickness', null, '5.02', 'mm', '1', null, null],
      ['mass', null, '9850', 'kg', '1', null, null],
      ['camber', null, '1.5', 'mm', '1', null, '2000'],
      ['C', 'heat', '0.085', '%', '1', null, null],
      ['C', 'product', '0.088', '%', '1', null, null],
      ['S', 'heat', '4', '%', '1000', null, null],
      ['KV2', null, '≥100', 'J', '1', '-20', null],
    ]);
    expect(second).toMatchObject({ firstLine: 3, lastLine: 4, lineNumbers: [3, 4], paper: { orderNumber: null, lines: [{ coilNumber: null }, { coilNumber: 'LM-01' }] } });
  });

  test('takes 1000 lines', async () => {
    const { certificates, faults } = await readText(fileOf(...linesOf(1000)));
    expect(faults).toEqual([]);
    expect(certificates[0]?.paper.lines).toHaveLength(1000);
  });

  test('asks about what is unusual, with the likely slip', async () => {
    const { certificates } = await readText(fileOf(lineOf({ 'C product [%]': '0.85', 'ReH [MPa]': '910' }), lineOf({ coil: 'LM-02', 'C product [%]': '0.25' })));
    expect(certificates[0]?.questions).toEqual([
      { tier: 'implausible', line: 2, column: columnOf('C product [%]'), header: 'C product [%]', value: '0.85', fault: expect.stringMatching(/C 0\.85 %, and 0 to 0\.25 is usual\. It would be as usual divided by 10:/) },
      { tier: 'implausible', line: 2, column: columnOf('ReH [MPa]'), header: 'ReH [MPa]', value: '910', fault: expect.stringMatching(/200 to 900 is usual/) },
    ]);
  });

  test('lists so many questions, and counts the others', async () => {
    const { certificates } = await readText(fileOf(...linesOf(5, { 'C product [%]': '0.3' })), { ...CSV_LIMITS, questions: 3 });
    expect(certificates[0]?.questions).toHaveLength(3);
    expect(certificates[0]?.questionsLeftOut).toBe(2);
  });

  test('with a fault is not given, and neither is one beside a line that cannot be read', async () => {
    const file = fileOf(lineOf(), lineOf({ certificate: 'TS-2' }), ['?'], lineOf({ certificate: 'TS-3' }), lineOf({ certificate: 'TS-4' }), lineOf({ certificate: 'TS-5', type: '9' }));
    const { certificates, faults } = await readText(file);
    expect(certificates.map(({ paper }) => paper.number)).toEqual(['TS-1', 'TS-4']);
    expect(faults.map(({ line }) => line)).toEqual([4, 7]);
  });
});

describe('faults', () => {
  test('of one line are all told', async () => {
    const { faults } = await readText(fileOf(lineOf({ type: '3.1.B', issued: 'today', heat: '', 'C [%]': 'trace', 'mass [kg]': '1' })));
    expect(faults.map(({ line, column, header, value }) => [line, column, header, value])).toEqual([
      [2, 3, 'type', '3.1.B'], [2, 4, 'issued', 'today'], [2, 8, 'heat', ''],
      [2, columnOf('mass [kg]'), 'mass [kg]', '1'], [2, columnOf('C [%]'), 'C [%]', 'trace'],
    ]);
  });

  test('stop the reading after a hundred', async () => {
    const { faults, ends } = await readText(fileOf(...linesOf(150, { 'C [%]': 'trace' })));
    expect(faults).toHaveLength(100);
    expect(ends).toEqual([{ lines: 101, certificates: 0, faults: 100, stopped: expect.stringMatching(/after 100 faults, on line 101/) }]);
  });

  test('short of a hundred do not', async () => {
    const { faults, ends } = await readText(fileOf(...linesOf(99, { 'C [%]': 'trace' })));
    expect(faults).toHaveLength(99);
    expect(ends).toEqual([{ lines: 100, certificates: 0, faults: 99, stopped: null }]);
  });

  test('of the header are all told, and nothing below is read', async () => {
    const { faults, ends } = await readText(fileOf(lineOf()).replace('C [%]', 'C [mm]').replace('coil', 'Coil'));
    expect(faults.map(({ column, fault }) => [column, fault.slice(0, 14)])).toEqual([[7, 'No such column'], [12, 'The unit “mm” '], [null, 'The column coi']]);
    expect(ends[0]?.stopped).toMatch(/below the header were not read/);
  });

  test('show what stands there cut, and nothing that hides', async () => {
    const { faults } = await readText(fileOf(lineOf({ coil: `\u202E${'L'.repeat(200)}` })));
    expect(faults[0]?.value).toBe(`\uFFFD${'L'.repeat(99)}`);
  });

  test('say so in a short sentence, however long and odd what they tell of is', async () => {
    const odd = `\u202E${'9'.repeat(10_000)}`;
    const bad = lineOf({ certificate: 'TS-2', issuer: odd, coil: odd, heat: odd, 'C [%]': `0,${odd}` });
    const read = [await readText(fileOf(lineOf(), bad, lineOf({ ...Object.fromEntries(['issuer', 'coil', 'heat'].map((name) => [name, odd])), certificate: 'TS-2' }))), await readText(fileOf(lineOf()).replace('S x1000', `S x${odd}`))];
    const faults = read.flatMap((one) => one.faults);
    expect(faults.length).toBeGreaterThanOrEqual(5);
    expect(faults.filter(({ fault }) => fault.length > 400 || fault.includes('\u202E'))).toEqual([]);
  });

  test('of many certificates: no more than are taken', async () => {
    const lines = ['TS-1', 'TS-2', 'TS-3'].map((certificate) => lineOf({ certificate }));
    expect((await readText(fileOf(...lines), { ...CSV_LIMITS, certificates: 3 })).faults).toEqual([]);
    expect((await readText(fileOf(...lines), { ...CSV_LIMITS, certificates: 2 })).faults).toEqual([expect.objectContaining({ line: 4, column: 1, fault: expect.stringMatching(/More than 2 certificates/) })]);
  });
});

describe('limits, one step either side', () => {
  test('values of one certificate', async () => {
    // Eight values on each line of a certificate of its own.
    const lines = ['LM-01', 'LM-02', 'LM-03'].map((coil) => lineOf({ coil }));
    const faultsAt = async (valuesOfCertificate: number): Promise<readonly unknown[]> => (await readText(fileOf(...lines), { ...CSV_LIMITS, valuesOfCertificate })).faults;
    expect(await faultsAt(24)).toEqual([]);
    expect(await faultsAt(23)).toEqual([expect.objectContaining({ line: 4, column: 1, fault: expect.stringMatching(/More than 23 values/) })]);
    expect(await faultsAt(15)).toEqual([expect.objectContaining({ line: 3, fault: expect.stringMatching(/More than 15 values/) })]);
  });

  const longest = CSV_LIMITS.lineBytes;
  const lineOfBytes = (bytes: number): string => 'x'.repeat(bytes - lineOf({ coil: '' }).join(',').length);

  test.each([[longest, /at most 60/], [longest + 1, /longer than 65,536 bytes/]])('a line of %d bytes', async (bytes, says) => {
    const { faults } = await readText(fileOf(lineOf({ coil: lineOfBytes(bytes) })));
    expect(faults).toEqual([expect.objectContaining({ line: 2, fault: expect.stringMatching(says) })]);
  });

  test('a source that fails is not hidden', async () => {
    async function* failing(): AsyncGenerator<Uint8Array> {
      yield await Promise.resolve(Buffer.from(fileOf(lineOf())));
      throw new Error('connection lost');
    }
    await expect(readAll(failing())).rejects.toThrow('connection lost');
  });
});
