import { Module } from '@nestjs/common';
import { ControlPlansModule } from '../control-plans/control-plans.module.js';
import { LineModule } from '../line/line.module.js';
import { AttendancesController } from './attendances.controller.js';
import { AttendancesService } from './attendances.service.js';

@Module({
  imports: [ControlPlansModule, LineModule],
  controllers: [AttendancesController],
  providers: [AttendancesService],
  exports: [AttendancesService],
})
export class AttendancesModule {}
