import { Module } from '@nestjs/common';
import { RejoinsController } from './rejoins.controller.js';
import { RejoinsService } from './rejoins.service.js';

@Module({ controllers: [RejoinsController], providers: [RejoinsService], exports: [RejoinsService] })
export class RejoinsModule {}
