import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import type { PipeKnowledge, Standing, WhyNotKnown } from '#libs/ratings';
import { findCharacteristic } from '#libs/strip';
import { CertificateLinksService } from '../certificate-links/certificate-links.service.js';
import { DestructiveCoverages } from '../destructive-coverage/destructive-coverage.service.js';
import type { DestructiveTest } from '../destructive-tests/destructive-test.entity.js';
import { DestructiveTestsService } from '../destructive-tests/destructive-tests.service.js';
import { coilValues } from '../evaluation/coil-values.js';
import { KeyedCertificates, papersOfCoil } from '../evaluation/keyed-certificates.service.js';
import { IncomingChecksService } from '../incoming-checks/incoming-checks.service.js';
import type { Pipe, PipeSegment } from '../trace/ground.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { refOf, type Origins } from './origins.js';
import { inUnit } from './printed-value.js';

/** Yield strengths and the pipe that each stands for, and why there is none where there is none. */
export interface KnownYields {
  readonly yields: PipeKnowledge['yields'];
  readonly reasons: readonly Standing<WhyNotKnown>[];
}

const YIELD_IN_NAME = /\b(ReH|ReL|Rp0[.,]2|Rt0[.,]65|Rt0[.,]5|Rt0[.,]7)(?!\w)/;

/** Which yield or proof strength the name of a reading speaks of; null for none. */
export function yieldCodeIn(name: string): string | null {
  return YIELD_IN_NAME.exec(name)?.[1]?.replace(',', '.') ?? null;
}

/** Gathers the yield strengths of a string's pipe: from the papers of its coils, and from tensile tests. */
@Injectable()
export class YieldStrengths {
  constructor(
    private readonly links: CertificateLinksService,
    private readonly keyed: KeyedCertificates,
    private readonly checks: IncomingChecksService,
    private readonly coverages: DestructiveCoverages,
    private readonly tests: DestructiveTestsService,
  ) {}

  /** By what was known at the instant asked about. */
  async of(stringId: string, { segments }: Pipe, origins: Origins, asKnownAt: string | null): Promise<KnownYields> {
    const [certified, tested] = await Promise.all([this.certified(segments, origins, asKnownAt), this.tested(stringId, origins, asKnownAt)]);
    return { yields: [...tested, ...certified.yields], reasons: certified.reasons };
  }

  private async certified(segments: readonly PipeSegment[], origins: Origins, asKnownAt: string | null): Promise<KnownYields> {
    const coilIds = [...new Set(segments.map(({ coil }) => coil.id))];
    const [links, checks] = await Promise.all([this.links.ofCoils(coilIds, asKnownAt), this.checks.ofCoils(coilIds, asKnownAt)]);
    const certificates = await this.keyed.of([...segments.map(({ coil }) => coil), ...links].map(({ certificateId }) => certificateId), asKnownAt);
    const all = segments.map(({ segment: { span }, coil, heat }) => {
      const papers = papersOfCoil(coil, links.filter(({ coilId }) => coilId === coil.id), certificates);
      const values = coilValues({ coil, heat, papers, checks }).filter(({ characteristic }) => findCharacteristic(characteristic)?.family === 'yield');
      const yields = values.filter(({ doubt }) => doubt === null).flatMap(({ characteristic, printed, unit, multiplier, source }): PipeKnowledge['yields'] => {
        const value = inUnit(printed, unit, 'MPa', multiplier);
        if (value === null || source.record === null) return [];
        const record = { ...source.record, label: source.label };
        const basis = record.kind === 'incoming-check' ? 'tested' : 'certified';
        return [{ interval: span, of: origins.with({ value, record: refOf(record), basis }, { what: characteristic, record, at: null, u: null }) }];
      });
      const doubt = values.find((value) => value.doubt !== null);
      const why = doubt === undefined ? `no yield strength of coil ${coil.number} is on record` : `${doubt.characteristic} of coil ${coil.number} is in doubt: ${doubt.doubt ?? ''}`;
      return { yields, reason: { interval: span, of: { yieldMpa: `${why}, and no tensile test stands for this pipe` } } };
    });
    return { yields: all.flatMap(({ yields }) => yields), reasons: all.map(({ reason }) => reason) };
  }

  /** Of a failed test the value counts too: it is what the pipe had. */
  private async tested(stringId: string, origins: Origins, asKnownAt: string | null): Promise<PipeKnowledge['yields']> {
    const [coverage, tests] = await Promise.all([this.coverages.of(stringId, asKnownAt), this.tests.ofString(stringId, asKnownAt)]);
    const byId = new Map(tests.map((test) => [test.id, test]));
    const samples = coverage.tests.find(({ test }) => test === 'tensile')?.samples ?? [];
    return samples.flatMap(({ results, represents }) => results.filter(({ outcome }) => outcome !== 'void').flatMap(({ test }) => {
      const row = byId.get(test.id);
      return row === undefined ? [] : readYields(row, test, represents.intervals, origins);
    }));
  }
}

function readYields({ readings }: DestructiveTest, record: RecordLink, intervals: readonly Interval[], origins: Origins): PipeKnowledge['yields'] {
  return (readings ?? []).flatMap(({ name, printed, unit }) => {
    const [what, value] = [yieldCodeIn(name), inUnit(printed, unit, 'MPa')];
    if (what === null || value === null) return [];
    const given = origins.with({ value, record: refOf(record), basis: 'tested' as const }, { what, record, at: null, u: null });
    return intervals.map((interval) => ({ interval, of: given }));
  });
}
