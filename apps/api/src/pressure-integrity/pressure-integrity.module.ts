import { Module } from '@nestjs/common';
import { CertificateLinksModule } from '../certificate-links/certificate-links.module.js';
import { ChannelsModule } from '../channels/channels.module.js';
import { DestructiveCoverageModule } from '../destructive-coverage/destructive-coverage.module.js';
import { DestructiveTestsModule } from '../destructive-tests/destructive-tests.module.js';
import { EvaluationModule } from '../evaluation/evaluation.module.js';
import { IncomingChecksModule } from '../incoming-checks/incoming-checks.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { LineModule } from '../line/line.module.js';
import { RepairsModule } from '../repairs/repairs.module.js';
import { ReportsModule } from '../reports/reports.module.js';
import { SignalMarksModule } from '../signal-marks/signal-marks.module.js';
import { SignalsModule } from '../signals/signals.module.js';
import { TraceModule } from '../trace/trace.module.js';
import { LeastPlaces } from './least-places.service.js';
import { PressureCharts } from './pressure-charts.service.js';
import { PressureIntegrityController } from './pressure-integrity.controller.js';
import { PressureProfiles } from './pressure-profiles.service.js';
import { WallMinima } from './wall-minima.service.js';
import { YieldStrengths } from './yield-strengths.service.js';

/** Advisory: the pressures at which both walls, as built, yield or collapse by published formulas. */
@Module({
  imports: [
    CertificateLinksModule, ChannelsModule, DestructiveCoverageModule, DestructiveTestsModule, EvaluationModule, IncomingChecksModule, InspectionsModule, LineModule,
    RepairsModule, ReportsModule, SignalMarksModule, SignalsModule, TraceModule,
  ],
  controllers: [PressureIntegrityController],
  providers: [LeastPlaces, PressureCharts, PressureProfiles, WallMinima, YieldStrengths],
})
export class PressureIntegrityModule {}
