import { Module } from '@nestjs/common';
import { WeldProceduresController } from './weld-procedures.controller.js';
import { WeldProceduresService } from './weld-procedures.service.js';

@Module({ controllers: [WeldProceduresController], providers: [WeldProceduresService], exports: [WeldProceduresService] })
export class WeldProceduresModule {}
