import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { LineModule } from '../line/line.module.js';
import { NonconformancesController } from './nonconformances.controller.js';
import { NonconformancesService } from './nonconformances.service.js';

@Module({
  imports: [CoilsModule, LineModule],
  controllers: [NonconformancesController],
  providers: [NonconformancesService],
  exports: [NonconformancesService],
})
export class NonconformancesModule {}
