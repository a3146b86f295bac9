import { Module } from '@nestjs/common';
import { HoldsModule } from '../holds/holds.module.js';
import { HoldLiftingsController } from './hold-liftings.controller.js';
import { HoldLiftingsService } from './hold-liftings.service.js';

@Module({ imports: [HoldsModule], controllers: [HoldLiftingsController], providers: [HoldLiftingsService], exports: [HoldLiftingsService] })
export class HoldLiftingsModule {}
