import { Module } from '@nestjs/common';
import { HealthController, Readiness } from './health.controller.js';

@Module({ controllers: [HealthController], providers: [Readiness] })
export class HealthModule {}
