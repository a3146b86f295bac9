import { Module } from '@nestjs/common';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { WeldProceduresModule } from '../weld-procedures/weld-procedures.module.js';
import { WeldsController } from './welds.controller.js';
import { WeldsService } from './welds.service.js';

@Module({
  imports: [InstrumentsModule, RejoinsModule, SplicesModule, WeldProceduresModule],
  controllers: [WeldsController],
  providers: [WeldsService],
  exports: [WeldsService],
})
export class WeldsModule {}
