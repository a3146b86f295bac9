import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { DeviationPermitsController } from './deviation-permits.controller.js';
import { DeviationPermitsService } from './deviation-permits.service.js';

@Module({
  imports: [CoilsModule, CasingStringsModule],
  controllers: [DeviationPermitsController],
  providers: [DeviationPermitsService],
  exports: [DeviationPermitsService],
})
export class DeviationPermitsModule {}
