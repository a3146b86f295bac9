import { describe, expect, test } from '@jest/globals';
import { fileOf, inPieces, lineOf } from '../../../../test/setup/certificate-files.js';
import { requirement, specificationRow } from '../evaluation/coil-knowledge.factory.js';
import type { CsvFault, ReadCertificate } from './certificate-csv.js';
import { batchesOf, FileSummary, type CertificateFile } from './certificate-file.js';
import type { CertificateFileAnswer } from './certificate-import.dto.js';

const file = (content: string, sha256 = 'a'.repeat(64)): CertificateFile => ({ sha256, sizeBytes: content.length });
const certificates = (count: number, changes: Record<string, string> = {}): string[][] =>
  Array.from({ length: count }, (_, index) => lineOf({ certificate: `TS-${index}`, coil: `LM-${index}`, ...changes }));

interface Read {
  readonly batches: (readonly ReadCertificate[])[];
  readonly faults: CsvFault[];
  readonly ended: { lines: number; stopped: string | null };
}

async function read(content: string): Promise<Read> {
  const faults: CsvFault[] = [];
  const batches: (readonly ReadCertificate[])[] = [];
  const generator = batchesOf(inPieces(content), (fault) => { faults.push(fault); });
  for (;;) {
    const next = await generator.next();
    if (next.done === true) return { batches, faults, ended: next.value };
    batches.push(next.value);
  }
}

describe('the certificates of a file', () => {
  test.each([[0, []], [1, [1]], [39, [39]], [40, [40]], [41, [40, 1]], [85, [40, 40, 5]]])('%i of them come in batches of forty', async (count, sizes) => {
    const { batches, faults, ended } = await read(fileOf(...certificates(count)));
    expect(batches.map(({ length }) => length)).toEqual(sizes);
    expect(batches.flat().map(({ paper }) => paper.number)).toEqual(Array.from({ length: count }, (_, index) => `TS-${index}`));
    // Of a header alone the reader says that there is nothing below it.
    expect(faults).toHaveLength(count === 0 ? 1 : 0);
    expect(ended).toEqual({ lines: count + 1, stopped: null });
  });

  test('come without those at fault, which are told', async () => {
    const { batches, faults } = await read(fileOf(...certificates(2), lineOf({ certificate: 'TS-X', coil: 'LM-X', 'C [%]': 'O.085' }), lineOf({ certificate: 'TS-Y', coil: 'LM-Y' })));
    expect(batches.flat().map(({ paper }) => paper.number)).toEqual(['TS-0', 'TS-1', 'TS-Y']);
    expect(faults.length).toBeGreaterThan(0);
    expect(faults.every(({ line }) => line === 4)).toBe(true);
  });
});

describe('the summary of a file', () => {
  async function summary(content: string, held = false, sha256?: string): Promise<CertificateFileAnswer> {
    const { batches, faults, ended } = await read(content);
    const found = new FileSummary(file(content, sha256));
    for (const fault of faults) found.addFault(fault);
    for (const certificate of batches.flat()) found.add(certificate, held ? { specification: specificationRow({ requirements: [requirement({ max: '0.07' })] }), ordered: null } : null);
    return found.answer(ended);
  }
  const unlikely = (count: number, digits = '0.31'): string => fileOf(...Array.from({ length: count }, (_, index) => lineOf({ certificate: `TS-${index}`, coil: `LM-${index}`, heat: `H${index}`, 'C [%]': digits, 'C product [%]': '' })));

  test('counts certificates, lines and values, and holds them against their basis', async () => {
    expect(await summary(fileOf(...certificates(3)), true)).toMatchObject({
      fileSha256: 'a'.repeat(64), lines: 4, certificates: 3, values: 24, faults: [], stopped: null, questionCount: 0, confirm: null, verdicts: { 'does-not-conform': 3 }, notConformingCount: 3,
    });
  });

  test('lists faults in the order of their lines, a hundred at most, and says nothing for an empty text', () => {
    const found = new FileSummary(file(''));
    expect(found.hasFaults).toBe(false);
    for (let line = 150; line > 0; line -= 1) found.addFault({ line, column: null, header: '', value: '', fault: 'Empty.' });
    const { faults } = found.answer({ lines: 151, stopped: 'Too many.' });
    expect(found.hasFaults).toBe(true);
    expect(faults).toHaveLength(100);
    expect(faults[0]).toEqual({ line: 51, column: null, header: null, value: null, fault: 'Empty.' });
    expect(faults.map(({ line }) => line)).toEqual([...faults.map(({ line }) => line)].sort((a, b) => a - b));
  });

  test('asks about unlikely values with one code, that is of just these values in these places of this file', async () => {
    const [two, again, other, three, elsewhere] = await Promise.all([
      summary(unlikely(2)), summary(unlikely(2)), summary(unlikely(2, '0.32')), summary(unlikely(3)), summary(unlikely(2), false, 'b'.repeat(64)),
    ]);
    expect(two).toMatchObject({ questionCount: 2, questions: [{ line: 2, value: '0.31' }, { line: 3, value: '0.31' }] });
    expect(two.confirm).toMatch(/^[0-9a-f]{16}$/);
    expect(again.confirm).toBe(two.confirm);
    expect(new Set([two.confirm, other.confirm, three.confirm, elsewhere.confirm]).size).toBe(4);
  });

  test('counts the questions that a certificate left out too', async () => {
    const content = unlikely(1);
    const found = new FileSummary(file(content));
    const { batches, ended } = await read(content);
    for (const certificate of batches.flat()) found.add({ ...certificate, questionsLeftOut: 7 }, null);
    expect(found.answer(ended)).toMatchObject({ questionCount: 8, questions: [{ line: 2 }] });
  });

  test('lists a hundred questions, counts the rest, and its code is of them all', async () => {
    const [many, more] = await Promise.all([summary(unlikely(120)), summary(unlikely(121))]);
    expect([many.questions.length, many.questionCount, more.questions.length, more.questionCount]).toEqual([100, 120, 100, 121]);
    expect(more.confirm).not.toBe(many.confirm);
  });
});
