import { describe, expect, test } from '@jest/globals';
import type { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import { verificationOf } from '../transcriptions/certificate-transcriptions.service.js';
import { linesOf } from '../transcriptions/packed-lines.js';
import { paperCounts } from './paper-counts.js';
import { keying, printed } from './supplied-coil.factory.js';
import type { SuppliedPaper } from './supplier-knowledge.js';

const saying = (text: string, changes: Partial<CertificateTranscription> = {}): CertificateTranscription =>
  keying([{ coilNumber: 'A', heatNumber: 'H1', values: [printed({ printed: text })] }], changes);

function paper(keyings: readonly CertificateTranscription[], asFirstKeyed = keyings, hasWithdrawnKeying = false): SuppliedPaper {
  const said = asFirstKeyed.map((row) => ({ orderNumber: row.orderNumber, specification: row.specification, lines: linesOf(row) }));
  return { keyings, asFirstKeyed: said, hasWithdrawnKeying, verification: verificationOf('certificate', keyings) };
}

const second = (text: string, version = 1): CertificateTranscription => saying(text, { id: 'second', keying: 2, version });

describe('paperCounts', () => {
  test('a paper keyed twice alike is verified, and nothing was corrected', () => {
    expect(paperCounts([paper([saying('0.085'), second('0.085')])])).toEqual({
      certificates: 1, keyed: 1, verified: 1, keyingsDiffered: 0, corrected: 0, withWithdrawnKeying: 0, correctedShare: 0,
    });
  });

  test('a slip that was amended is found in the history', () => {
    const corrected = paper([saying('0.085'), second('0.085', 2)], [saying('0.085'), second('0.058')]);
    expect(paperCounts([corrected])).toMatchObject({ verified: 1, keyingsDiffered: 1, corrected: 1, correctedShare: 1 });
  });

  test('both keyings amended alike is a correction without a difference', () => {
    const amended = paper([saying('0.085', { version: 2 }), second('0.085', 2)], [saying('0.58'), second('0.58')]);
    expect(paperCounts([amended])).toMatchObject({ keyingsDiffered: 0, corrected: 1 });
  });

  test('papers not keyed are no share of anything; a withdrawn keying is told', () => {
    const papers = [paper([]), paper([], [], true), paper([saying('0.085')])];
    expect(paperCounts(papers)).toEqual({
      certificates: 3, keyed: 1, verified: 0, keyingsDiffered: 0, corrected: 0, withWithdrawnKeying: 1, correctedShare: 0,
    });
    expect(paperCounts([paper([])]).correctedShare).toBeNull();
    expect(paperCounts([])).toMatchObject({ certificates: 0, correctedShare: null });
  });
});
