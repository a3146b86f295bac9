import { Module } from '@nestjs/common';
import { HandoverAcceptancesModule } from '../handover-acceptances/handover-acceptances.module.js';
import { HandoversModule } from '../handovers/handovers.module.js';
import { SeamEventsModule } from '../seam-events/seam-events.module.js';
import { ShiftEventsModule } from '../shift-events/shift-events.module.js';
import { ShiftsModule } from '../shifts/shifts.module.js';
import { StringRecordsModule } from '../string-records/string-records.module.js';
import { ShiftLogsController } from './shift-logs.controller.js';
import { ShiftLogs } from './shift-logs.service.js';

/** What happened in a shift. */
@Module({
  imports: [HandoverAcceptancesModule, HandoversModule, SeamEventsModule, ShiftEventsModule, ShiftsModule, StringRecordsModule],
  controllers: [ShiftLogsController],
  providers: [ShiftLogs],
})
export class ShiftLogsModule {}
