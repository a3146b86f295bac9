import { Module } from '@nestjs/common';
import { GradesController } from './grades.controller.js';

@Module({ controllers: [GradesController] })
export class GradesModule {}
