import { Module } from '@nestjs/common';
import { ShiftsModule } from '../shifts/shifts.module.js';
import { StringRecordsModule } from '../string-records/string-records.module.js';
import { HandoversController } from './handovers.controller.js';
import { HandoversService } from './handovers.service.js';

@Module({
  imports: [ShiftsModule, StringRecordsModule],
  controllers: [HandoversController],
  providers: [HandoversService],
  exports: [HandoversService],
})
export class HandoversModule {}
