import { Module } from '@nestjs/common';
import { AttendancesModule } from '../attendances/attendances.module.js';
import { CoilsModule } from '../coils/coils.module.js';
import { ControlPlansModule } from '../control-plans/control-plans.module.js';
import { EvidenceWaiversModule } from '../evidence-waivers/evidence-waivers.module.js';
import { ExaminationsModule } from '../examinations/examinations.module.js';
import { HoldLiftingsModule } from '../hold-liftings/hold-liftings.module.js';
import { HoldsModule } from '../holds/holds.module.js';
import { InspectionProofsModule } from '../inspection-proof/inspection-proofs.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { LineModule } from '../line/line.module.js';
import { NonconformancesModule } from '../nonconformances/nonconformances.module.js';
import { ReinspectionsModule } from '../reinspections/reinspections.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { ReleasesModule } from '../releases/releases.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { SpliceStepsModule } from '../splice-steps/splice-steps.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { CoilStandingsModule } from '../standing/coil-standings.module.js';
import { WeldsModule } from '../welds/welds.module.js';
import { WellsModule } from '../wells/wells.module.js';
import { EvidenceController } from './evidence.controller.js';
import { EvidenceFiles } from './evidence-files.service.js';
import { EvidenceGrounds } from './evidence-grounds.service.js';
import { EVIDENCE_SOURCES, EvidenceMaps } from './evidence-maps.service.js';
import type { EvidenceSource } from './evidence-source.js';
import { EvidenceStamps } from './evidence-stamps.service.js';
import { Evidences } from './evidences.service.js';
import { GroundRecords } from './ground-records.service.js';
import { HeldPipe } from './held-pipe.service.js';
import { ReleasedPipe } from './released-pipe.service.js';
import { ChannelInspected } from './sources/channel-inspected.source.js';
import { CoilAccepted } from './sources/coil-accepted.source.js';
import { DimensionInspected } from './sources/dimension.source.js';
import { HeatConfirmed } from './sources/heat-confirmed.source.js';
import { NonconformancesClosed } from './sources/nonconformances-closed.source.js';
import { PointKept } from './sources/point-kept.source.js';
import { RejoinAccepted } from './sources/rejoin-accepted.source.js';
import { MODULES_OF_WORK, SHARED_BY_WORK, SOURCES_OF_WORK } from './sources/sources-of-work.js';
import { SpliceAccepted } from './sources/splice-accepted.source.js';
import { Waivers } from './waivers.service.js';

const SOURCES = [ChannelInspected, CoilAccepted, DimensionInspected, HeatConfirmed, NonconformancesClosed, PointKept, RejoinAccepted, SpliceAccepted, ...SOURCES_OF_WORK];

/** What stands as evidence for every metre, against the control plan. */
@Module({
  imports: [
    AttendancesModule, CoilsModule, CoilSegmentsModule, CoilStandingsModule, ControlPlansModule, EvidenceWaiversModule, ExaminationsModule, HoldLiftingsModule, HoldsModule,
    InspectionProofsModule, InspectionsModule, LineModule, NonconformancesModule, ReinspectionsModule, RejoinsModule, ReleasesModule, SpliceStepsModule, SplicesModule, WeldsModule, WellsModule,
    ...MODULES_OF_WORK,
  ],
  controllers: [EvidenceController],
  providers: [
    ...SOURCES, ...SHARED_BY_WORK, { provide: EVIDENCE_SOURCES, useFactory: (...sources: EvidenceSource[]) => sources, inject: SOURCES },
    EvidenceFiles, EvidenceGrounds, EvidenceMaps, EvidenceStamps, Evidences, GroundRecords, HeldPipe, ReleasedPipe, Waivers,
  ],
  exports: [EvidenceGrounds, EvidenceMaps, HeldPipe, ReleasedPipe],
})
export class EvidenceModule {}
