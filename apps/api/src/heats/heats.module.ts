import { Module } from '@nestjs/common';
import { HeatsController } from './heats.controller.js';
import { HeatsService } from './heats.service.js';

@Module({ controllers: [HeatsController], providers: [HeatsService], exports: [HeatsService] })
export class HeatsModule {}
