import { Module } from '@nestjs/common';
import { WellsModule } from '../wells/wells.module.js';
import { CasingStringsController } from './casing-strings.controller.js';
import { CasingStringsService } from './casing-strings.service.js';

@Module({
  imports: [WellsModule],
  controllers: [CasingStringsController],
  providers: [CasingStringsService],
  exports: [CasingStringsService],
})
export class CasingStringsModule {}
