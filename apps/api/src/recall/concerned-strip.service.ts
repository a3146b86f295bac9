import { Injectable } from '@nestjs/common';
import { CertificateLinksService } from '../certificate-links/certificate-links.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import type { Coil } from '../coils/coil.entity.js';
import { PLAIN_CONCERN, type Concern, type ConcernedCoil, type ConcernedSpan } from './concerned.js';
import { RecordFinder } from './record-finder.service.js';
import { COILS, linkOf, SEGMENTS } from './record-kinds.js';
import { partOfSegment, wholeSegment } from './strip-doubt.js';

/** A part of a coil's strip; null ends are the coil's own. */
export interface StripPart {
  readonly coilId: string;
  readonly stripFromMm: number | null;
  readonly stripToMm: number | null;
}

/** A coil from its head to its tail. */
export const wholeCoil = (coilId: string): StripPart => ({ coilId, stripFromMm: null, stripToMm: null });

export interface ConcernedStrip {
  readonly spans: readonly ConcernedSpan[];
  readonly coils: readonly ConcernedCoil[];
}

/** From coils to the pipe made of them, on every string. */
@Injectable()
export class ConcernedStrips {
  constructor(
    private readonly finder: RecordFinder,
    private readonly segments: CoilSegmentsService,
    private readonly links: CertificateLinksService,
  ) {}

  /** The coils of a heat, whole. */
  async ofHeat(heatId: string, asKnownAt: string | null): Promise<ConcernedStrip> {
    return this.whole({ sql: 'heat_id = $1', parameters: [heatId] }, asKnownAt);
  }

  /** The coils that came with a certificate, or that it is linked to as a further one; whole. */
  async ofCertificate(certificateId: string, asKnownAt: string | null): Promise<ConcernedStrip> {
    const linked = (await this.links.ofCertificate(certificateId, asKnownAt)).map(({ coilId }) => coilId);
    return this.whole({ sql: '(certificate_id = $1 or id = any($2::uuid[]))', parameters: [certificateId, linked] }, asKnownAt);
  }

  /** Parts of coils named by their ids; `concernOf` says what a coil has to do with the recall, where that is not plain. */
  async ofParts(
    parts: readonly StripPart[], asKnownAt: string | null, concernOf: (coilId: string) => Concern | undefined = () => undefined,
  ): Promise<ConcernedStrip> {
    if (parts.length === 0) return { spans: [], coils: [] };
    const ids = [...new Set(parts.map(({ coilId }) => coilId))];
    const coils = await this.finder.where(COILS, { sql: 'id = any($1::uuid[])', parameters: [ids] }, asKnownAt);
    return this.of(coils, parts, asKnownAt, concernOf);
  }

  private async whole(condition: Parameters<RecordFinder['where']>[1], asKnownAt: string | null): Promise<ConcernedStrip> {
    const coils = await this.finder.where(COILS, condition, asKnownAt);
    return this.of(coils, coils.map(({ id }) => wholeCoil(id)), asKnownAt, () => undefined);
  }

  private async of(
    coils: readonly Coil[], parts: readonly StripPart[], asKnownAt: string | null, concernOf: (coilId: string) => Concern | undefined,
  ): Promise<ConcernedStrip> {
    const segments = await this.segments.ofCoils(coils.map(({ id }) => id), asKnownAt);
    const spans = segments.flatMap((segment) =>
      parts
        .filter(({ coilId }) => coilId === segment.coilId)
        .flatMap(({ stripFromMm, stripToMm }): ConcernedSpan[] => {
          const whole = stripFromMm === null && stripToMm === null;
          const span = whole
            ? wholeSegment(segment)
            : partOfSegment(segment, { fromMm: stripFromMm ?? 0, toMm: stripToMm ?? Infinity });
          return span === null ? [] : [{ record: linkOf(SEGMENTS, segment), stringId: segment.stringId, span, ...(concernOf(segment.coilId) ?? PLAIN_CONCERN) }];
        }),
    );
    return { spans, coils: coils.map((coil) => ({ coil, segments: segments.filter(({ coilId }) => coilId === coil.id) })) };
  }
}
