import { Module } from '@nestjs/common';
import { SamplingPlansController } from './sampling-plans.controller.js';
import { SamplingPlansService } from './sampling-plans.service.js';

@Module({ controllers: [SamplingPlansController], providers: [SamplingPlansService], exports: [SamplingPlansService] })
export class SamplingPlansModule {}
