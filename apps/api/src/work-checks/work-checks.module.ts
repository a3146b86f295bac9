import { Module } from '@nestjs/common';
import { ExaminationsModule } from '../examinations/examinations.module.js';
import { IndicationEvaluationsModule } from '../indication-evaluations/indication-evaluations.module.js';
import { IndicationsModule } from '../indications/indications.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { RepairsModule } from '../repairs/repairs.module.js';
import { SeamEventsModule } from '../seam-events/seam-events.module.js';
import { SpliceStepsModule } from '../splice-steps/splice-steps.module.js';
import { WeldProceduresModule } from '../weld-procedures/weld-procedures.module.js';
import { WeldsModule } from '../welds/welds.module.js';
import { WorkStandingsModule } from '../work-standing/work-standings.module.js';
import { ExaminationChecksController } from './examination-checks.controller.js';
import { InspectionChecksController } from './inspection-checks.controller.js';
import { RepairChecksController } from './repair-checks.controller.js';
import { SeamEventChecksController } from './seam-event-checks.controller.js';
import { SpliceStepChecksController } from './splice-step-checks.controller.js';
import { WorkChecks } from './work-checks.service.js';
import { WorkOfPeople } from './work-of-people.service.js';

@Module({
  imports: [ExaminationsModule, IndicationEvaluationsModule, IndicationsModule, InspectionsModule, RepairsModule, SeamEventsModule, SpliceStepsModule, WeldProceduresModule, WeldsModule, WorkStandingsModule],
  controllers: [ExaminationChecksController, InspectionChecksController, RepairChecksController, SeamEventChecksController, SpliceStepChecksController],
  providers: [WorkChecks, WorkOfPeople],
  exports: [WorkChecks, WorkOfPeople],
})
export class WorkChecksModule {}
