import { Module } from '@nestjs/common';
import { WellsController } from './wells.controller.js';
import { WellsService } from './wells.service.js';

@Module({ controllers: [WellsController], providers: [WellsService], exports: [WellsService] })
export class WellsModule {}
