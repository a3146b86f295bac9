import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { LineModule } from '../line/line.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { HoldsController } from './holds.controller.js';
import { HoldsService } from './holds.service.js';

@Module({
  imports: [CoilsModule, LineModule, SplicesModule],
  controllers: [HoldsController],
  providers: [HoldsService],
  exports: [HoldsService],
})
export class HoldsModule {}
