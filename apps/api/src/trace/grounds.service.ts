import { Injectable } from '@nestjs/common';
import { CertificatesService } from '../certificates/certificates.service.js';
import { CoilsService } from '../coils/coils.service.js';
import { HeatsService } from '../heats/heats.service.js';
import type { StringModel } from '../line/length-models.service.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { SurveysService } from '../surveys/surveys.service.js';
import { WellsService } from '../wells/wells.service.js';
import type { Ground, Pipe, PipeSegment } from './ground.js';

const present = <T>(value: T | null | undefined): value is T => value != null;

/** What the answers about a string show beside its lengths, read once for each length model. */
@Injectable()
export class Grounds {
  private readonly kept = new WeakMap<StringModel, Promise<Ground>>();

  constructor(
    private readonly segments: CoilSegmentsService,
    private readonly splices: SplicesService,
    private readonly rejoins: RejoinsService,
    private readonly coils: CoilsService,
    private readonly heats: HeatsService,
    private readonly certificates: CertificatesService,
    private readonly wells: WellsService,
    private readonly surveys: SurveysService,
  ) {}

  /** The ground of a model's string, from the same knowledge. */
  of(model: StringModel, asKnownAt: string | null): Promise<Ground> {
    const kept = this.kept.get(model);
    if (kept !== undefined) return kept;
    const ground = this.load(model, asKnownAt);
    this.kept.set(model, ground);
    ground.catch(() => this.kept.delete(model));
    return ground;
  }

  private async load(model: StringModel, asKnownAt: string | null): Promise<Ground> {
    const { wellId } = model.string;
    const [well, survey, pipe] = await Promise.all([
      this.wells.row(wellId, asKnownAt),
      this.surveys.activeFor(wellId, asKnownAt),
      this.pipe(model, asKnownAt),
    ]);
    return { well, survey, path: survey === null ? null : this.surveys.wellPathOf(survey), pipe };
  }

  private async pipe(model: StringModel, asKnownAt: string | null): Promise<Pipe> {
    const stringId = model.string.id;
    const [segments, splices, rejoins] = await Promise.all([
      this.segments.ofString(stringId, asKnownAt),
      this.splices.ofString(stringId, asKnownAt),
      this.rejoins.ofString(stringId, asKnownAt),
    ]);
    const coils = await this.coils.rowsByIds(segments.map(({ coilId }) => coilId), asKnownAt);
    const coilRows = [...coils.values()];
    const [heats, certificates] = await Promise.all([
      this.heats.rowsByIds(coilRows.map(({ heatId }) => heatId), asKnownAt),
      this.certificates.rowsByIds(coilRows.map(({ certificateId }) => certificateId).filter(present), asKnownAt),
    ]);
    return {
      segments: segments.flatMap((segment): PipeSegment[] => {
        const coil = coils.get(segment.coilId);
        const heat = coil === undefined ? undefined : heats.get(coil.heatId);
        if (coil === undefined || heat === undefined) return [];
        const certificate = coil.certificateId === null ? null : (certificates.get(coil.certificateId) ?? null);
        return [{ segment, coil, heat, certificate }];
      }),
      splices,
      cuts: model.records.cutOuts.map((cutOut) => ({
        cutOut,
        rejoin: rejoins.find(({ cutOutId }) => cutOutId === cutOut.id) ?? null,
      })),
    };
  }
}
