import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { EvaluationModule } from '../evaluation/evaluation.module.js';
import { CoilDecisionsController } from './coil-decisions.controller.js';
import { CoilDecisionsService } from './coil-decisions.service.js';

@Module({
  imports: [CoilsModule, EvaluationModule],
  controllers: [CoilDecisionsController],
  providers: [CoilDecisionsService],
  exports: [CoilDecisionsService],
})
export class CoilDecisionsModule {}
