import { Module } from '@nestjs/common';
import { ShiftsModule } from '../shifts/shifts.module.js';
import { StringRecordsModule } from '../string-records/string-records.module.js';
import { ShiftEventsController } from './shift-events.controller.js';
import { ShiftEventsService } from './shift-events.service.js';

@Module({
  imports: [ShiftsModule, StringRecordsModule],
  controllers: [ShiftEventsController],
  providers: [ShiftEventsService],
  exports: [ShiftEventsService],
})
export class ShiftEventsModule {}
