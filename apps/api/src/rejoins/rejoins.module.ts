import { Module } from '@nestjs/common';
import { LineModule } from '../line/line.module.js';
import { RejoinsController } from './rejoins.controller.js';
import { RejoinsService } from './rejoins.service.js';

@Module({ imports: [LineModule], controllers: [RejoinsController], providers: [RejoinsService], exports: [RejoinsService] })
export class RejoinsModule {}
