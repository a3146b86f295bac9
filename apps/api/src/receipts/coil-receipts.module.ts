import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { CoilReceiptsController } from './coil-receipts.controller.js';
import { CoilReceiptsService } from './coil-receipts.service.js';

@Module({
  imports: [CoilsModule],
  controllers: [CoilReceiptsController],
  providers: [CoilReceiptsService],
  exports: [CoilReceiptsService],
})
export class CoilReceiptsModule {}
