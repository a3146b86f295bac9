import type { ModuleMetadata, Type } from '@nestjs/common';
import { CalibrationsModule } from '../../calibrations/calibrations.module.js';
import { ChannelsModule } from '../../channels/channels.module.js';
import { DestructiveCoverageModule } from '../../destructive-coverage/destructive-coverage.module.js';
import { DetectionsModule } from '../../detections/detections.module.js';
import { ExaminationsModule } from '../../examinations/examinations.module.js';
import { IndicationEvaluationsModule } from '../../indication-evaluations/indication-evaluations.module.js';
import { IndicationStandingsModule } from '../../indication-standing/indication-standings.module.js';
import { IndicationsModule } from '../../indications/indications.module.js';
import { InspectionRunsModule } from '../../inspection-runs/inspection-runs.module.js';
import { InspectionsModule } from '../../inspections/inspections.module.js';
import { InstrumentsModule } from '../../instruments/instruments.module.js';
import { QualifiedModule } from '../../qualified/qualified.module.js';
import { ReinspectionsModule } from '../../reinspections/reinspections.module.js';
import { RepairsModule } from '../../repairs/repairs.module.js';
import { SeamEventsModule } from '../../seam-events/seam-events.module.js';
import { SignalMarksModule } from '../../signal-marks/signal-marks.module.js';
import { SignalsModule } from '../../signals/signals.module.js';
import { SpliceStepsModule } from '../../splice-steps/splice-steps.module.js';
import { WeldProceduresModule } from '../../weld-procedures/weld-procedures.module.js';
import { WeldsModule } from '../../welds/welds.module.js';
import { WorkStandingsModule } from '../../work-standing/work-standings.module.js';
import type { EvidenceSource } from '../evidence-source.js';
import { DestructivelyTested } from './destructive-tests.source.js';
import { IndicationsSettled } from './indications-settled.source.js';
import { InstrumentsValid } from './instruments-valid.source.js';
import { PeopleValid } from './people-valid.source.js';
import { RepairsReinspected } from './repairs-reinspected.source.js';
import { SeamParameters } from './seam-parameters.source.js';
import { StringWork } from './string-work.service.js';

/** The sources of evidence about what was done to the pipe. */
export const SOURCES_OF_WORK: readonly Type<EvidenceSource>[] = [SeamParameters, PeopleValid, InstrumentsValid, DestructivelyTested, IndicationsSettled, RepairsReinspected];

/** What they share, to be provided beside them. */
export const SHARED_BY_WORK: readonly Type[] = [StringWork];

export const MODULES_OF_WORK: NonNullable<ModuleMetadata['imports']> = [
  CalibrationsModule, ChannelsModule, DestructiveCoverageModule, DetectionsModule, ExaminationsModule, IndicationEvaluationsModule, IndicationStandingsModule, IndicationsModule,
  InspectionRunsModule, InspectionsModule, InstrumentsModule, QualifiedModule, ReinspectionsModule, RepairsModule, SeamEventsModule, SignalMarksModule, SignalsModule, SpliceStepsModule,
  WeldProceduresModule, WeldsModule, WorkStandingsModule,
];
