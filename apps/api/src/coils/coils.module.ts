import { Module } from '@nestjs/common';
import { CertificatesModule } from '../certificates/certificates.module.js';
import { HeatsModule } from '../heats/heats.module.js';
import { CoilsController } from './coils.controller.js';
import { CoilsService } from './coils.service.js';

@Module({
  imports: [HeatsModule, CertificatesModule],
  controllers: [CoilsController],
  providers: [CoilsService],
  exports: [CoilsService],
})
export class CoilsModule {}
